"""How a colony stands by all that was seen of it: the figures of the watch, and what they rest on.

The belief itself is ``science.belief``'s; here it is carried on from where it was left, so that one
more visit costs one more visit. What is kept names what it was made from, and is used only if that
is still so: a fact written late, withdrawn or of another model starts it anew.
"""

import hashlib
from datetime import date
from typing import Final

import msgspec
import numpy as np
from msgspec import Struct

from mancary.husbandry.colony_past import Past
from mancary.science.belief import (
    advance,
    believe,
    observe,
    p_growing,
    quantile,
    regime_weights,
    size,
    start,
)
from mancary.science.belief_model import BeliefModel
from mancary.science.belief_state import Belief, History, Visit
from mancary.science.belief_taking import left_by
from mancary.science.risk import WEEKS, p_below, p_fell

BELIEF_SHAPE: Final = 5
"""Raise this when the filter, the reading of sights or ``Outlook`` changes."""

FEW_LOOKS: Final = 4
"""Under so many looks the figures are mostly what is held of any colony (ours)."""
_HOLDING: Final = -0.02
"""A regime above this a week holds its ground, as a full box does; ours."""


class Outlook(Struct, frozen=True, array_like=True):
    """The figures of one colony at ``week``; ``p_fell`` None where it is younger than 12 weeks.

    It is the dearest of them: None too where it was not asked for, and then ``is_whole`` is false.

    None as well where some were taken without their number in that time: what was taken is not told
    from what fell away.

    ``low``, ``mid`` and ``high`` are animals, a 90 % range; ``p_holding`` is the chance that it
    lives and does not shrink, ``p_alive`` that it lives at all.
    """

    week: int
    p_below: float
    p_fell: float | None
    low: float
    mid: float
    high: float
    low_tenth: float
    p_growing: float
    p_holding: float
    p_alive: float
    looks: int
    is_whole: bool = True


class KeptBelief(Struct, array_like=True):
    """The belief after all visits but the last, and the figures last worked out from all."""

    prefix: str = ""
    visits: int = 0
    week: int = 0
    log_evidence: float = 0.0
    shares: bytes = b""
    whole: str = ""
    outlook: Outlook | None = None


def pack(kept: KeptBelief) -> bytes:
    """For the cache only."""
    return msgspec.msgpack.encode(kept)


def unpack(body: bytes | None) -> KeptBelief:
    """What was kept; empty where it cannot be read."""
    try:
        return msgspec.msgpack.decode(body, type=KeptBelief) if body else KeptBelief()
    except msgspec.MsgspecError:
        return KeptBelief()


def outlook(
    past: Past, model: BeliefModel, on: date, kept: KeptBelief, *, fell: bool = True
) -> Outlook:
    """The figures on a day. ``kept`` is used as far as it still holds, and brought up to date.

    Without ``fell`` no time is spent on whether it has fallen.
    """
    history = past.history(on)
    whole = _made_from(history.visits, history, model, at=history.week)
    if kept.whole != whole or kept.outlook is None:
        belief = belief_now(past, model, on, kept)
        kept.whole, kept.outlook = whole, _figures(belief, history, model)
    if fell and not kept.outlook.is_whole:
        since = history.week - WEEKS
        told = since >= 0 and not any(one.uncounted for one in history.visits if one.week > since)
        has_fallen = p_fell(history, model) if told else None
        kept.outlook = msgspec.structs.replace(kept.outlook, p_fell=has_fallen, is_whole=True)
    return kept.outlook


def belief_now(past: Past, model: BeliefModel, on: date, kept: KeptBelief) -> Belief:
    """The belief on a day, carried on from ``kept`` where that still holds."""
    history = past.history(on)
    visits = history.visits
    done = visits[: kept.visits] if kept.shares else ()
    if kept.prefix and _made_from(done, history, model) == kept.prefix:
        shares = np.frombuffer(kept.shares, dtype=np.float32).reshape(_layout(model))
        now, week = Belief(shares, kept.log_evidence), kept.week
    else:
        done, now, week = (), start(model, history.founders), 0
    rest = visits[len(done) :]
    for place, visit in enumerate(rest):
        still = history.still - week
        now = _visited(advance(now, model, visit.week - week, still=still), visit, model)
        week = visit.week
        if place == len(rest) - 2:
            _keep(kept, now, week, visits[:-1], history, model)
    return advance(now, model, history.week - week, still=history.still - week)


def _visited(belief: Belief, visit: Visit, model: BeliefModel) -> Belief:
    return left_by(observe(belief, model, visit.evidence), visit)


def _keep(
    kept: KeptBelief,
    belief: Belief,
    week: int,
    visits: tuple[Visit, ...],
    history: History,
    model: BeliefModel,
) -> None:
    kept.prefix = _made_from(visits, history, model)
    kept.visits, kept.week, kept.log_evidence = len(visits), week, belief.log_evidence
    kept.shares = np.ascontiguousarray(belief.shares, dtype=np.float32).tobytes()


def _layout(model: BeliefModel) -> tuple[int, ...]:
    return start(model).shares.shape


def _made_from(
    visits: tuple[Visit, ...], history: History, model: BeliefModel, *, at: int | None = None
) -> str:
    told = repr((BELIEF_SHAPE, model, history.founders, history.still, visits, at))
    return hashlib.sha256(told.encode()).hexdigest()


def _figures(belief: Belief, history: History, model: BeliefModel) -> Outlook:
    held = size(belief)
    alive = 1.0 - float(belief.by_size[0] / belief.by_size.sum())
    holding = np.array(model.regimes) >= _HOLDING
    looks = sum(bool(visit.evidence) for visit in history.visits)
    return Outlook(
        week=history.week,
        p_below=p_below(belief, model, still=history.still - history.week),
        p_fell=None,
        low=held.low,
        mid=held.mid,
        high=held.high,
        low_tenth=quantile(belief, 0.1),
        p_growing=p_growing(belief, model),
        p_holding=alive * float(regime_weights(belief)[holding].sum()),
        p_alive=alive,
        looks=looks,
        is_whole=False,
    )


def p_below_of(past: Past, model: BeliefModel, on: date) -> float:
    """The chance of falling below five in twelve weeks, from the start and kept nowhere."""
    history = past.history(on)
    return p_below(believe(history, model), model, still=history.still - history.week)
