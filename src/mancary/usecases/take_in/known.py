"""What the book knows already, as far as a sheet needs it."""

from collections import defaultdict
from datetime import tzinfo

from mancary.book import Book
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
from mancary.sheets.plain import plain
from mancary.usecases.standings import register_of
from mancary.usecases.take_in.living import Living
from mancary.usecases.take_in.told import Told
from mancary.usecases.take_in.withdrawals import Withdrawals

_NAMED = tuple(fact.kind for fact in (Founded, LineNamed, PageOpened, Shelved, ShelfPlaced))
_CHAINED = tuple(fact.kind for fact in (BoxDescribed, Counted, FigureChosen, Noted, Shelved))


def was_taken_in(book: Book, sha256: str) -> bool:
    """True where the same bytes were taken in before."""
    return any(
        isinstance(entry.fact, SheetTakenIn) and entry.fact.sha256 == sha256
        for entry in book.entries_of([SheetTakenIn.kind])
    )


def withdrawals_of(book: Book) -> Withdrawals:
    """All that the keeper withdrew."""
    return Withdrawals(book.entries_of([Withdrawn.kind]))


class Known:
    """Boxes, shelves, lines, pages and colonies of the book; what was withdrawn is not known.

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
        self.withdrawals = withdrawals_of(book)
        register = register_of(book, zone)
        self.living = Living(register, zone)
        self.colonies: set[str] = set(register.colonies)
        self.told = Told(book.entries_of(_CHAINED, from_content=True), self.withdrawals.mistaken)
        for entry in book.entries_of(_NAMED):
            if isinstance(entry.fact, Founded):
                self.founding_ids.add(entry.id)
            if entry.id not in self.withdrawals.gone:
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
            self.founded[fact_id] = fact

    def found(self, fact_id: str, fact: Founded) -> None:
        """Learns of a colony that the sheet founds."""
        self.founding_ids.add(fact_id)
        self.founded[fact_id] = fact
        self.colonies.add(fact.colony)

    def stand(self, box: str, shelf: str, position: int | None) -> None:
        """Learns where a box stands now."""
        self.positions[self._stands.get(box, shelf)].pop(box, None)
        self._stands[box] = shelf
        self.positions[shelf][box] = position
