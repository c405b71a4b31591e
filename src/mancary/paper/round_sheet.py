"""The round of an evening as an A4 sheet to tick."""

from collections import Counter
from collections.abc import Sequence
from datetime import date
from itertools import groupby

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import natural
from mancary.husbandry.register import Register
from mancary.husbandry.words import AT_HAND, said
from mancary.paper.sheet_words import (
    BoxLine,
    CareToTick,
    PutOffPart,
    Said,
    SheetWords,
    ShelfPart,
    TrayLine,
)
from mancary.paper.typesetting import Typeset, printable, typeset
from mancary.paper.typing_in import spelling, steps
from mancary.usecases.round_kept import accepted_round
from mancary.usecases.round_plan import PutOff, Round, Stop, StopTask, plan_round
from mancary.usecases.species_names import species_name
from mancary.usecases.standings import register_of

TEMPLATE = "round_sheet.typ"
APART = "Quarantine: last on the round, own tools, hands washed after each box"
MOST_LATE = 12
"""Ours: so many late cares are named on the sheet; more would be a second round to read."""


class RoundOnPaper(Struct, frozen=True):
    """A round, whether its plan is the one accepted, and the sheet that tells it."""

    told: Round
    accepted: bool
    sheet: Typeset


def round_sheet(book: Book, *, on: date, named: bool, minutes: float | None = None) -> RoundOnPaper:
    """The round of ``plan_round`` as a PDF.

    Where no plan was accepted the evening is planned as ``mancary done --on`` will plan it, so that
    what is ticked and what is typed in are the same round.
    """
    told = plan_round(book, on=on, named=named, minutes=minutes)
    accepted = minutes is None and accepted_round(book, told.date) is not None
    if told.date != on and not accepted:
        told = plan_round(book, on=told.date, named=True, minutes=minutes)
    register = register_of(book, until=told.date)
    words = sheet_words(told, register, accepted=accepted, minutes=minutes)
    return RoundOnPaper(told, accepted, typeset(TEMPLATE, words, day=told.date))


def sheet_words(
    told: Round, register: Register, *, accepted: bool, minutes: float | None = None
) -> SheetWords:
    """All words of the sheet, in the order of the walk."""
    tasks = [task for stop in told.stops for task in stop.tasks]
    shelves = tuple(_shelves(told, register))
    return SheetWords(
        title=f"Round of {day_said(told.date)}",
        room=printable(register.opened.name) if register.opened else "",
        invented=told.invented,
        summary=_summary(told),
        tray=tuple(_tray(told, tasks)),
        tray_basis=tuple(_tray_basis(told)),
        amounts=tuple(_rests(tasks)),
        shelves=shelves,
        other_shelves=tuple(
            one.shelf
            for one in told.shelves
            if not any(part.thermometer and part.shelf == one.shelf for part in shelves)
        ),
        nothing=_nothing(told),
        put_off=_put_off(told.put_off),
        typing=steps(told, accepted=accepted, minutes=minutes),
        spelling=spelling(told),
        basis=told.basis,
    )


def day_said(day: date) -> str:
    """Such as "Wednesday 25 November 2026"."""
    return f"{day:%A} {day.day} {day:%B} {day.year}"


def _summary(told: Round) -> str:
    boxes = "1 box" if len(told.stops) == 1 else f"{len(told.stops)} boxes"
    head = f"{boxes}, {told.minutes_planned:.0f} of {told.minutes_offered:.0f} minutes."
    if told.minutes_needed > told.minutes_offered:
        return f"{head} All that is due would take {told.minutes_needed:.0f}: the rest is put off."
    return head


def _nothing(told: Round) -> str:
    if told.put_off:
        return "No box is opened this evening: what is due is put off, see below."
    return "No box wants a visit this evening. Nothing is due."


def _tray(told: Round, tasks: Sequence[StopTask]) -> list[TrayLine]:
    lines = []
    for item in told.tray:
        each = Counter(task.said for task in tasks if task.care == item.item)
        lines.append(
            TrayLine(
                word=said(item.item),
                boxes=item.boxes,
                sum=f"{item.amount:g} {item.unit}" if item.amount is not None else "by eye",
                each="; ".join(
                    f"{words or 'no amount known, see the box'}"
                    + (f" × {number}" if len(each) > 1 else "")
                    for words, number in sorted(each.items(), key=_known_first)
                ),
            )
        )
    return lines


def _known_first(one: tuple[str, int]) -> tuple[bool, object]:
    return not one[0], natural(one[0])


def _tray_basis(told: Round) -> list[str]:
    summed = sorted({item.basis for item in told.tray if item.amount is not None})
    by_eye = sorted({item.basis for item in told.tray if item.amount is None})
    return [f"In all: {one}." for one in summed] + [f"By eye: {one}." for one in by_eye]


def parted(amount: str) -> tuple[str, str]:
    """The first words of an amount for the box's line, and the rest for the foot of the page."""
    for sign in (", ", " per ", " at "):
        first, found, rest = amount.partition(sign)
        if found:
            return first, (found + rest).removeprefix(", ").strip()
    return amount, ""


def _rests(tasks: Sequence[StopTask]) -> list[Said]:
    found: dict[tuple[str, str], set[str]] = {}
    for task in tasks:
        _, rest = parted(task.said)
        if rest:
            found.setdefault((task.care, rest), set()).add(task.said)
    return [
        Said(care=said(care), words=whole.pop() if len(whole) == 1 else rest)
        for (care, rest), whole in sorted(found.items())
    ]


def _shelves(told: Round, register: Register) -> list[ShelfPart]:
    def place(stop: Stop) -> tuple[bool, str]:
        return stop.apart, "" if stop.apart else stop.shelf

    read = {one.shelf for one in told.shelves}
    return [
        ShelfPart(
            shelf=shelf,
            name=APART if apart else _shelf_said(shelf),
            apart=apart,
            thermometer=shelf in read,
            stops=tuple(_box_line(stop, register) for stop in here),
        )
        for (apart, shelf), here in groupby(told.stops, key=place)
    ]


def _shelf_said(shelf: str) -> str:
    return f"Shelf {shelf}" if shelf else "No shelf said"


def _box_line(stop: Stop, register: Register) -> BoxLine:
    line = register.line_in(stop.box)
    name = species_name(register, line.species) if line else None
    morph = line.morph if line and name and line.morph not in name.name else ""
    return BoxLine(
        code=stop.box,
        latin=printable(name.latin) if name else "",
        trade=printable(name.trade) if name else printable(stop.species),
        morph=printable(morph),
        words=f"{_shelf_said(stop.shelf)}, {stop.words}" if stop.apart else stop.words,
        cares=tuple(
            CareToTick(word=said(task.care), amount=parted(task.said)[0])
            for task in sorted(stop.tasks, key=lambda task: AT_HAND.index(task.care))
        ),
    )


def _put_off(put_off: Sequence[PutOff]) -> PutOffPart:
    late = [one for one in put_off if not one.risk.startswith("none")]
    waiting = Counter(said(one.care) for one in put_off if one.risk.startswith("none"))
    told = "; ".join(f"{care} {number}" for care, number in waiting.most_common())
    return PutOffPart(
        late=tuple(_late(one) for one in late[:MOST_LATE]),
        more=f"And {len(late) - MOST_LATE} more late cares." if len(late) > MOST_LATE else "",
        waiting=f"Due, but in their window still ({waiting.total()}): {told}." if waiting else "",
    )


def _late(one: PutOff) -> str:
    until = f"to {day_said(one.until)}; " if one.until else ""
    return f"{one.box} {said(one.care)}: {until}{one.risk}"
