"""Counting: from what was typed to a fact, and what it tells of the whole colony."""

import re
from typing import Literal

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import code
from mancary.husbandry.count_told import CountTold, count_told
from mancary.husbandry.facts import Counted
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.words import BANDS
from mancary.usecases.admission import register_at
from mancary.usecases.beliefs import is_culture
from mancary.usecases.pen import Pen
from mancary.usecases.record import known_box, write

MOST = 10_000
_FEWEST_PASSES = 2


class CountTyped(Struct, frozen=True, kw_only=True):
    """A count as typed: one of its ways filled in. ``full`` and ``hide`` are (low, high).

    ``share`` (0..1) is what each of the ``scoops`` is of the whole box.
    """

    full: tuple[int, int | None] | None = None
    hide: tuple[int, int | None] | None = None
    guess: tuple[int, int | None] | None = None
    scoops: tuple[int, ...] = ()
    share: float | None = None
    passes: tuple[int, ...] = ()
    marks: tuple[int, int, int] | None = None
    band: str = ""
    note: str = ""


class CountAnswer(Struct, frozen=True, kw_only=True):
    """A count and, where it was written, the ids of its fact."""

    box: str
    told: CountTold
    ids: tuple[str, ...]


def counted_as_typed(box: str, typed: CountTyped) -> Counted:
    """The fact of a count.

    Raises:
        Refusal: when not exactly one way is told, or its numbers cannot be.
    """
    told = [
        name
        for name in ("full", "hide", "guess", "scoops", "passes", "marks", "band")
        if getattr(typed, name) not in (None, (), "")
    ]
    if len(told) != 1:
        said = (
            tell("%(all)s were told", all=in_a_row(tell(" and "), told))
            if told
            else tell("none was told")
        )
        raise Refusal(
            tell(
                "A count is made in one way at a time: the whole box, under one hide, scoops,"
                " passes, marks, a size band or a guess; %(said)s.",
                said=said,
            )
        )
    match told[0]:
        case "full" | "hide" | "guess":
            return _plain(box, told[0], typed)
        case "scoops":
            return _scoops(box, typed)
        case "passes":
            return _passes(box, typed)
        case "marks":
            return _marks(box, typed)
        case _:
            return _banded(box, typed)


_RANGE = re.compile(r"(\d+)(?:\s*-\s*(\d+)|(\+))?", re.ASCII)
_APART = re.compile(r"[\s,;+]+")


def animals_typed(text: str) -> tuple[int, int | None] | None:
    """A number of animals or a range: 37, 40-50, or 50+ for at least so many; None for no such."""
    found = _RANGE.fullmatch(text.strip())
    if found is None:
        return None
    low = int(found[1])
    if found[3]:
        return low, None
    return low, int(found[2]) if found[2] else low


def numbers_typed(text: str) -> tuple[int, ...] | None:
    """Whole numbers one after the other: 25,12,5; None for anything else."""
    parts = [part for part in _APART.split(text.strip()) if part]
    if not parts or not all(part.isascii() and part.isdigit() for part in parts):
        return None
    return tuple(int(part) for part in parts)


_PLAIN_WAYS: dict[str, Literal["full", "one_hide", "guess"]] = {
    "full": "full",
    "hide": "one_hide",
    "guess": "guess",
}


def _plain(box: str, way: str, typed: CountTyped) -> Counted:
    low, high = getattr(typed, way)
    _within(way, low, *([] if high is None else [high]))
    if high is not None and high < low:
        raise Refusal(
            tell(
                "%(low)s-%(high)s: the second number of a range is the greater one.",
                low=low,
                high=high,
            )
        )
    return Counted(box=box, how=_PLAIN_WAYS[way], low=low, high=high, note=typed.note)


def _scoops(box: str, typed: CountTyped) -> Counted:
    share = typed.share
    if share is None:
        raise Refusal(tell("Say what share of the box one scoop was, such as 10 %."))
    if not 0 < share <= 1 or share * len(typed.scoops) > 1 + 1e-9:
        raise Refusal(
            tell(
                "%(scoops)s scoops of %(share).3g of the box each: together they can be no"
                " more than the whole box.",
                scoops=len(typed.scoops),
                share=share,
            )
        )
    _within("scoops", *typed.scoops)
    told = Counted(box=box, how="scoop", low=0, share=share, samples=typed.scoops, note=typed.note)
    return _with_ends(told)


