"""What a count tells of the whole colony: an estimate, its 95 % range, and the sentence for it."""

from math import isfinite
from typing import Final

from msgspec import Struct

from mancary.husbandry.facts import Counted
from mancary.husbandry.words import band_said

FULL_FINDS: Final = (0.85, 0.93, 0.98)
"""Ours: the share of the animals a count of the whole box finds, least, likely and most."""
HIDE_HOLDS: Final = (0.03, 0.55)
"""Ours: the share of the animals that sits under one hide, least and most."""
_A_GUESS: Final = 2.0

HIDE_SAID: Final = (
    "How large a share of a colony sits under one hide nobody knows beforehand, so one such count"
    " says little; counted under the same hide each time it shows whether there are more or fewer."
)
MARKS_LOST: Final = (
    "Marks go with the shed skin: count again within two weeks, and only adults that were not"
    " about to moult. Adults alone are told. Use no solvent paint on animals; a dot of water-based"
    " paint on the back, none on a female with a brood (common practice, from memory)."
)
REMOVAL_NOTE: Final = (
    "Keep what each pass finds apart in a damp tub and search as long each time; put all of them"
    " back at the end."
)


class CountTold(Struct, frozen=True, kw_only=True):
    """Animals in the whole box by one count; ``high`` None where it puts no upper bound.

    ``estimate`` is None where the way of counting gives none. ``range_is`` says what the range is:
    95 % by a published formula, or ours.
    """

    how: str
    counted: str
    estimate: float | None
    low: float
    high: float | None
    standard_error: float | None
    range_is: str
    basis: str
    said: str


def count_told(fact: Counted) -> CountTold:
    """The estimate of one count."""
    match fact.how:
        case "full":
            return _full(fact)
        case "scoop" if fact.samples and fact.share:
            return _scoops(fact)
        case "removals" if fact.catches:
            return _removals(fact)
        case "marks" if None not in (fact.marked, fact.caught, fact.recaptured):
            return _marks(fact)
        case "guess":
            return _guess(fact)
        case "band":
            return _band(fact)
        case _:
            return _hide(fact)


def counted_said(fact: Counted) -> str:
    """What was counted, in words, such as "scoops 5, 3 and 7, each 10 % of the box"."""
    match fact.how:
        case "scoop" if fact.samples and fact.share:
            each = "each " if len(fact.samples) > 1 else ""
            return f"scoop {_listed(fact.samples)}, {each}{fact.share * 100:.3g} % of the box"
        case "removals" if fact.catches:
            return f"passes of {_listed(fact.catches)}"
        case "marks" if fact.marked is not None:
            return (
                f"{fact.marked} marked, then {fact.recaptured} of {fact.caught} caught had a mark"
            )
        case "band" if fact.band:
            return band_said(fact.band)
    numbers = _range(fact)
    return f"{numbers} {WAYS_SAID.get(fact.how, '')}".strip()


WAYS_SAID: Final = {
    "full": "in the whole box",
    "one_hide": "under one hide",
    "scoop": "in a scoop",
    "removals": "in passes one after the other",
    "marks": "by marks",
    "guess": "guessed",
    "not_said": "",
}


def _range(fact: Counted) -> str:
    if fact.high is None:
        return f"at least {fact.low}"
    return f"{fact.low}" if fact.low == fact.high else f"{fact.low}-{fact.high}"


def _listed(numbers: tuple[int, ...]) -> str:
    *most, last = (str(one) for one in numbers)
    return f"{', '.join(most)} and {last}" if most else last


def _full(fact: Counted) -> CountTold:
    high = None if fact.high is None else fact.high / FULL_FINDS[0]
    mid = None if fact.high is None else (fact.low + fact.high) / 2 / FULL_FINDS[1]
    most = None if fact.high is None else round(fact.high / FULL_FINDS[0])
    few = "more" if most is None else f"up to {most}"
    said = (
        f"At least {fact.low}: a careful search finds some 85 to 98 % (ours), for animals in a"
        f" half-moult and small ones are missed"
        + (f", so there may be {few}." if most != fact.low else "; of so few hardly one.")
    )
    if fact.low == 0 and fact.high == 0:
        said = (
            "None found. That is not yet an end: eggs, mancas and shy forms stay hidden; keep the"
            " box damp and lightly fed for 8 weeks, 12 for cave forms (common practice)."
        )
    return _told(fact, mid, float(fact.low), high, None, "ours", "a guess of what is missed", said)


def _hide(fact: Counted) -> CountTold:
    top = None if fact.high is None or fact.high == 0 else fact.high / HIDE_HOLDS[0]
    low = float(fact.low)
    return _told(fact, None, low, top, None, "ours", "3 to 55 % sit under one hide", HIDE_SAID)


def _band(fact: Counted) -> CountTold:
    high = None if fact.high is None else float(fact.high)
    said = "An impression at a glance, not a count; it is held for what lay open to view."
    return _told(fact, None, float(fact.low), high, None, "the band's own ends", "ours", said)


def _guess(fact: Counted) -> CountTold:
    high = 2 * fact.low if fact.high is None else fact.high
    said = "A guess of all of them, held to be right to about a factor of two."
    mid = (fact.low + high) / 2
    return _told(fact, mid, mid / _A_GUESS, mid * _A_GUESS, None, "ours", "a factor of two", said)


def _scoops(fact: Counted) -> CountTold:
    from mancary.science.counting import scale_up  # scipy is slow to import

    assert fact.share is not None
    share = min(1.0, fact.share * len(fact.samples))
    told = scale_up(counts=fact.samples, sampled_share=share)
    basis = "samples scaled up with their clumping (Cochran 1977; see the guide)"
    return _told(
        fact, told.estimate, told.low, told.high, told.standard_error, "95 %", basis, told.said
    )


def _removals(fact: Counted) -> CountTold:
    from mancary.science.counting import removal  # scipy is slow to import

    told = removal(catches=fact.catches)
    basis = "weighted likelihood of successive removals (Carle and Strub 1978, weights 1 and 1)"
    said = f"{told.said} {REMOVAL_NOTE}"
    return _told(fact, told.estimate, told.low, told.high, told.standard_error, "95 %", basis, said)


def _marks(fact: Counted) -> CountTold:
    from mancary.science.counting import chapman  # scipy is slow to import

    assert fact.marked is not None
    assert fact.caught is not None
    assert fact.recaptured is not None
    told = chapman(marked=fact.marked, caught=fact.caught, recaptured=fact.recaptured)
    basis = "Chapman's estimate with an exact range (Chapman 1951)"
    said = f"{told.said} {MARKS_LOST}"
    return _told(fact, told.estimate, told.low, told.high, told.standard_error, "95 %", basis, said)


def _told(
    fact: Counted,
    estimate: float | None,
    low: float,
    high: float | None,
    error: float | None,
    range_is: str,
    basis: str,
    said: str,
) -> CountTold:
    return CountTold(
        how=fact.how,
        counted=counted_said(fact),
        estimate=estimate,
        low=low,
        high=high if high is not None and isfinite(high) else None,
        standard_error=error if error is not None and isfinite(error) else None,
        range_is=range_is,
        basis=basis,
        said=said,
    )
