"""What stands on the sheet of a round, word for word; the template only places it."""

from msgspec import Struct


class TrayLine(Struct, frozen=True, kw_only=True):
    """One thing on the tray: for how many boxes, how much in all, and how much for each."""

    word: str
    boxes: int
    sum: str
    each: str


class CareToTick(Struct, frozen=True, kw_only=True):
    word: str
    amount: str


class BoxLine(Struct, frozen=True, kw_only=True):
    """One box: who lives there, what to tick, and ``words`` where it is quarantined."""

    code: str
    latin: str
    trade: str
    morph: str
    words: str
    cares: tuple[CareToTick, ...]


class ShelfPart(Struct, frozen=True, kw_only=True):
    """The boxes of a shelf; ``apart`` are the quarantined ones, a part of their own."""

    shelf: str
    name: str
    apart: bool
    thermometer: bool
    stops: tuple[BoxLine, ...]


class Said(Struct, frozen=True, kw_only=True):
    """The rest of a care's amount words, said once at the foot of each page."""

    care: str
    words: str


class PutOffPart(Struct, frozen=True, kw_only=True):
    late: tuple[str, ...]
    more: str
    waiting: str


class Step(Struct, frozen=True, kw_only=True):
    words: str
    commands: tuple[str, ...]


class SheetWords(Struct, frozen=True, kw_only=True):
    title: str
    room: str
    invented: bool
    summary: str
    tray: tuple[TrayLine, ...]
    tray_basis: tuple[str, ...]
    amounts: tuple[Said, ...]
    shelves: tuple[ShelfPart, ...]
    other_shelves: tuple[str, ...]
    nothing: str
    put_off: PutOffPart
    typing: tuple[Step, ...]
    spelling: str
    basis: str