def _passes(box: str, typed: CountTyped) -> Counted:
    if len(typed.passes) < _FEWEST_PASSES:
        raise Refusal(tell("Passes: two or more numbers are needed, such as 25, 12 and 5."))
    _within("passes", *typed.passes)
    return _with_ends(
        Counted(box=box, how="removals", low=0, catches=typed.passes, note=typed.note)
    )


def _marks(box: str, typed: CountTyped) -> Counted:
    assert typed.marks is not None
    marked, caught, recaptured = typed.marks
    _within("marks", marked, caught, recaptured)
    if recaptured > min(marked, caught):
        raise Refusal(
            tell(
                "%(recaptured)s with a mark can be no more than the %(marked)s marked or the"
                " %(caught)s caught.",
                recaptured=recaptured,
                marked=marked,
                caught=caught,
            )
        )
    if marked == 0 or caught == 0:
        raise Refusal(tell("Marks: at least one animal is marked and one caught."))
    return _with_ends(
        Counted(
            box=box, how="marks", low=0, marked=marked, caught=caught, recaptured=recaptured,
            note=typed.note,
        )
    )  # fmt: skip


def _with_ends(fact: Counted) -> Counted:
    """The fact with its range in whole animals, for those who read low and high alone."""
    from msgspec.structs import replace

    told = count_told(fact)
    high = None if told.high is None else min(1_000_000, round(told.high))
    return replace(fact, low=round(told.low), high=high)


def _banded(box: str, typed: CountTyped) -> Counted:
    if typed.band not in BANDS:
        raise Refusal(
            tell(
                "%(band)r is no size band; known: %(all)s.",
                band=typed.band,
                all=in_a_row(", ", BANDS),
            )
        )
    low, high = BANDS[typed.band]
    return Counted(box=box, how="band", low=low, high=high, band=typed.band, note=typed.note)  # type: ignore[arg-type]


def _within(what: str, *numbers: int) -> None:
    for one in numbers:
        if not 0 <= one <= MOST:
            raise Refusal(
                tell(
                    "%(what)s: %(one)s is outside 0 to %(most)s animals.",
                    what=what,
                    one=one,
                    most=f"{MOST:,}",
                )
            )


def reckon(typed: CountTyped, *, box: str = "BOX") -> CountTold:
    """What a count tells, without writing it down.

    Raises:
        Refusal: as ``counted_as_typed``.
    """
    return count_told(counted_as_typed(code(box), typed))


def count(
    book: Book, box: str, typed: CountTyped, *, pen: Pen, happened: Moment | None = None
) -> CountAnswer:
    """Writes a count down and tells what it means; it is on disk when this returns.

    Raises:
        Refusal: for an unknown box, one without a colony, a culture of springtails, or as
            ``counted_as_typed``.
    """
    fact = counted_as_typed(code(box), typed)
    home = may_count(book, box, pen=pen, happened=happened)
    told = count_told(fact)
    recorded = write(book, [fact], pen=pen, happened=happened)
    return CountAnswer(box=home, told=told, ids=tuple(entry.id for entry in recorded.entries))


def may_count(book: Book, box: str, *, pen: Pen, happened: Moment | None = None) -> str:
    """The code of a box whose animals can be counted.

    Raises:
        Refusal: for an unknown box, one without a colony, or a culture of springtails.
    """
    home = known_box(book, box)
    refuse_culture(book, home, pen=pen, happened=happened)
    refuse_nobody(book, home, pen=pen, happened=happened)
    return home


def refuse_nobody(book: Book, box: str, *, pen: Pen, happened: Moment | None = None) -> None:
    """Refuses to count a box in which no colony lived.

    Raises:
        Refusal: when the box held none at that moment.
    """
    if register_at(book, happened, pen=pen).colony_in(box) is None:
        when = tell("on %(happened)s", happened=happened) if happened else "now"
        raise Refusal(
            tell(
                "Box %(box)s held no colony %(when)s, so there was nothing to count. Where the"
                " day is wrong, give another; where the colony came earlier, correct the day"
                " it was founded.",
                box=box,
                when=when,
            )
        )


def refuse_culture(book: Book, box: str, *, pen: Pen, happened: Moment | None = None) -> None:
    """Refuses to count a culture of springtails.

    Raises:
        Refusal: when the box held one at that moment.
    """
    register = register_at(book, happened, pen=pen)
    colony = register.colony_in(box)
    if colony is not None and is_culture(register, colony.line):
        raise Refusal(
            tell(
                "Box %(box)s holds a culture of springtails; its animals are not counted. How"
                " fast it goes: mancary grow %(box)s.",
                box=box,
            )
        )
