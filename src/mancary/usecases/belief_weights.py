"""The filter's weights as the keeper's colonies taught them, learned anew each Monday."""

from collections.abc import Mapping
from datetime import date

from mancary.book import Book
from mancary.book.kept import keep_bodies, kept_bodies
from mancary.husbandry.colony_pace import Pace
from mancary.husbandry.colony_past import Past
from mancary.husbandry.colony_weights import (
    Weights,
    lessons,
    monday,
    pack_weights,
    taught,
    unpack_weights,
    untaught,
)

_LAST = "weights last learned"

__all__ = ["Weights", "weights_of"]


def weights_of(
    book: Book,
    pasts: Mapping[str, Past],
    paces: Mapping[str, Pace],
    *,
    on: date,
    learn: bool = True,
) -> Weights:
    """The weights as of the Monday before ``on``; learned again where other colonies teach now.

    Learning takes some seconds: without ``learn`` those last learned stand, or any keeper's.
    """
    as_of = monday(on)
    given = lessons(pasts, as_of)
    name = f"weights {as_of} {given.fingerprint}"
    kept = unpack_weights(kept_bodies(book, [name]).get(name))
    if kept is not None:
        return kept
    if not learn:
        last = unpack_weights(kept_bodies(book, [_LAST]).get(_LAST))
        before = last if last is not None and last.as_of <= as_of else None
        return before or untaught(as_of, given.telling)
    weights = taught(given, paces)
    last = unpack_weights(kept_bodies(book, [_LAST]).get(_LAST))
    fresh = {name: pack_weights(weights)}
    if last is None or last.as_of <= as_of:  # a look back leaves what was learned since
        fresh[_LAST] = pack_weights(weights)
    keep_bodies(book, fresh)
    return weights
