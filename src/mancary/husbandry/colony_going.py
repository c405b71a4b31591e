"""A colony with its runs, worked out once for all that is told of how it goes."""

from collections.abc import Iterable, Sequence
from math import exp

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from mancary.handbook import growth
from mancary.husbandry.colony_curve import Curve, Happened, curve_of
from mancary.husbandry.colony_growth import Runs, ahead, runs_now
from mancary.husbandry.colony_held import Held
from mancary.husbandry.colony_room import Room, floor_of, room_of
from mancary.husbandry.colony_surplus import Surplus, surplus_of
from mancary.husbandry.colony_told import (
    Coming,
    FirstYoung,
    Warmer,
    coming,
    too_slow,
    warmer,
    young_expected,
)
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Box
from mancary.husbandry.watch_rows import Size, is_starter, size_of
from mancary.science.belief import quantile, size
from mancary.science.belief_state import Belief
from mancary.science.belief_taking import take_out
from mancary.science.risk import p_below
from mancary.science.stage_paths import Paths

_MOST_TAKEN = 5000
_MONTHS_TAKEN = (0, 3, 6, 12)


class Taking(Struct, frozen=True, kw_only=True):
    """What taking so many would do: sizes with and without, and the chance of falling below 5."""

    animals: int
    within_surplus: bool
    p_below: float
    p_below_untaken: float
    without: tuple[Coming, ...]
    taken: tuple[Coming, ...]


class Going:
    """How the colony of a box goes; ``temps_c`` of its past by week, else as warm as now.

    ``kept`` is the highest °C its species is kept at and the words for the range, ``out_of_range``
    what there is to say of its shelf where that is too warm or too cold.

    Raises:
        Refusal: where no growth is known for its species.
    """

    def __init__(
        self,
        box: Box,
        held: Held,
        temps_c: Sequence[float] = (),
        kept: tuple[float, str] | None = None,
        out_of_range: str = "",
    ) -> None:
        if held.pace.archetype is None:
            raise Refusal(
                tell(
                    "Box %(code)s: %(said)s, so how it will grow cannot be told. Give its species"
                    " a care group (mancary page).",
                    box,
                    said=held.pace.said,
                )
            )
        self.box, self.held, self.archetype = box, held, held.pace.archetype
        self.kept, self.out_of_range = kept, out_of_range
        self.floor_m2, _ = floor_of(box)
        self.belief = held.belief()
        self.runs: Runs = runs_now(
            held.past, self.archetype, self.belief, week=held.past.week_of(held.on),
            temp_c=held.pace.temp_c, floor_m2=self.floor_m2, temps_c=temps_c,
        )  # fmt: skip
        self.paths = self._ahead()

    def _ahead(self, *, taken: int = 0) -> Paths:
        return ahead(
            self.runs, self.held.model, temp_c=self.held.pace.temp_c, floor_m2=self.floor_m2,
            taken=taken,
        )  # fmt: skip

    @property
    def g_m2(self) -> float:
        """The middle of the animals' grams a m² of usable floor."""
        usable = self.floor_m2 * growth.conditions().structure
        return float(np.median(self.paths.biomass_g[0])) / usable

    def coming(self) -> tuple[Coming, ...]:
        """The size believed now, and those the runs have to come."""
        return self._coming(self.paths, size_of(self.held.outlook))

    def _coming(self, paths: Paths, size_now: Size) -> tuple[Coming, ...]:
        now, *later = coming(paths, self.held.on)
        return replace(now, animals=size_now), *later

    def first_young(self) -> FirstYoung | None:
        """When the first young are expected; None where some were seen."""
        return young_expected(
            self.held.past, self.archetype, self.runs, self.paths, on=self.held.on,
            temp_c=self.held.pace.temp_c, floor_m2=self.floor_m2,
        )  # fmt: skip

    def too_slow(self) -> tuple[float | None, str]:
        """The chance that it is too slow for its temperature, and its words."""
        return too_slow(self.runs, self.held.past)

    def warmer(self) -> Warmer | None:
        """What a shelf three degrees warmer would change."""
        return warmer(
            self.runs, self.held.model, self.paths, temp_c=self.held.pace.temp_c,
            floor_m2=self.floor_m2, kept=self.kept,
        )  # fmt: skip

    def room(self, boxes: Iterable[Box]) -> Room:
        """How full its box is, and which of these boxes would do."""
        return room_of(
            self.box, self.paths, growth.conditions().structure, boxes,
            starter=is_starter(self.held.past), mid=self.held.outlook.mid,
        )  # fmt: skip

    def surplus(self) -> Surplus:
        """How many may go now."""
        return surplus_of(
            self.held.past, self.archetype, self.held.outlook, self.runs, on=self.held.on,
            temp_c=self.held.pace.temp_c, g_m2=self.g_m2, out_of_range=self.out_of_range,
        )  # fmt: skip

    def curve(self, befell: Iterable[Happened] = ()) -> Curve:
        """Its curve, past and forecast, with what ``befell`` it beside what was seen."""
        return curve_of(self.held.past, self.held.model, self.paths, self.held.on, befell)

    def taking(self, animals: int) -> Taking:
        """What taking so many animals would do.

        Raises:
            Refusal: for a number that cannot be.
        """
        if not 0 < animals <= _MOST_TAKEN:
            raise Refusal(
                tell(
                    "%(animals)s animals: expected 1 to %(most_taken)s.",
                    animals=animals,
                    most_taken=_MOST_TAKEN,
                )
            )
        if animals >= quantile(self.belief, 0.95):
            raise Refusal(
                tell(
                    "Box %(code)s has hardly %(animals)s animals: %(high).0f at most, as far as is"
                    " believed.",
                    code=self.box.code,
                    animals=animals,
                    high=self.held.outlook.high,
                )
            )
        left = take_out(self.belief, animals)
        return Taking(
            animals=animals,
            within_surplus=animals <= self.surplus().animals,
            p_below=self._below_if_left(left),
            p_below_untaken=self.held.outlook.p_below,
            without=_shown(self.coming()),
            taken=_shown(self._coming(self._ahead(taken=animals), size_of(size(left)))),
        )

    def _below_if_left(self, left: Belief) -> float:
        """A colony that has fewer than are to be taken would be emptied."""
        has_them = exp(left.log_evidence - self.belief.log_evidence)
        still = self.held.past.still - self.held.past.week_of(self.held.on)
        return has_them * p_below(left, self.held.model, still=still) + 1.0 - has_them


def _shown(months: Iterable[Coming]) -> tuple[Coming, ...]:
    return tuple(one for one in months if one.months in _MONTHS_TAKEN)
