"""Lines of a journal about boxes in which nobody lived that day are asked about."""

from msgspec.structs import replace

from mancary.husbandry.moments import order_key
from mancary.sheets.cells import Cells
from mancary.sheets.journal_rows import JournalRow, TakenOut
from mancary.sheets.telling.remarks import Sight
from mancary.sheets.values.counts import Count
from mancary.usecases.take_in import colony_questions as questions
from mancary.usecases.take_in.living import Living

_OF_ANIMALS = frozenset(
    {"young_seen", "gravid", "dead", "stuck_moult", "violet_sheen", "on_the_walls", "escaped"}
)


class Present:
    """Knows who lived in a box on the day of a line."""

    def __init__(self, living: Living) -> None:
        self._living = living

    def colony(self, told: JournalRow) -> str:
        """The code of the colony that a line is about, empty where nobody lived there."""
        stay = self._living.on(told.box, told.day)
        return stay.colony if stay else ""

    def met(self, cells: Cells, told: JournalRow) -> JournalRow | None:
        """The line as it can be written; None where it is asked about or left out.

        A line before the first colony of a box came is taken, for a box is made ready, and a list
        may not know the day; but nobody can have been counted or taken where none ever lived.
        """
        if self._living.on(told.box, told.day):
            return told
        of_animals = _is_of_animals(told)
        past = self._living.before(told.box, told.day)
        retired = self._retired(cells, told)
        taken = any(isinstance(one, TakenOut) for one in told.done)
        never = of_animals and (taken or not self._living.last(told.box))
        if not (past or retired or never):
            return told
        why, choices = questions.not_there(told.box, past, retired=retired, of_animals=of_animals)
        answer = cells.settle("box", _key(told), why, choices)
        if answer == questions.NOTE:
            return replace(told, done=(), notes=(_words(cells),))
        return told if answer else None

    @staticmethod
    def answered(cells: Cells, told: JournalRow) -> JournalRow:
        """The line as it stands, for the book has it; an answer given before has done its work."""
        cells.ground.mends.get(_key(told))
        return told

    def _retired(self, cells: Cells, told: JournalRow) -> str | None:
        retired, zone = self._living.retired(told.box), cells.ground.calendar.zone
        after = retired and order_key(told.day, zone) > order_key(retired, zone)
        return retired if after else None


def _is_of_animals(told: JournalRow) -> bool:
    return any(
        isinstance(one, (Count, TakenOut)) or (isinstance(one, Sight) and one.word in _OF_ANIMALS)
        for one in told.done
    )


def _key(told: JournalRow) -> str:
    return f"{'nobody' if _is_of_animals(told) else 'empty'}:{told.box}"


def _words(cells: Cells) -> str:
    """The words of a line as written, without its box and day."""
    told = [cells.text("what"), cells.text("amount"), *cells.words("remarks", "note")]
    return "; ".join(word for word in told if word)
