"""What the book knows already, as far as a sheet needs it."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import tzinfo

from msgspec.structs import replace

from mancary.book import Book
from mancary.husbandry.codec import encode
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import (
    BoxDescribed,
    Counted,
    Fact,
    FigureChosen,
    Founded,
    LineNamed,
    Noted,
    PageOpened,
    SheetTakenIn,
    ShelfPlaced,
    Shelved,
    Withdrawn,
)
from mancary.husbandry.order import withdrawn_ids
from mancary.sheets.plain import plain
from mancary.usecases.standings import register_of
from mancary.usecases.take_in.living import Living

_KINDS = tuple(
    fact.kind
    for fact in (
        BoxDescribed,
        Counted,
        FigureChosen,
        Founded,
        LineNamed,
        Noted,
        PageOpened,
        Shelved,
        ShelfPlaced,
    )
)


def was_taken_in(book: Book, sha256: str) -> bool:
    """True where the same bytes were taken in before."""
    return any(
        isinstance(entry.fact, SheetTakenIn) and entry.fact.sha256 == sha256
        for entry in book.entries_of([SheetTakenIn.kind])
    )


class Told:
    """What sheets told of each box, in turn, so that only a change is written.

    The id of what a sheet tells now is made from its content and from the id of what a sheet told
    before it; so the same told again is found, and 25 after 30 after 25 is not lost.
    """

    def __init__(self, entries: Iterable[Entry]) -> None:
        self._facts: dict[str, dict[str, str]] = defaultdict(dict)
        for entry in entries:
            self._facts[_topic(entry.fact)][entry.id] = _content(entry.fact)

    def turn(self, fact: Fact, *, again: bool) -> tuple[str, bool]:
        """The id of a fact as told now, and whether the book has it.

        ``again`` is True for a file taken in before: then anything ever told counts as told.
        """
        topic, content = _topic(fact), _content(fact)
        known = self._facts.get(topic, {})
        before, last = "", None
        while step := self._next(topic, known, before):
            before, last = step, known[step]
            if again and last == content:
                return before, True
        if last == content:
            return before, True
        return derived_id(f"{topic}\x1f{content}\x1f{before}"), False

    @staticmethod
    def _next(topic: str, known: dict[str, str], before: str) -> str | None:
        for fact_id, content in known.items():
            if fact_id == derived_id(f"{topic}\x1f{content}\x1f{before}"):
                return fact_id
        return None


def _topic(fact: Fact) -> str:
    """Kind, subjects that stay, and which fields are told: two sheets may tell different ones."""
    if isinstance(fact, BoxDescribed):
        fields = [name for name in fact.__struct_fields__ if getattr(fact, name) not in (None, "")]
        return f"sheet|{fact.kind}|{fact.box}|{','.join(fields)}"
    if isinstance(fact, Shelved):
        return f"sheet|{fact.kind}|{fact.box}"
    return f"sheet|{fact.kind}|{fact.subjects()[0]}"


def _content(fact: Fact) -> str:
    if isinstance(fact, Shelved):
        # a position counted from the order of the sheet is ours, not told
        return fact.shelf
    if isinstance(fact, BoxDescribed) and fact.vents is not None:
        # the same holes may be typed in more than one way
        fact = replace(fact, vents_as_written="")
    return encode(fact).decode()


class Known:
    """Boxes, shelves, lines, pages and colonies of the book.

    ``founded`` holds the foundings that stand; ``founding_ids`` the withdrawn ones too.
    """

    def __init__(self, book: Book, zone: tzinfo) -> None:
        self.boxes: set[str] = set(book.subjects("box"))
        self.shelves: dict[str, int] = {}
        self.positions: dict[str, dict[str, int | None]] = defaultdict(dict)
        self._stands: dict[str, str] = {}
        self.lines: dict[str, LineNamed] = {}
        self.pages: dict[str, str] = {}
        self.species_of: dict[str, str] = {}
        self.founded: dict[str, Founded] = {}
        self.founding_ids: set[str] = set()
        self._gone = withdrawn_ids(book.entries_of([Withdrawn.kind]))
        register = register_of(book, zone)
        self.living = Living(register, zone)
        self.colonies: set[str] = set(register.colonies)
        entries = book.entries_of(_KINDS)
        self.told = Told(entries)
        for entry in entries:
            self._learn(entry.id, entry.fact)

    def _learn(self, fact_id: str, fact: Fact) -> None:
        if isinstance(fact, ShelfPlaced):
            self.shelves[fact.shelf] = fact.turn
        elif isinstance(fact, Shelved):
            self.stand(fact.box, fact.shelf, fact.position)
        elif isinstance(fact, LineNamed):
            self.lines[fact.line] = fact
            self.species_of[plain(fact.as_bought)] = fact.species
        elif isinstance(fact, PageOpened):
            self.pages[fact.species] = fact.name
        elif isinstance(fact, Founded):
            self.founding_ids.add(fact_id)
            if fact_id not in self._gone:
                self.founded[fact_id] = fact

    def stand(self, box: str, shelf: str, position: int | None) -> None:
        """Learns where a box stands now."""
        self.positions[self._stands.get(box, shelf)].pop(box, None)
        self._stands[box] = shelf
        self.positions[shelf][box] = position

    def stands(self, box: str) -> bool:
        """True where a box has its place."""
        return box in self._stands
