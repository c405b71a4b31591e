"""The boxes that carry the word "watch" on the rack."""

from datetime import date

from mancary.book import Book
from mancary.husbandry.colony_surplus import ON_WATCH
from mancary.usecases.beliefs import believed, room_of


def on_watch(book: Book, *, on: date) -> frozenset[str]:
    """Boxes whose colony is likely enough to fall below five in 12 weeks (0.10 on, ours).

    No seconds are spent on learning; what was last learned stands.
    """
    room = room_of(book, on=on, learn=False)
    return frozenset(
        one.box.code for one in believed(book, room, fell=False) if one.outlook.p_below >= ON_WATCH
    )
