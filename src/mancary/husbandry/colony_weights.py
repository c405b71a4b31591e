"""What the keeper's own colonies taught the filter: its weights, and as of when."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from hashlib import sha256
from typing import Final
from zlib import crc32

import msgspec
from msgspec import Struct

from mancary.husbandry.colony_belief import BELIEF_SHAPE
from mancary.husbandry.colony_pace import Pace, top_of
from mancary.husbandry.colony_past import WEEK, Past
from mancary.science.belief_learning import FEWEST_COLONIES, FEWEST_VISITS, learned
from mancary.science.belief_model import BeliefModel
from mancary.science.belief_state import History

MOST_COLONIES: Final = 40
"""Ours, so that learning takes seconds: the comparison found 400 no better than 80, of 40 see
``docs/science/watch.md``."""
LEARN_WEEKS: Final = 60
"""Ours: what lies further back teaches nothing, and would take time."""


class Weights(Struct, frozen=True, kw_only=True):
    """The model to use, whether it was learned, of how many colonies, as of which Monday."""

    model: BeliefModel
    learned: bool
    colonies: int
    as_of: date

    @property
    def said(self) -> str:
        """What the weights rest on."""
        if self.learned:
            return (
                f"How much of a colony is seen and how colonies go was learned from {self.colonies}"
                f" of your own, up to {self.as_of}."
            )
        if self.colonies >= FEWEST_COLONIES:
            return (
                "How much of a colony is seen is held as of any keeper's until the next learning."
            )
        return (
            f"How much of a colony is seen is held as of any keeper's: {self.colonies} of your"
            f" colonies have {FEWEST_VISITS} looks or more in their last {LEARN_WEEKS} weeks,"
            f" {FEWEST_COLONIES} are needed to learn from them."
        )


def monday(on: date) -> date:
    """The Monday of a day's week: so long what was learned stands."""
    return on - timedelta(days=on.weekday())


@dataclass(frozen=True, slots=True)
class Lessons:
    """What teaches as of a Monday: how many colonies could, and the pasts of those chosen."""

    as_of: date
    telling: int
    histories: dict[str, History]

    @property
    def fingerprint(self) -> str:
        """Another one for another lesson: a fact written late or withdrawn makes a new one.

        How warm it is on the day of learning makes none, or each reading would teach anew.
        """
        seen = {code: (one.founders, one.visits) for code, one in self.histories.items()}
        told = repr((BELIEF_SHAPE, self.telling, sorted(seen.items())))
        return sha256(told.encode()).hexdigest()[:24]


def lessons(pasts: Mapping[str, Past], as_of: date) -> Lessons:
    """The colonies looked at often enough to teach, each in whole weeks over by then."""
    histories = {code: _over(past, as_of) for code, past in pasts.items()}
    lately = {code: _lately(one) for code, one in histories.items()}
    telling = [code for code, one in lately.items() if _looks(one) >= FEWEST_VISITS]
    chosen = sorted(sorted(telling), key=lambda code: crc32(code.encode()))[:MOST_COLONIES]
    return Lessons(as_of, len(telling), {code: lately[code] for code in chosen})


def _looks(history: History) -> int:
    return sum(bool(visit.evidence) for visit in history.visits)


def _over(past: Past, as_of: date) -> History:
    """A colony's past in weeks over by a day: what is done in a week is not yet all of it."""
    last = min(past.ended or as_of, as_of)
    whole = past.history(last)
    weeks = (as_of - past.since).days // WEEK
    return replace(whole, visits=tuple(one for one in whole.visits if one.week < weeks))


def _lately(history: History) -> History:
    """The last ``LEARN_WEEKS`` of a colony, as if it began then with nobody knows how many."""
    begin = history.week - LEARN_WEEKS
    if begin <= 0:
        return history
    visits = tuple(
        replace(visit, week=visit.week - begin) for visit in history.visits if visit.week >= begin
    )
    return History(visits=visits, week=LEARN_WEEKS)


def taught(given: Lessons, paces: Mapping[str, Pace]) -> Weights:
    """The weights that all colonies, ended ones too, teach up to a day. Takes some seconds."""
    codes = sorted(given.histories)
    told = learned(
        [given.histories[code] for code in codes],
        BeliefModel(),
        tops=[top_of(paces[code]) for code in codes],
    )
    return Weights(model=told.model, learned=told.enough, colonies=told.colonies, as_of=given.as_of)


def untaught(as_of: date, colonies: int) -> Weights:
    """The weights held of any keeper's colonies."""
    return Weights(model=BeliefModel(), learned=False, colonies=colonies, as_of=as_of)


_ENCODER: Final = msgspec.msgpack.Encoder()


def pack_weights(weights: Weights) -> bytes:
    """For the cache only."""
    return _ENCODER.encode((BELIEF_SHAPE, weights))


def unpack_weights(body: bytes | None) -> Weights | None:
    """What was kept; None where it cannot be read or is of another shape."""
    if not body:
        return None
    try:
        shape, weights = msgspec.msgpack.decode(body, type=tuple[int, Weights])
    except (msgspec.MsgspecError, ValueError):
        return None
    return weights if shape == BELIEF_SHAPE else None
