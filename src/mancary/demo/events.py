"""What happens in the invented year: heat, mites, a failing colony, a bad sack, a holiday."""

import random
from collections.abc import Iterator
from typing import Final

from mancary.demo.colony import Pretend
from mancary.demo.room import BAD_SACK_BOXES, FAILING, HOT_SHELF, MITES
from mancary.husbandry.facts import (
    BatchEnded,
    BatchMade,
    CareGiven,
    CareSkipped,
    Fact,
    Noted,
    Quarantined,
    QuarantineEnded,
    SeenInBox,
)

WEEKS: Final = 60
HEAT: Final = (33, 34)
MITES_FROM: Final = 39
FAILING_FROM: Final = 26
BAD_SACK_WEEK: Final = 45
HOLIDAY: Final = (51, 52)

SACKS: Final = (
    (0, "L1", "oak and beech", "Fernhollow lower wood", "aged"),
    (16, "L2", "oak", "Fernhollow lower wood", "freeze"),
    (32, "L3", "hazel and alder", "Brook path", "as_found"),
    (BAD_SACK_WEEK, "L4", "maple", "Meadow car park edge", "as_found"),
    (48, "L5", "oak and beech", "Fernhollow lower wood", "heat"),
)


def sack_of(week: int) -> str:
    """The leaf sack in use; the bad one goes only where the story puts it."""
    return [name for since, name, *_ in SACKS if since <= week and name != "L4"][-1]


def batches(week: int) -> Iterator[Fact]:
    """Sacks opened and ended in a week."""
    for since, name, leaves, place, treatment in SACKS:
        if since == week:
            yield BatchMade(
                batch=name,
                what="leaves",
                name=leaves,
                place=place,
                treatment=treatment,  # type: ignore[arg-type]
            )
    if week == BAD_SACK_WEEK + 3:
        yield BatchEnded(batch="L4", why="six boxes lost springtails, then animals; sack thrown")


def box_events(colony: Pretend, week: int, chance: random.Random) -> Iterator[Fact]:
    """What befalls one box in a week, and what it does to the make-believe colony."""
    if colony.place.shelf == HOT_SHELF and week in HEAT:
        colony.animals *= 0.6
        yield SeenInBox(box=colony.box, word="dead", animals=chance.randint(2, 9))
        yield SeenInBox(box=colony.box, word="on_the_walls")
    if colony.box == MITES:
        yield from _mites(colony, week)
    if colony.box == FAILING and week >= FAILING_FROM:
        yield from _failing(colony, week, chance)
    if colony.box in BAD_SACK_BOXES:
        yield from _bad_sack(colony, week, chance)
    if week == HOLIDAY[1] + 1 and colony.place.damp_share < 0.3 and chance.random() < 0.3:
        colony.animals *= 0.85
        yield SeenInBox(box=colony.box, word="dry")
        yield SeenInBox(box=colony.box, word="dead", animals=chance.randint(1, 3))


def _mites(colony: Pretend, week: int) -> Iterator[Fact]:
    box, since = colony.box, week - MITES_FROM
    if since in (0, 1, 3):
        yield SeenInBox(box=box, word="mites")
        yield CareSkipped(box=box, care="protein", why="mites: no food for ten days")
    if since == 0:
        yield Quarantined(box=box, why="contaminated")
        yield SeenInBox(box=box, word="smells")
    if since == 2:
        yield CareGiven(box=box, care="springtails", what="two spoons from culture A24")
        yield CareGiven(box=box, care="substrate_half")
    if since == 8:
        yield QuarantineEnded(box=box, note="three looks without mites")


def _failing(colony: Pretend, week: int, chance: random.Random) -> Iterator[Fact]:
    colony.growth = -0.055
    if chance.random() < 0.35:
        yield SeenInBox(box=colony.box, word="left_over", share=0.5)
    if week > FAILING_FROM + 8 and chance.random() < 0.25:
        yield SeenInBox(box=colony.box, word="dead", animals=1)
    if week == FAILING_FROM + 12:
        yield Noted(
            what="box", code=colony.box, text="quieter than in spring? no young for a while"
        )


def _bad_sack(colony: Pretend, week: int, chance: random.Random) -> Iterator[Fact]:
    since = week - BAD_SACK_WEEK
    if since == 0:
        yield CareGiven(box=colony.box, care="leaf_litter", batch="L4")
    if since == 1:
        yield SeenInBox(box=colony.box, word="springtails_gone")
    if since in (1, 2):
        colony.animals *= 0.7
        yield SeenInBox(box=colony.box, word="dead", animals=chance.randint(3, 12))
    if since == 3:
        yield CareGiven(box=colony.box, care="substrate_half")
        yield CareGiven(box=colony.box, care="springtails", what="culture A24")


def shelf_temperature(
    level: int, shelf: str, week: int, season: float, chance: random.Random
) -> tuple[float, float]:
    """Lowest and highest of a week; the top is warmer. ``season`` runs from -1 (winter) to 1."""
    middle = 21.5 + 1.5 * season - 0.35 * level + chance.gauss(0, 0.3)
    low, high = middle - 1.2, middle + 1.8
    if week in HEAT:
        high += 4.0 if shelf != HOT_SHELF else 10.5
    return round(low, 1), round(high, 1)
