"""A word of the trade and an amount, as typed, to the fact they tell."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from msgspec.structs import replace

from mancary.book import Book
from mancary.husbandry.facts import CareGiven, Counted, Fact, Noted, SeenInBox, Weighed
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.telling import told
from mancary.husbandry.water_booked import WATER
from mancary.husbandry.words import BANDS, CARES, SEEN
from mancary.sheets.faults import Unclear, Unreadable
from mancary.sheets.telling.trade_words import Telling, telling_of
from mancary.sheets.values.amounts import Dose, read_dose
from mancary.sheets.values.counts import read_count
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, correct, known_box, standing_entry


def facts_for(box: str, word: str, amount: str = "") -> list[Fact]:
    """The facts that ``word`` and ``amount`` tell of a box.

    ``word`` is something seen, a care, "count", "weigh", a size band, or "note" with the keeper's
    own words as the amount; common other spellings of these are understood.

    Raises:
        Refusal: naming the word or the amount that is not understood and what was expected.
    """
    plain = in_a_row(" ", word.replace("_", " ").replace("-", " ").lower().split())
    amount = amount.strip()
    if plain == "note":
        return [Noted(what="box", code=box, text=_needed(amount, "note", tell("your own words")))]
    if plain in BANDS:
        return [_banded(box, plain, amount)]
    known = plain.replace(" ", "_")
    if known in SEEN:
        return [_seen(box, known, amount)]
    if known in CARES:
        return [_care(box, known, amount)]
    return [_told_otherwise(box, word, plain, amount)]


def _told_otherwise(box: str, word: str, plain: str, amount: str) -> Fact:
    """A word that is not the book's own: another spelling, or one that can mean several things."""
    telling = telling_of(plain)
    match telling:
        case Telling(kind="care"):
            return _care(box, telling.word, amount, telling.what)
        case Telling(kind="seen"):
            return _seen(box, telling.word, amount, telling.share)
        case Telling(kind="count"):
            return _counted(box, amount)
        case Telling(kind="weigh"):
            return _weighed(box, amount)
        case Telling(kind="taken"):
            plain = "sold"
    if plain in _VAGUE:
        raise Refusal(
            tell(
                "%(word)r can mean more than one thing: say %(vague)s.",
                word=word,
                vague=_VAGUE[plain],
            )
        )
    raise Refusal(_unknown(word, plain))


_VAGUE = {
    "fed": tell("vegetable, protein or algae"),
    "feed": tell("vegetable, protein or algae"),
    "food": tell("vegetable, protein or algae"),
    "moved": tell("it with: mancary move FROM TO"),
    "sold": tell("it with: mancary take BOX ANIMALS --to WHOM"),
    "ended": tell("it with: mancary end BOX --cause CAUSE"),
}


