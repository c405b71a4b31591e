"""How long before a colony falls below five its box stands out, against what a keeper goes by now.

A collection is followed week by week on one calendar; no answer knows of a later look.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mancary.science.belief import advance, observe, start
from mancary.science.belief_model import BeliefModel
from mancary.science.risk import p_below
from verification.colony_sights import sights_of
from verification.colony_world import Colony

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

WEEKS, FROM, WINDOW = 104, 12, 26
STANDING = 65
"""The week up to which boxes that stand are searched for alarms that came to nothing."""
SEEN_TO_AFTER = 8
"""Weeks after the fall from which the next look takes a box off the list, ended or begun anew."""


@dataclass(frozen=True)
class Lead:
    """Falls, the weeks from alarm to fall (0 where none came), alarms for nothing, share flagged."""

    weeks: Floats
    in_vain: float
    flagged: float


def chances(colony: Colony, model: BeliefModel) -> Floats:
    """The chance of falling below five, in each week from what was seen up to it."""
    looks = {look.week: look for look in colony.looks}
    now, told = start(model), []
    for week in range(WEEKS + 1):
        now = advance(now, model, 1) if week else now
        if week in looks:
            now = observe(now, model, sights_of(looks[week]))
        told.append(p_below(now, model))
    return np.array(told)


def two_falls(colony: Colony) -> Flags:
    """The rule: the last three counts under the hide each below the one before; until the next."""
    told, counts, falling = np.zeros(WEEKS + 1, dtype=bool), list[int](), False
    looks = {look.week: look for look in colony.looks}
    for week in range(WEEKS + 1):
        look = looks.get(week)
        if look and look.under_hide is not None:
            counts = [*counts[-2:], look.under_hide]
            falling = len(counts) == 3 and counts[0] > counts[1] > counts[2]
        told[week] = falling
    return told


def kept(colony: Colony) -> Flags:
    """The weeks in which the box is on the list: until some look after its fall."""
    told = np.ones(WEEKS + 1, dtype=bool)
    fallen = np.flatnonzero(colony.truth[: WEEKS + 1] < 5)
    if len(fallen):
        seen = [one.week for one in colony.looks if one.week >= fallen[0] + SEEN_TO_AFTER]
        told[seen[0] if seen else WEEKS + 1 :] = False
    return told


def fall_of(colony: Colony) -> int | None:
    """The first week below five, of a colony that was above until then and long enough in view."""
    under = np.flatnonzero(colony.truth[: WEEKS + 1] < 5)
    return int(under[0]) if len(under) and under[0] >= FROM + 4 else None


def topmost(p: Floats, alive: Flags, shares: Floats) -> Flags:
    """The boxes (colonies, weeks) among the first ``shares`` of those alive in each week."""
    told = np.zeros(p.shape, dtype=bool)
    for week in range(p.shape[1]):
        here = np.flatnonzero(alive[:, week])
        many = round(shares[week] * len(here))
        told[here[np.argsort(-p[here, week], kind="stable")[:many]], week] = True
    return told


def lead(colonies: list[Colony], flags: Flags, alive: Flags) -> Lead:
    """How long before each fall a flag was first up, half a year back at most."""
    weeks, vain = [], []
    for n, colony in enumerate(colonies):
        fall = fall_of(colony)
        if fall is not None:
            up = np.flatnonzero(flags[n, max(FROM, fall - WINDOW) : fall])
            weeks.append(fall - max(FROM, fall - WINDOW) - up[0] if len(up) else 0)
        elif colony.truth[: WEEKS + 13].min() >= 5:
            vain.append(flags[n, STANDING - WINDOW : STANDING].any())
    share = (flags & alive)[:, FROM:].sum() / alive[:, FROM:].sum()
    return Lead(np.array(weeks, dtype=float), float(np.mean(vain)), float(share))


def leads(colonies: list[Colony], model: BeliefModel) -> dict[str, Lead]:
    """By way of telling: the first tenth of the watch, the rule, the watch with as many flags."""
    p = np.array([chances(one, model) for one in colonies])
    alive = np.array([kept(one) for one in colonies])
    rule = np.array([two_falls(one) for one in colonies]) & alive
    as_many = rule.sum(axis=0) / alive.sum(axis=0)
    tenth = np.full(WEEKS + 1, 0.1)
    return {
        "first tenth": lead(colonies, topmost(p, alive, tenth), alive),
        "two falls in a row": lead(colonies, rule, alive),
        "watch, as many": lead(colonies, topmost(p, alive, as_many), alive),
    }
