"""What a fact just written moved: the watch figure as it would be without it."""

from collections.abc import Collection

from mancary.book import Book
from mancary.husbandry.colony_belief import KeptBelief
from mancary.husbandry.colony_held import held
from mancary.husbandry.colony_pace import as_held
from mancary.husbandry.colony_past import PAST_KINDS, pasts_of
from mancary.usecases.beliefs import Believed, Room


def chance_without(book: Book, room: Room, one: Believed, ids: Collection[str]) -> float | None:
    """The chance (0..1) to fall below five in 12 weeks, were these facts not in the book.

    None where the colony would not have been there without them. Weights as they are with them.
    """
    left = [entry for entry in book.entries_of(PAST_KINDS) if entry.id not in ids]
    past = pasts_of([one.colony], left, room.zone, until=room.on).get(one.colony.code)
    if past is None:
        return None
    bare = as_held(past, one.pace)
    told = held(bare, one.pace, room.weights, KeptBelief(), on=room.on, fell=False)
    return told.outlook.p_below
