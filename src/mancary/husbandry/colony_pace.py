"""How fast a colony can grow where it stands: its archetype, its warmth, and the filter's top."""

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from mancary import handbook
from mancary.handbook import growth
from mancary.handbook.growth import Archetype
from mancary.husbandry.colony_past import Look, Past
from mancary.husbandry.sentences import tell
from mancary.husbandry.shelf_climate import ShelfClimate
from mancary.science.belief_model import BeliefModel, with_top
from mancary.science.stage_matrix import best_per_week
from mancary.science.stage_rates import development

BEST_STEP: Final = 0.01
"""Ours: the best growth is told in steps, so that a tenth of a degree does not turn all anew."""
_BEST: Final = (0.01, 0.25)
_LONGEST_STILL_WEEKS: Final = 40
_TEMP_C: Final = (0.0, 45.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """The growth taken for a colony at ``temp_c``; ``archetype`` None where none is known.

    ``best`` is growth of ln N a week; ``said`` what it rests on.
    """

    archetype: Archetype | None
    temp_c: float
    temp_said: str
    best: float | None
    said: str

    @property
    def slow(self) -> bool:
        """Whether it counts as a slow form."""
        return self.archetype is not None and self.archetype.slow

    @property
    def cave(self) -> bool:
        """Whether it is waited for as long as for cave forms."""
        return self.archetype is not None and self.archetype.like == "cave"


def pace_of(slug: str, care_group: str, climate: ShelfClimate, *, warmer_c: float = 0.0) -> Pace:
    """The pace of a species on a shelf; ``slug`` may be a page of the keeper's own."""
    temp = round(climate.temperature.middle + warmer_c)
    temp_c = float(min(max(temp, _TEMP_C[0]), _TEMP_C[1]))
    found = archetype_for(slug, care_group)
    if found is None:
        said = tell("no growth is known for its species or care group")
        return Pace(
            archetype=None, temp_c=temp_c, temp_said=climate.temperature_said, best=None, said=said
        )
    return Pace(
        archetype=found,
        temp_c=temp_c,
        temp_said=climate.temperature_said,
        best=_best(found.like, found.basis, slug, care_group, temp_c),
        said=tell("grown as %(title)s (by %(by)s): %(basis)s", found),
    )


def archetype_for(slug: str, care_group: str) -> Archetype | None:
    """The archetype of a page of the handbook, else of a care group."""
    if slug in handbook.species_slugs():
        return growth.archetype_of(slug)
    known = {one.slug for one in handbook.groups()}
    return growth.archetype_of(care_group=care_group) if care_group in known else None


@lru_cache(maxsize=1024)
def _best(_like: str, _basis: str, slug: str, care_group: str, temp_c: float) -> float:
    found = archetype_for(slug, care_group)
    assert found is not None
    return best_per_week(found.traits, growth.conditions(), temp_c)


def still_weeks(past: Past, pace: Pace) -> int:
    """So many weeks from the founding young of its own cannot be half-grown yet.

    The soonest brood of a female that came ready to mate, and its mancas' time, at the low ends of
    what is believed; less where young were seen, or more counted than it was founded with.
    """
    if past.founders is None or past.joined or pace.archetype is None:
        return 0
    traits = pace.archetype.traits
    speed = development(pace.temp_c, traits.t0_c.mode, traits.t_opt_c.mode, traits.t_max_c.mode)
    soonest = traits.rest_weeks.low / 2 + traits.brood_weeks.low + traits.manca_weeks.low
    weeks = growth.conditions().settling_weeks + soonest / max(float(speed), 0.1)
    told = [look.week for look in past.looks if look.young or more_than(look, past.founders[1])]
    return min(_LONGEST_STILL_WEEKS, int(weeks), *told)


def as_held(past: Past, pace: Pace) -> Past:
    """The past with the weeks in which the colony cannot have grown."""
    return replace(past, still=still_weeks(past, pace))


def more_than(look: Look, founders: int) -> bool:
    """Whether more were counted than it was founded with: young of its own have grown up."""
    return any(fact.low > founders for _, fact, _ in look.counts)


def model_of(pace: Pace, base: BeliefModel) -> BeliefModel:
    """The filter's model with growing regimes that reach what this colony can do."""
    top = top_of(pace)
    return base if top is None else with_top(base, top)


def top_of(pace: Pace) -> float | None:
    """The best growth of ln N a week in steps of ``BEST_STEP``; None where none is known."""
    if pace.best is None:
        return None
    best = min(max(round(pace.best / BEST_STEP) * BEST_STEP, _BEST[0]), _BEST[1])
    return round(best, 4)
