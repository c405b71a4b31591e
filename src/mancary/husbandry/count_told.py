"""What a count tells of the whole colony: an estimate, its 95 % range, and the sentence for it."""

from math import isfinite
from typing import Final

from msgspec import Struct

from mancary.husbandry.facts import Counted
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.words import band_said

FULL_FINDS: Final = (0.85, 0.93, 0.98)
"""Ours: the share of the animals a count of the whole box finds, least, likely and most."""
HIDE_HOLDS: Final = (0.03, 0.55)
"""Ours: the share of the animals that sits under one hide, least and most."""
_A_GUESS: Final = 2.0

HIDE_SAID: Final = tell(
    "How large a share of a colony sits under one hide nobody knows beforehand, so"
    " one such count says little; counted under the same hide each time it shows"
    " whether there are more or fewer."
)
MARKS_LOST: Final = tell(
    "Marks go with the shed skin: count again within two weeks, and only adults"
    " that were not about to moult. Adults alone are told. Use no solvent paint on"
    " animals; a dot of water-based paint on the back, none on a female with a"
    " brood (common practice, from memory)."
)
REMOVAL_NOTE: Final = tell(
    "Keep what each pass finds apart in a damp tub and search as long each time;"
    " put all of them back at the end."
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
            said = {"samples": _listed(fact.samples), "share": fact.share * 100}
            if len(fact.samples) > 1:
                return tell("scoop %(samples)s, each %(share).3g %% of the box", **said)
            return tell("scoop %(samples)s, %(share).3g %% of the box", **said)
        case "removals" if fact.catches:
            return tell("passes of %(catches)s", catches=_listed(fact.catches))
        case "marks" if fact.marked is not None:
            return tell(
                "%(marked)s marked, then %(recaptured)s of %(caught)s caught had a mark", fact
            )
        case "band" if fact.band:
            return band_said(fact.band)
    numbers = _range(fact)
    way = WAYS_SAID.get(fact.how)
    return in_a_row(" ", (numbers, way)) if way else numbers


WAYS_SAID: Final = {
    "full": tell("in the whole box"),
    "one_hide": tell("under one hide"),
    "scoop": tell("in a scoop"),
    "removals": tell("in passes one after the other"),
    "marks": tell("by marks"),
    "guess": "guessed",
    "not_said": "",
}


def _range(fact: Counted) -> str:
    if fact.high is None:
        return tell("at least %(low)s", fact)
    return f"{fact.low}" if fact.low == fact.high else f"{fact.low}-{fact.high}"


def _listed(numbers: tuple[int, ...]) -> str:
    *most, last = (str(one) for one in numbers)
    return tell("%(all)s and %(last)s", all=in_a_row(", ", most), last=last) if most else last


def _full(fact: Counted) -> CountTold:
    high = None if fact.high is None else fact.high / FULL_FINDS[0]
    mid = None if fact.high is None else (fact.low + fact.high) / 2 / FULL_FINDS[1]
    most = None if fact.high is None else round(fact.high / FULL_FINDS[0])
    few = tell("more") if most is None else tell("up to %(most)s", most=most)
    said = tell(
        "At least %(low)s: a careful search finds some 85 to 98 %% (ours), for animals"
        " in a half-moult and small ones are missed",
        fact,
    ) + (
        tell(", so there may be %(few)s.", few=few)
        if most != fact.low
        else tell("; of so few hardly one.")
    )
    if fact.low == 0 and fact.high == 0:
        said = tell(
            "None found. That is not yet an end: eggs, mancas and shy forms stay hidden;"
            " keep the box damp and lightly fed for 8 weeks, 12 for cave forms (common"
            " practice)."
        )
    return _told(
        fact, mid, float(fact.low), high, None, "ours", tell("a guess of what is missed"), said
    )


def _hide(fact: Counted) -> CountTold:
    top = None if fact.high is None or fact.high == 0 else fact.high / HIDE_HOLDS[0]
    low = float(fact.low)
    return _told(
        fact, None, low, top, None, "ours", tell("3 to 55 % sit under one hide"), HIDE_SAID
    )


def _band(fact: Counted) -> CountTold:
    high = None if fact.high is None else float(fact.high)
    said = tell("An impression at a glance, not a count; it is held for what lay open to view.")
    return _told(fact, None, float(fact.low), high, None, tell("the band's own ends"), "ours", said)


def _guess(fact: Counted) -> CountTold:
    high = 2 * fact.low if fact.high is None else fact.high
    said = tell("A guess of all of them, held to be right to about a factor of two.")
    mid = (fact.low + high) / 2
    return _told(
        fact, mid, mid / _A_GUESS, mid * _A_GUESS, None, "ours", tell("a factor of two"), said
    )


def _scoops(fact: Counted) -> CountTold:
    from mancary.science.counting import scale_up  # scipy is slow to import

    assert fact.share is not None
    share = min(1.0, fact.share * len(fact.samples))
    told = scale_up(counts=fact.samples, sampled_share=share)
    basis = tell("samples scaled up with their clumping (Cochran 1977; see the guide)")
    return _told(
        fact, told.estimate, told.low, told.high, told.standard_error, "95 %", basis, told.said
    )


def _removals(fact: Counted) -> CountTold:
    from mancary.science.counting import removal  # scipy is slow to import

    told = removal(catches=fact.catches)
    basis = tell(
        "weighted likelihood of successive removals (Carle and Strub 1978, weights 1 and 1)"
    )
    said = tell("%(said)s %(removal_note)s", told, removal_note=REMOVAL_NOTE)
    return _told(fact, told.estimate, told.low, told.high, told.standard_error, "95 %", basis, said)


def _marks(fact: Counted) -> CountTold:
    from mancary.science.counting import chapman  # scipy is slow to import

    assert fact.marked is not None
    assert fact.caught is not None
    assert fact.recaptured is not None
    told = chapman(marked=fact.marked, caught=fact.caught, recaptured=fact.recaptured)
    basis = tell("Chapman's estimate with an exact range (Chapman 1951)")
    said = tell("%(said)s %(marks_lost)s", told, marks_lost=MARKS_LOST)
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
