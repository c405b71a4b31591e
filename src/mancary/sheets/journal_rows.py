"""Rows of a journal: what was done to a box or seen in it, on which day."""

import re
from collections.abc import Callable
from typing import TypeVar

from msgspec import Struct

from mancary.husbandry.codes import code
from mancary.husbandry.facts import Amount
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import said
from mancary.sheets.cells import Cells
from mancary.sheets.faults import Unclear, Unreadable
from mancary.sheets.plain import plain
from mancary.sheets.telling.marks import Mark, mark_in, split_mark
from mancary.sheets.telling.remarks import Sight, read_remark
from mancary.sheets.telling.trade_words import Telling
from mancary.sheets.telling.work import Work, is_fed_alone, known_telling, read_work
from mancary.sheets.values.amounts import read_dose
from mancary.sheets.values.counts import Count, read_count
from mancary.sheets.values.measures import is_unknown, read_gross_g, read_share

T = TypeVar("T")
_BELOW_ZERO = re.compile(r"[-−–]\s*[.,]?\d")
_LEADING = re.compile(r"(\d{1,5})\s+(?:for|to|till|an|fur|mot)\b")
_EXPECT_COUNT = "expected how many animals were counted"
_EXPECT_WEIGHT = "expected the box's weight, like 1455 g"


class Given(Struct, frozen=True, kw_only=True):
    """A kind of care, with its amount, or words where it had no number."""

    care: str
    what: str = ""
    amount: Amount | None = None
    words: str = ""


class TakenOut(Struct, frozen=True, kw_only=True):
    """Animals that left the colony: how many where told, what for, and the words."""

    animals: int | None = None
    to: str = ""
    words: str = ""


class GrossWeight(Struct, frozen=True):
    """A weighing of the whole box; ``mark`` says how damp it was where words beside it do."""

    grams: float
    mark: Mark | None = None


Done = Given | Sight | Count | GrossWeight | TakenOut


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
    done = _marked(done, " ".join((*cells.words("remarks"), *cells.words("note"))))
    if not (box and day and work):
        return None
    return JournalRow(box=box, day=day, done=tuple(done), notes=tuple(notes))


def _marked(done: list[Done], words: str) -> list[Done]:
    """The row's one weight with the mark that its remarks tell; the words stay as a note too."""
    weights = [n for n, one in enumerate(done) if isinstance(one, GrossWeight)]
    mark = mark_in(words)
    if mark and len(weights) == 1 and (weight := done[weights[0]]):
        assert isinstance(weight, GrossWeight)
        if weight.mark is None:
            done[weights[0]] = GrossWeight(weight.grams, mark)
    return done


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
    if is_fed_alone(text) and (food := known_telling(cells.text("amount"))) and food.kind == "care":
        return Work(tellings=(Telling(kind="care", word=food.word),))
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
        _add(done, _sight(cells, told, amount))
    elif told.kind == "taken":
        _add(done, _taken(cells, told, amount))
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
    food = known_telling(amount)
    if not told.what and food and food.kind == "care" and food.word == told.word:
        return Given(care=told.word, what=food.what)
    dose = _value(cells, amount, lambda text: read_dose(text, cells.ground.decimal, _unit(cells)))
    if dose is None:
        return None
    return Given(care=told.word, what=told.what, amount=dose.amount, words=dose.words)


def _sight(cells: Cells, told: Telling, amount: str) -> Sight | None:
    if not amount:
        return Sight(word=told.word)
    if told.word == "left_over":
        return _left_over(cells, amount)
    if _is_below_zero(cells, amount):
        return None
    animals = _whole(amount)
    if animals == 0:
        cells.refuse("amount", f"expected how many were {said(told.word)}; 0 is nothing seen")
        return None
    if animals:
        return Sight(word=told.word, animals=animals, as_written="" if amount.isdigit() else amount)
    return Sight(word=told.word, as_written=amount)


def _left_over(cells: Cells, amount: str) -> Sight | None:
    """The share left; words without a number are kept, a number that is no share is refused."""
    try:
        share = read_share(amount, cells.ground.decimal, _unit(cells), of="left over")
    except Unclear:
        return Sight(word="left_over", as_written=amount)
    except Unreadable as fault:
        if not any(map(str.isdigit, amount)):
            return Sight(word="left_over", as_written=amount)
        cells.refuse("amount" if cells.text("amount") else "what", str(fault))
        return None
    return Sight(word="left_over", share=share, as_written=amount)


def _is_below_zero(cells: Cells, amount: str) -> bool:
    if _BELOW_ZERO.match(plain(amount)):
        cells.refuse("amount", "expected a number of 0 or more; this one is below 0")
        return True
    return False


def _whole(amount: str) -> int | None:
    """The number of animals where exactly one is told; no number is made of a range or of words."""
    try:
        count = read_count(amount, None)
    except (Unclear, Unreadable):
        return None
    exact = count and count.low == count.high and not (count.said or count.band)
    return count.low if count and exact else None


def _taken(cells: Cells, told: Telling, amount: str) -> TakenOut | None:
    if _is_below_zero(cells, amount):
        return None
    leading = _LEADING.match(plain(amount))
    animals = _whole(amount)
    if animals is None and leading:
        animals = int(leading[1])
    words = "" if not amount or amount.isdigit() else amount
    return TakenOut(animals=animals, to=told.word, words=words)


def _number(cells: Cells, amount: str) -> Count | None:
    count = _value(cells, amount, lambda text: read_count(text, cells.ground.decimal))
    if count is None and not (cells.refused or cells.asked):
        cells.refuse("amount", _EXPECT_COUNT)
    return count


def _weight(cells: Cells, amount: str) -> GrossWeight | None:
    bare, mark = split_mark(amount)
    grams = _value(
        cells,
        amount,
        lambda text: read_gross_g(split_mark(text)[0], cells.ground.decimal, _unit(cells)),
    )
    if grams is None:
        if not (cells.refused or cells.asked):
            cells.refuse("amount", _EXPECT_WEIGHT)
        return None
    if not _unit(cells) and bare.strip().isdecimal():
        cells.said.append(f"{bare} without a unit is read as grams")
    return GrossWeight(grams, mark)
