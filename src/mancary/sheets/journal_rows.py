"""Rows of a journal: what was done to a box or seen in it, on which day."""

from collections.abc import Callable
from typing import TypeVar

from msgspec import Struct

from mancary.husbandry.codes import code
from mancary.husbandry.facts import Amount
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.sheets.cells import Cells
from mancary.sheets.faults import Unclear, Unreadable
from mancary.sheets.plain import plain
from mancary.sheets.telling.remarks import Sight, read_remark, read_sight
from mancary.sheets.telling.trade_words import Telling
from mancary.sheets.telling.work import Work, known_telling, read_work
from mancary.sheets.values.amounts import read_dose
from mancary.sheets.values.counts import Count, read_count
from mancary.sheets.values.measures import is_unknown, read_gross_g, read_share

T = TypeVar("T")
_EXPECT_COUNT = "expected how many animals were counted"
_EXPECT_WEIGHT = "expected the box's weight, like 1455 g"


class Given(Struct, frozen=True, kw_only=True):
    """A kind of care, with its amount, or words where it had no number."""

    care: str
    what: str = ""
    amount: Amount | None = None
    words: str = ""


class GrossWeight(Struct, frozen=True):
    """A weighing of the whole box."""

    grams: float


Done = Given | Sight | Count | GrossWeight


class JournalRow(Struct, frozen=True, kw_only=True):
    """What one row says was done to a box or seen in it on a day; ``notes`` are the other words."""

    box: str
    day: Moment
    done: tuple[Done, ...]
    notes: tuple[str, ...] = ()


def read_journal_row(cells: Cells) -> JournalRow | None:
    """The row's telling; None where box, day or word cannot be read. Faults stay in ``cells``."""
    box, day = _box(cells), _day(cells)
    work = _work(cells)
    done: list[Done] = []
    notes: list[str] = []
    if work:
        for told in work.tellings:
            _tell(cells, told, work, done, notes)
    for text in cells.words("remarks"):
        remark = read_remark(text)
        done.extend(remark.sights)
        notes.extend([remark.note] if remark.note else [])
    notes.extend(cells.words("note"))
    if not (box and day and work):
        return None
    return JournalRow(box=box, day=day, done=tuple(done), notes=tuple(notes))


def _box(cells: Cells) -> str | None:
    text = cells.text("box")
    try:
        return code(text)
    except Refusal as fault:
        cells.refuse("box", str(fault) if text else "expected the box's code; the cell is empty")
        return None


def _day(cells: Cells) -> Moment | None:
    if is_unknown(cells.text("date")):
        cells.refuse("date", "expected a date; the cell does not say when")
        return None
    return cells.moment("date")


def _work(cells: Cells) -> Work | None:
    text = cells.text("what")
    if text:
        return cells.read("what", read_work)
    if cells.words("remarks"):
        return Work(tellings=())
    cells.refuse("what", "expected what was done or seen; the cell is empty")
    return None


def _tell(cells: Cells, told: Telling, work: Work, done: list[Done], notes: list[str]) -> None:
    amount = cells.text("amount") or work.amount
    several = len(work.tellings) > 1
    if told.kind == "note":
        parts = (cells.text("what"), amount)
        notes.append(" ".join(part for part in parts if part and plain(part) != "note") or "note")
    elif told.kind == "care":
        if several and amount:
            done.append(Given(care=told.word, what=told.what, words=amount))
        else:
            _add(done, _given(cells, told, amount))
    elif told.kind == "seen":
        _add(done, _sight(told, amount))
    elif told.kind == "count":
        _add(done, _number(cells, amount))
    else:
        _add(done, _weight(cells, amount))


def _add(done: list[Done], one: Done | None) -> None:
    if one is not None:
        done.append(one)


def _unit(cells: Cells) -> str:
    return plain(cells.text("unit")) or cells.unit("amount")


def _value(cells: Cells, amount: str, parse: Callable[[str], T]) -> T | None:
    """The amount's value, read from its own cell or, where it stood there, from the words."""
    if cells.text("amount"):
        return cells.read("amount", parse)
    return cells.read("what", lambda _: parse(amount)) if amount else None


def _given(cells: Cells, told: Telling, amount: str) -> Given | None:
    if not amount:
        return Given(care=told.word, what=told.what)
    food = None if told.what else _food(told, amount)
    if food:
        return Given(care=told.word, what=food)
    dose = _value(cells, amount, lambda text: read_dose(text, cells.ground.decimal, _unit(cells)))
    if dose is None:
        return None
    return Given(care=told.word, what=told.what, amount=dose.amount, words=dose.words)


def _food(told: Telling, amount: str) -> str:
    """A food that stands where the amount should: "veg", "cucumber"."""
    food = known_telling(amount)
    return food.what if food and food.kind == "care" and food.word == told.word else ""


def _sight(told: Telling, amount: str) -> Sight:
    if told.word == "left_over" and amount:
        try:
            return Sight(word=told.word, share=read_share(amount, None), as_written=amount)
        except (Unclear, Unreadable):
            return Sight(word=told.word, as_written=amount)
    if amount.isdecimal() and len(amount) < 6:
        return Sight(word=told.word, animals=int(amount))
    worded = read_sight(f"{amount} {told.word.replace('_', ' ')}") if amount else None
    return worded or Sight(word=told.word, as_written=amount)


def _number(cells: Cells, amount: str) -> Count | None:
    count = _value(cells, amount, lambda text: read_count(text, cells.ground.decimal))
    if count is None and not (cells.refused or cells.asked):
        cells.refuse("amount", _EXPECT_COUNT)
    return count


def _weight(cells: Cells, amount: str) -> GrossWeight | None:
    grams = _value(
        cells, amount, lambda text: read_gross_g(text, cells.ground.decimal, _unit(cells))
    )
    if grams is None:
        if not (cells.refused or cells.asked):
            cells.refuse("amount", _EXPECT_WEIGHT)
        return None
    if not _unit(cells) and amount.strip().isdecimal():
        cells.said.append(f"{amount} without a unit is read as grams")
    return GrossWeight(grams)
