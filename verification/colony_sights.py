"""What a look at an invented colony is to the product: its sights and its history."""

from mancary.science.belief_evidence import Dead, Evidence, FullCount, IndexCount, LeftOver, Young
from mancary.science.belief_state import History, Visit
from verification.colony_world import Colony, Look


def sights_of(look: Look) -> tuple[Evidence, ...]:
    """The evidence of one look."""
    told: list[Evidence] = []
    if look.under_hide is not None:
        told.append(IndexCount(look.under_hide))
    if look.whole is not None:
        told.append(FullCount(look.whole))
    if look.young is not None:
        told.append(Young(look.young))
    if look.dead is not None:
        told.append(Dead(look.dead, float(look.dead_weeks)))
    if look.left is not None:
        told.append(LeftOver(float(look.left)))
    return tuple(told)


def history_of(colony: Colony) -> History:
    """All looks, up to the last; of its founders nothing is told."""
    visits = tuple(Visit(week=look.week, evidence=sights_of(look)) for look in colony.looks)
    return History(visits=visits, week=colony.week)
