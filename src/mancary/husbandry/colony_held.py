"""What is held of one colony on a day: its past, its pace, the filter's model, its figures."""

from dataclasses import dataclass, field
from datetime import date
from typing import Final

from mancary.husbandry.colony_belief import KeptBelief, Outlook, belief_now, outlook
from mancary.husbandry.colony_pace import Pace, model_of
from mancary.husbandry.colony_past import Past
from mancary.husbandry.colony_weights import Weights
from mancary.husbandry.watch_reasons import doubts, reasons
from mancary.science.belief_model import BeliefModel
from mancary.science.belief_state import Belief

ALARM: Final = 0.10
"""Ours: under this chance of falling below five nothing is alarming."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A colony as it is believed to be ``on`` a day; ``kept`` carries the sums to the next time."""

    past: Past
    pace: Pace
    model: BeliefModel
    outlook: Outlook
    on: date
    kept: KeptBelief = field(repr=False)

    def belief(self) -> Belief:
        """The belief itself."""
        return belief_now(self.past, self.model, self.on, self.kept)

    @property
    def alarmed(self) -> bool:
        """Whether what was seen of it at least doubled the odds, and they are not low."""
        if self.outlook.p_below < ALARM:
            return False
        return doubts(self.past, self.model, self.on, self.outlook)

    def reasons(self) -> tuple[str, ...]:
        """What moved its figure in the last twelve weeks."""
        return reasons(self.past, self.model, self.on, self.outlook)


def held(
    past: Past, pace: Pace, weights: Weights, kept: KeptBelief, *, on: date, fell: bool = True
) -> Held:
    """What is held on a day, carried on from ``kept``, which is brought up to date.

    Without ``fell`` no time is spent on whether it has fallen.
    """
    model = model_of(pace, weights.model)
    figures = outlook(past, model, on, kept, fell=fell)
    return Held(past=past, pace=pace, model=model, outlook=figures, on=on, kept=kept)
