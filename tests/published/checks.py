"""A published figure, how it was seen, how near ours must come and why.

``seen`` in the source named, ``second-hand`` in a copy (code, a page that quotes it),
``memory`` for unverified ones, ``computed`` for those of reference programs and solutions.
"""

import math
from typing import Literal, NamedTuple

How = Literal["seen", "second-hand", "memory", "computed"]


class Tolerance(NamedTuple):
    share: float
    reason: str


class Check(NamedTuple):
    source: str
    how: How
    at: float
    value: float
    tolerance: Tolerance

    def holds(self, ours: float) -> bool:
        return math.isclose(ours, self.value, rel_tol=self.tolerance.share)


def said(check: Check) -> str:
    return f"{check.source}-{check.at:g}"


def can_fail(check: Check, ours: float) -> None:
    """A figure off by twice the tolerance, to whichever side is farther, is told from ours."""
    share = 2 * check.tolerance.share
    assert not (check.holds(ours * (1 + share)) and check.holds(ours * (1 - share)))
    assert not check.holds(ours * (1 + 2 * share))
    assert not check.holds(ours * (1 - 2 * share))