def correct_noted(
    book: Book,
    fact_id: str,
    word: str,
    amount: str,
    *,
    why: str,
    pen: Pen,
    box: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """Withdraws a fact about one box and writes word and amount in its place, in one step.

    Raises:
        Refusal: when the fact is more than a note, or the new words are not understood.
    """
    mistaken = standing_entry(book, fact_id)
    fact = mistaken.fact
    if not isinstance(fact, CareGiven | SeenInBox | Counted | Weighed | Noted):
        raise Refusal(
            tell(
                "This fact is more than a note (%(fact)s); withdraw it and write it anew.",
                fact=told(fact),
            )
        )
    home = box or (fact.code if isinstance(fact, Noted) else fact.box)
    (better,) = facts_for(known_box(book, home), word, amount)
    if not isinstance(fact, Noted) and isinstance(
        better, CareGiven | SeenInBox | Counted | Weighed
    ):
        better = replace(better, note=better.note or fact.note)  # the words beside it stay
    if isinstance(fact, Weighed) and isinstance(better, Weighed) and not _MARKED.search(amount):
        better = replace(better, mark=fact.mark)  # a mistyped weight was still just right
    return correct(book, mistaken.id, better, why=why, pen=pen, happened=happened)


def _unknown(word: str, plain: str) -> str:
    import difflib

    spoken = [one.replace("_", " ") for one in (*SEEN, *CARES, *BANDS, "count", "weigh", "note")]
    near = difflib.get_close_matches(plain, spoken, n=3, cutoff=0.6)
    hint = (
        tell("Did you mean %(all)s?", all=in_a_row(tell(" or "), near))
        if near
        else tell("Known words: %(all)s.", all=in_a_row(", ", spoken))
    )
    return tell("%(word)r is no word the book knows. %(hint)s", word=word, hint=hint)


def _needed(amount: str, word: str, expected: str) -> str:
    if not amount:
        raise Refusal(tell("%(word)r needs %(expected)s after it.", word=word, expected=expected))
    return amount


def _seen(box: str, word: str, amount: str, share: float | None = None) -> Fact:
    if word == "left_over" and amount:
        return SeenInBox(box=box, word="left_over", share=_share(amount))
    if amount.isascii() and amount.isdigit():
        return SeenInBox(box=box, word=word, animals=int(amount), share=share)  # type: ignore[arg-type]
    if amount.startswith(("-", "\u2212")):
        raise Refusal(
            tell("Amount %(amount)r: expected a number of animals, or words.", amount=amount)
        )
    # "3-5" or "a few" is no number of animals; the keeper's own words stay
    return SeenInBox(box=box, word=word, share=share, note=amount)  # type: ignore[arg-type]


@contextmanager
def _understood(amount: str) -> Iterator[None]:
    try:
        yield
    except (Unreadable, Unclear) as fault:
        raise Refusal(tell("Amount %(amount)r: %(fault)s.", amount=amount, fault=fault)) from None


def _share(amount: str) -> float:
    from mancary.sheets.values.measures import read_share

    with _understood(amount):
        return read_share(amount, None, of=tell("left over"))


def _care(box: str, care: str, amount: str, what: str = "") -> Fact:
    if not amount:
        return CareGiven(box=box, care=care, what=what)  # type: ignore[arg-type]
    with _understood(amount):
        dose = read_dose(amount, None)
    if care == "mist":
        _is_water(amount, dose)
    return CareGiven(box=box, care=care, what=what, amount=dose.amount, note=dose.words)  # type: ignore[arg-type]


def _is_water(amount: str, dose: Dose) -> None:
    """Refuses a misting that no weighing could be compared with, while the keeper is still there.

    Squirts are taken: who sprays counts those. Without any amount it is a misting too.
    """
    if dose.amount is None:
        raise Refusal(
            tell(
                "%(amount)r: how much is that? Say mL, like 20 mL, or leave it out.", amount=amount
            )
        )
    if dose.amount.unit == "not_said":
        raise Refusal(
            tell(
                "%(amount)s what? mL? Say: mist %(strip)s mL.", amount=amount, strip=amount.strip()
            )
        )
    if dose.amount.unit not in (*WATER, "squirt"):
        raise Refusal(tell("%(amount)r is no water; expected mL, like 20 mL.", amount=amount))


def _banded(box: str, band: str, amount: str) -> Fact:
    if amount:
        raise Refusal(
            tell("A size band takes no amount; for a number say: count %(amount)s.", amount=amount)
        )
    low, high = BANDS[band]
    return Counted(box=box, how="band", low=low, high=high, band=band)  # type: ignore[arg-type]


def _counted(box: str, amount: str) -> Fact:
    _needed(amount, "count", tell("a number of animals, such as 37, 40-50 or 50+,"))
    with _understood(amount):
        told = read_count(amount, None)
    if told is None:
        raise Refusal(tell("Amount %(amount)r: expected a number of animals.", amount=amount))
    return Counted(
        box=box,
        how="band" if told.band else "not_said",
        low=told.low,
        high=told.high,
        band=told.band,
        as_written=told.as_written,
    )


_MARKS: Final = {
    "just right": "just_right", "too dry": "too_dry", "too wet": "too_wet", "no mark": None,
}  # fmt: skip
_MARKED = re.compile(
    r"[\s,;:(]*\b(just|too|no)[\s_-]+(right|dry|wet|mark)\b[\s,;:)]*", re.IGNORECASE
)


def _weighed(box: str, amount: str) -> Fact:
    """A weight and, beside it, whether the damp end was just right, too dry or too wet."""
    _needed(amount, "weigh", tell("the weight of the whole box, such as 1462 or 1462 just right,"))
    from mancary.sheets.values.measures import read_gross_g

    weight, mark = _mark_of(amount)
    with _understood(amount):
        return Weighed(box=box, gross_g=read_gross_g(weight, None), mark=mark)  # type: ignore[arg-type]


def _mark_of(amount: str) -> tuple[str, str | None]:
    found = _MARKED.search(amount)
    words = tell("%(found)s %(found2)s", found=found[1], found2=found[2]).lower() if found else ""
    if found is None or words not in _MARKS:
        return amount, None
    return tell(
        "%(amount)s %(amount2)s", amount=amount[: found.start()], amount2=amount[found.end() :]
    ).strip(), _MARKS[words]
