"""What is believed of a colony at one time, and what was seen and taken at one visit."""

from dataclasses import dataclass

import numpy as np

from mancary.science.belief_evidence import Evidence
from mancary.science.belief_model import Shares
from mancary.science.validity import Floats


@dataclass(frozen=True, slots=True, eq=False)
class Belief:
    """``shares`` (classes, regimes, cells) in float32, summing to 1, and the log of the evidence.

    ``log_evidence`` compares models on the same sights; by itself it means nothing.
    """

    shares: Shares
    log_evidence: float = 0.0

    @property
    def by_size(self) -> Floats:
        """The chance of each cell of `sizes` (cells,)."""
        return np.asarray(self.shares.sum(axis=(0, 1), dtype=float))

    @property
    def by_class(self) -> Floats:
        """The chance of each class (classes,)."""
        return np.asarray(self.shares.sum(axis=(1, 2), dtype=float))


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """What was seen in one week, and the animals taken out after it was seen.

    A week may have several, in their order. ``uncounted`` where some were taken without a number.
    """

    week: int
    evidence: tuple[Evidence, ...] = ()
    taken: float = 0.0
    uncounted: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """A colony from its start to ``week``, its visits in order of their weeks.

    In the first ``still`` weeks it cannot grow: young of its own would not be half-grown yet.

    Raises:
        ValueError: for visits out of order, before the start or after ``week``.
    """

    visits: tuple[Visit, ...]
    week: int
    founders: tuple[int, int] | None = None
    still: int = 0

    def __post_init__(self) -> None:
        told = [0, *(visit.week for visit in self.visits), self.week]
        if told != sorted(told):
            raise ValueError("visits must lie in order between week 0 and the last week")
