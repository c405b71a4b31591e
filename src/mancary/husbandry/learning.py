"""Minutes learned from the keeper's own evenings, with the handbook's where they say nothing."""

from collections.abc import Mapping, Sequence

import numpy as np
from msgspec import Struct

from mancary.handbook import Effort, Opening
from mancary.science.minutes import Z_90, learned_minutes

OPENING = "opening"
NOISE_MINUTES = 5.0
"""Ours: how far an evening's clock is from the sum of its work: talk, a spill, a phone call."""

LEAST_EVENINGS = 3
"""Ours: with fewer timed evenings the handbook's minutes stand."""


class CareMinutes(Struct, frozen=True, kw_only=True):
    """Minutes of one sort of work: an estimate, a 90 % range, and what it rests on."""

    work: str
    minutes: float
    low: float
    high: float
    basis: str


def own_minutes(
    efforts: Mapping[str, Effort],
    opening: Opening,
    evenings: Sequence[tuple[Mapping[str, int], float]],
) -> dict[str, CareMinutes]:
    """Minutes of each care and of opening a box; ``evenings`` are counts of work, and minutes."""
    names = [OPENING, *efforts]
    lows = [opening.minutes_low, *(one.minutes_low for one in efforts.values())]
    highs = [opening.minutes_high, *(one.minutes_high for one in efforts.values())]
    if len(evenings) < LEAST_EVENINGS:
        return {
            name: _told(name, (low + high) / 2, low, high, "the handbook's estimate, ours")
            for name, low, high in zip(names, lows, highs, strict=True)
        }
    low, high = np.array(lows), np.array(highs)
    counts = np.array([[told.get(name, 0) for name in names] for told, _ in evenings], dtype=float)
    took = np.array([minutes for _, minutes in evenings])
    spread = np.maximum((high - low) / (2 * Z_90), 0.01)
    found = learned_minutes(counts, took, (low + high) / 2, spread, NOISE_MINUTES)
    basis = f"learned from {len(evenings)} evenings of your own"
    figures = zip(
        names, found.estimate.tolist(), found.low.tolist(), found.high.tolist(), strict=True
    )
    return {
        name: _told(name, minutes, below, above, basis) for name, minutes, below, above in figures
    }


def _told(name: str, minutes: float, low: float, high: float, basis: str) -> CareMinutes:
    return CareMinutes(
        work=name, minutes=round(minutes, 3), low=round(low, 3), high=round(high, 3), basis=basis
    )
