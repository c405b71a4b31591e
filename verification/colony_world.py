"""Invented colonies to score the watch on: single animals of three ages, week by week.

Knows nothing of the product and shares no constant with its filter: mancae, juveniles and adults
die and grow up by binomial draws, young come by Poisson draws with crowding, weather drifts, bad
times come and go. Plausible to us and no more: no count of a real colony is behind any figure.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

AHEAD = 12
FIRST_WEEKS = 20, 70
"""How long colonies are left to themselves before anybody looks."""


@dataclass(frozen=True, kw_only=True)
class Setting:
    """How colonies fare and how they are looked at."""

    name: str
    bad_times: float = 0.006
    die_offs: float = 0.003
    seen: tuple[float, float] = (2.2, 9.0)
    k: float = 2.5
    false_zero: float = 0.04
    visits: tuple[int, int] = (5, 30)
    whole: float = 0.08
    seed: int = 0


SETTINGS = (
    Setting(name="base", seed=101),
    Setting(name="poor detection", seen=(2.2, 22.2), k=1.0, false_zero=0.12, seed=202),
    Setting(name="sparse", visits=(5, 8), seed=303),
    Setting(name="benign", bad_times=0.002, die_offs=0.001, seed=404),
)


@dataclass(frozen=True)
class Look:
    """One visit; what was not looked at is None. ``under_hide`` and ``whole`` are counts."""

    week: int
    under_hide: int | None = None
    whole: int | None = None
    young: bool | None = None
    dead: int | None = None
    dead_weeks: int = 0
    left: bool | None = None


@dataclass(frozen=True)
class Colony:
    """Looks in order, the last one at ``week``, and the true juveniles and adults of all weeks."""

    looks: tuple[Look, ...]
    week: int
    truth: Whole

    @property
    def falls(self) -> bool:
        """Whether fewer than five are left in one of the twelve weeks after the last look."""
        return bool((self.truth[self.week + 1 : self.week + 1 + AHEAD] < 5).any())

    @property
    def fell(self) -> bool:
        """Whether there are fewer than twelve weeks before."""
        return bool(self.truth[self.week] < self.truth[self.week - AHEAD])


@dataclass
class Herd:
    """Many colonies at once: animals by age, and what differs from colony to colony."""

    adults: Whole
    juveniles: Whole
    mancae: Whole
    room: Floats
    broods: Floats
    weather: Floats
    bad_until: Whole
    died: Whole = field(init=False)

    @property
    def animals(self) -> Whole:
        """Juveniles and adults, as keepers count."""
        return self.adults + self.juveniles


def settled(count: int, chance: np.random.Generator) -> Herd:
    """Colonies of 6 to 30 adults with room for some 150 animals (20 to 1,000)."""
    none = np.zeros(count, dtype=np.int64)
    return Herd(
        adults=chance.integers(6, 31, count),
        juveniles=none.copy(),
        mancae=none.copy(),
        room=np.clip(np.exp(chance.normal(np.log(150), 0.9, count)), 20, 1000),
        broods=0.22 * np.exp(chance.normal(0, 0.35, count)),
        weather=np.zeros(count),
        bad_until=none.copy(),
    )


def a_week(herd: Herd, setting: Setting, now: int, chance: np.random.Generator) -> None:
    """Deaths, growing up, births and luck, in place."""
    count = len(herd.adults)
    herd.weather = 0.8 * herd.weather + chance.normal(0, 0.15, count)
    begins = (chance.random(count) < setting.bad_times) & (herd.bad_until <= now)
    herd.bad_until = np.where(begins, now + chance.geometric(1 / 15, count), herd.bad_until)
    harder = np.where(herd.bad_until > now, 5.0, 1.0) * np.exp(-0.5 * herd.weather)
    struck = np.where(chance.random(count) < setting.die_offs, chance.uniform(0.3, 0.95, count), 0)

    def lost(animals: Whole, rate: float) -> Whole:
        dying = 1 - np.exp(-rate * harder) * (1 - struck)
        return chance.binomial(animals, dying)

    gone = [lost(herd.adults, 0.016), lost(herd.juveniles, 0.022), lost(herd.mancae, 0.07)]
    herd.died = gone[0] + gone[1]
    herd.adults, herd.juveniles = herd.adults - gone[0], herd.juveniles - gone[1]
    herd.mancae = herd.mancae - gone[2]
    ripe, grown = chance.binomial(herd.juveniles, 1 / 16), chance.binomial(herd.mancae, 1 / 5)
    full = (herd.animals + 0.3 * herd.mancae) / herd.room
    young = herd.broods * np.exp(herd.weather) * herd.adults / 2 / (1 + full**1.5)
    born = chance.poisson(np.where(herd.adults >= 2, young, 0.0))
    herd.adults = herd.adults + ripe
    herd.juveniles = herd.juveniles - ripe + grown
    herd.mancae = herd.mancae - grown + born


def colonies(setting: Setting, count: int, *, fresh: int = 0, weeks: int = 0) -> list[Colony]:
    """So many colonies; another ``fresh`` gives others. ``weeks`` sets one length for all.

    Without ``weeks`` each is followed over its own number of visits, two to eight weeks apart.
    """
    chance = np.random.default_rng([20261126, setting.seed, fresh])
    plans = [_plan(setting, weeks, chance) for _ in range(count)]
    before = chance.integers(*FIRST_WEEKS, count)
    last = max(plan[-1] for plan in plans) + AHEAD + FIRST_WEEKS[1]
    herd = settled(count, chance)
    told = np.zeros((4, last + 1, count), dtype=np.int64)
    for now in range(last + 1):
        a_week(herd, setting, now, chance)
        told[:, now] = herd.adults, herd.juveniles, herd.mancae, herd.died
    return [
        _followed(told[:, before[n] :, n], plans[n], setting, chance, weeks)
        for n in range(count)
    ]  # fmt: skip


def _plan(setting: Setting, weeks: int, chance: np.random.Generator) -> Whole:
    low, high = setting.visits
    many = weeks or int(chance.integers(low, high + 1))
    plan = 2 + np.cumsum(chance.integers(2, 9, many))
    return plan[plan <= weeks] if weeks else plan


def _followed(
    told: Whole, plan: Whole, setting: Setting, chance: np.random.Generator, weeks: int
) -> Colony:
    seen = float(chance.beta(*setting.seen))
    k = setting.k * float(np.exp(chance.normal(0, 0.3)))
    looks, before = [], int(plan[0]) - 4
    for week in plan:
        looks.append(_looked(told, int(week), before, seen, k, setting, chance))
        before = int(week)
    return Colony(tuple(looks), weeks or before, told[0] + told[1])


def _looked(
    told: Whole,
    week: int,
    before: int,
    seen: float,
    k: float,
    setting: Setting,
    chance: np.random.Generator,
) -> Look:
    """Each sign is looked for at every second visit; nineteen in twenty visits have a count."""
    adults, juveniles, mancae, _ = (int(part) for part in told[:, week])
    animals = adults + juveniles
    look, kind = Look(week), chance.random()
    if kind < setting.whole:
        look = replace(look, whole=int(chance.binomial(animals, chance.uniform(0.8, 0.98))))
    elif kind < 0.95:
        mean = min(seen, 0.9) * animals
        met = int(chance.poisson(chance.gamma(k, mean / k))) if animals else 0
        met = min(met, animals)
        look = replace(look, under_hide=0 if chance.random() < setting.false_zero else met)
    if chance.random() < 0.5:
        found = 0.95 * (1 - np.exp(-0.6 * seen * mancae)) + 0.005
        look = replace(look, young=bool(chance.random() < found))
    if chance.random() < 0.5:
        fresh = told[3, max(0, week - min(week - before, 2)) + 1 : week + 1].sum()
        look = replace(look, dead=int(chance.binomial(fresh, 0.2)), dead_weeks=week - before)
    if chance.random() < 0.5:
        left = np.clip(1 / (1 + (animals / 55) ** 1.3), 0.06, 0.92)
        look = replace(look, left=bool(chance.random() < left))
    return look
