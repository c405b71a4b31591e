"""A word of the trade and an amount, as typed, to the fact they tell."""

from mancary.book import Book
from mancary.husbandry.facts import CareGiven, Counted, Fact, Noted, SeenInBox, Weighed
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import BANDS, CARES, SEEN
from mancary.sheets.faults import Unreadable
from mancary.sheets.telling.trade_words import telling_of
from mancary.sheets.values.amounts import read_dose
from mancary.sheets.values.counts import read_count
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, correct, standing_entry


def facts_for(box: str, word: str, amount: str = "") -> list[Fact]:
    """The facts that ``word`` and ``amount`` tell of a box.

    ``word`` is something seen, a care, "count", "weigh", a size band, or "note" with the keeper's
    own words as the amount; common other spellings of these are understood.

    Raises:
        Refusal: naming the word or the amount that is not understood and what was expected.
    """
    plain = " ".join(word.replace("_", " ").replace("-", " ").lower().split())
    amount = amount.strip()
    if plain == "note":
        return [Noted(what="box", code=box, text=_needed(amount, "note", "your own words"))]
    if plain in BANDS:
        return [_banded(box, plain, amount)]
    telling = telling_of(plain)
    known = plain.replace(" ", "_")
    if known in SEEN:
        return [_seen(box, known, amount)]
    if known in CARES:
        return [_care(box, known, amount)]
    match telling.kind if telling else "":
        case "care":
            assert telling is not None
            return [_care(box, telling.word, amount, telling.what)]
        case "seen":
            assert telling is not None
            return [_seen(box, telling.word, amount, telling.share)]
        case "count":
            return [_counted(box, amount)]
        case "weigh":
            return [_weighed(box, amount)]
    raise Refusal(_unknown(word, plain))


def correct_noted(
    book: Book,
    fact_id: str,
    word: str,
    amount: str,
    *,
    why: str,
    pen: Pen,
    happened: Moment | None = None,
) -> Recorded:
    """Withdraws a fact about one box and writes word and amount in its place, in one step.

    Raises:
        Refusal: when the fact is not about a box, or the new words are not understood.
    """
    mistaken = standing_entry(book, fact_id)
    box = getattr(mistaken.fact, "box", "") or _noted_box(mistaken.fact)
    if not box:
        raise Refusal(
            f"Fact {fact_id} ({mistaken.fact.kind}) is not about one box; withdraw it instead."
        )
    (better,) = facts_for(box, word, amount)
    return correct(book, mistaken.id, better, why=why, pen=pen, happened=happened)


def _noted_box(fact: Fact) -> str:
    return fact.code if isinstance(fact, Noted) and fact.what == "box" else ""


def _unknown(word: str, plain: str) -> str:
    import difflib

    spoken = [one.replace("_", " ") for one in (*SEEN, *CARES, *BANDS, "count", "weigh", "note")]
    near = difflib.get_close_matches(plain, spoken, n=3, cutoff=0.6)
    hint = f"Did you mean {' or '.join(near)}?" if near else f"Known words: {', '.join(spoken)}."
    return f"{word!r} is no word the book knows. {hint}"


def _needed(amount: str, word: str, expected: str) -> str:
    if not amount:
        raise Refusal(f"{word!r} needs {expected} after it.")
    return amount


def _animals(amount: str) -> int | None:
    if not amount:
        return None
    try:
        told = read_count(amount, None)
    except Unreadable as fault:
        raise Refusal(f"Amount {amount!r}: {fault}.") from None
    return told.low if told else None


def _seen(box: str, word: str, amount: str, share: float | None = None) -> Fact:
    if word == "left_over" and amount:
        return SeenInBox(box=box, word="left_over", share=_share(amount))
    return SeenInBox(box=box, word=word, animals=_animals(amount), share=share)  # type: ignore[arg-type]


def _share(amount: str) -> float:
    from mancary.sheets.values.measures import read_share

    try:
        return read_share(amount, None)
    except Unreadable as fault:
        raise Refusal(f"Amount {amount!r}: {fault}.") from None


def _care(box: str, care: str, amount: str, what: str = "") -> Fact:
    if not amount:
        return CareGiven(box=box, care=care, what=what)  # type: ignore[arg-type]
    try:
        dose = read_dose(amount, None)
    except Unreadable as fault:
        raise Refusal(f"Amount {amount!r}: {fault}.") from None
    return CareGiven(box=box, care=care, what=what, amount=dose.amount, note=dose.words)  # type: ignore[arg-type]


def _banded(box: str, band: str, amount: str) -> Fact:
    if amount:
        raise Refusal(f"A size band takes no amount; for a number say: count {amount}.")
    low, high = BANDS[band]
    return Counted(box=box, how="band", low=low, high=high, band=band)  # type: ignore[arg-type]


def _counted(box: str, amount: str) -> Fact:
    _needed(amount, "count", "a number of animals, such as 37, 40-50 or 50+,")
    try:
        told = read_count(amount, None)
    except Unreadable as fault:
        raise Refusal(f"Amount {amount!r}: {fault}.") from None
    if told is None:
        raise Refusal(f"Amount {amount!r}: expected a number of animals.")
    return Counted(
        box=box,
        how="band" if told.band else "not_said",
        low=told.low,
        high=told.high,
        band=told.band,
        as_written=told.as_written,
    )


def _weighed(box: str, amount: str) -> Fact:
    _needed(amount, "weigh", "the weight of the whole box, such as 1462 or 1,48 kg,")
    from mancary.sheets.values.measures import read_gross_g

    try:
        return Weighed(box=box, gross_g=read_gross_g(amount, None))
    except Unreadable as fault:
        raise Refusal(f"Amount {amount!r}: {fault}.") from None
