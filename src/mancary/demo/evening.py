"""One evening's round in the invented room."""

import random
from collections.abc import Iterator

from mancary.demo.colony import Pretend
from mancary.demo.room import CULTURES
from mancary.husbandry.facts import Amount, CareGiven, Counted, Fact, SeenInBox, Weighed
from mancary.husbandry.words import BANDS

EVERY_DAYS = {
    "vegetable": 7,
    "algae": 15,
    "calcium": 31,
    "minerals": 62,
    "leaf_litter": 31,
    "wood": 90,
    "springtail_check": 31,
    "label_check": 92,
    "substrate_half": 235,
}
_FOOD = ("cucumber", "carrot", "courgette", "pumpkin", "mushroom")


def box_facts(colony: Pretend, day: int, sack: str, chance: random.Random) -> Iterator[Fact]:
    """What the keeper writes of one box on one evening; days are counted from the first week."""
    if colony.box in CULTURES:
        yield from _culture_facts(colony, day, chance)
        return
    yield from _care(colony, day, sack, chance)
    yield from _seen(colony, day, chance)


def _due(colony: Pretend, care: str, every: float, day: int, chance: random.Random) -> bool:
    if day - colony.last_given.get(care, -999) < every - 1 or chance.random() < 0.12:
        return False
    colony.last_given[care] = day
    return True


def _care(colony: Pretend, day: int, sack: str, chance: random.Random) -> Iterator[Fact]:
    box = colony.box
    mist_every = 4 if colony.place.damp_share > 0.6 else 6 if colony.place.damp_share > 0.3 else 9
    if _due(colony, "mist", mist_every, day, chance):
        poured = 5 * round(2 + colony.place.litres * 0.9)
        yield CareGiven(box=box, care="mist", amount=Amount(low=poured, unit="mL"))
    if _due(colony, "protein", colony.place.protein_days, day, chance):
        yield CareGiven(box=box, care="protein", amount=Amount(low=1, unit="pinch"))
    for care, every in EVERY_DAYS.items():
        if _due(colony, care, every, day, chance):
            batch = sack if care == "leaf_litter" else None
            what = chance.choice(_FOOD) if care == "vegetable" else ""
            yield CareGiven(box=box, care=care, what=what, batch=batch)  # type: ignore[arg-type]


def _seen(colony: Pretend, day: int, chance: random.Random) -> Iterator[Fact]:
    box = colony.box
    if colony.growth > 0 and day - colony.last_young > 40 and chance.random() < colony.growth * 2:
        colony.last_young = day
        yield SeenInBox(box=box, word="young_seen")
    if chance.random() < 0.015:
        yield SeenInBox(box=box, word="mould")
    if chance.random() < 0.02:
        yield SeenInBox(box=box, word="all_gone")
    if chance.random() < (0.02 if colony.growth > 0 else 0.12):
        yield SeenInBox(box=box, word="left_over", share=0.5)
    if chance.random() < 0.12:
        yield from judged(colony, chance)
    if int(box[1:]) % 6 == 1 and day % 14 < 4:
        gross_g = round(colony.place.litres * 310 + chance.gauss(0, 14))
        yield Weighed(box=box, gross_g=gross_g)


def judged(colony: Pretend, chance: random.Random) -> Iterator[Fact]:
    """A size band at a glance, now and then a count under the hides."""
    if chance.random() < 0.15:
        under_one = round(colony.animals * chance.uniform(0.25, 0.6))
        yield Counted(box=colony.box, how="one_hide", low=under_one, high=under_one)
        return
    low, high = BANDS[colony.band]
    yield Counted(box=colony.box, how="band", low=low, high=high, band=colony.band)  # type: ignore[arg-type]


def _culture_facts(colony: Pretend, day: int, chance: random.Random) -> Iterator[Fact]:
    if _due(colony, "protein", 5, day, chance):
        yeast = Amount(low=1, unit="pinch")
        yield CareGiven(box=colony.box, care="protein", what="yeast", amount=yeast)
    if chance.random() < 0.2:
        yield SeenInBox(box=colony.box, word="springtails_many")
