"""A make-believe colony: enough of one to play a year through the book, and no more.

This is not the growth model; its numbers are invented and mean nothing outside the demonstration.
"""

import math
import random
from dataclasses import dataclass

from mancary.demo.room import Place
from mancary.husbandry.words import BANDS


@dataclass(slots=True)
class Pretend:
    """One colony as the demonstration pretends it to be."""

    place: Place
    animals: float
    box: str
    growth: float
    last_given: dict[str, int]
    living: bool = True
    last_young: int = -99

    def week(self, chance: random.Random) -> None:
        """A week goes by."""
        room = 1 - self.animals / self.place.most
        drift = self.growth * (room if self.growth > 0 else 1) + chance.gauss(0, 0.015)
        self.animals = max(0.0, self.animals * math.exp(drift))

    @property
    def band(self) -> str:
        whole = round(self.animals)
        for band, (low, high) in BANDS.items():
            if low <= whole and (high is None or whole <= high):
                return band
        return "none"


def begin(place: Place, chance: random.Random) -> Pretend:
    """A colony as old as its place says."""
    animals = place.founders * math.exp(place.growth * min(place.weeks, 60))
    return Pretend(
        place=place,
        animals=min(animals, place.most * 0.9),
        box=place.box,
        growth=place.growth,
        last_given={
            "protein": -chance.randint(0, 6),
            "vegetable": -chance.randint(0, 6),
            "algae": -chance.randint(0, 13),
            "calcium": -chance.randint(0, 29),
            "minerals": -chance.randint(0, 59),
            "leaf_litter": -chance.randint(0, 30),
            "wood": -chance.randint(0, 80),
            "substrate_half": -chance.randint(0, 230),
            "springtail_check": -chance.randint(0, 29),
            "label_check": -chance.randint(0, 89),
            "mist": -chance.randint(0, 6),
        },
    )
