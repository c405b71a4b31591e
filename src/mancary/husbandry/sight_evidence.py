"""A count, however it was made, as evidence of how many animals a colony has.

All ours: a count whose way nobody told is held for one under a hide, the bluntest there is.
"""

from typing import Final

from mancary.husbandry.facts import Counted
from mancary.science.belief_evidence import (
    LEAST_SHARE,
    Estimate,
    Evidence,
    FullCount,
    Glance,
    IndexCount,
    RangeCount,
    ShareCount,
)

_MOST: Final = 5000
_PASSES: Final = 2
_GUESS_SPREAD: Final = 0.6
"""Ours: a guess of all animals is right to about a factor of two."""
_ADULTS_AT_LEAST: Final = 5
"""Ours: a colony has at most so many times as many animals as marked ones stand for."""


def counted_evidence(fact: Counted) -> Evidence:
    """The evidence of one count."""
    low = min(fact.low, _MOST)
    high = _MOST if fact.high is None else min(max(low, fact.high), _MOST)
    match fact.how:
        case "full":
            return FullCount(low) if low == high else RangeCount(low, high, full=True)
        case "removals" if len(fact.catches) >= _PASSES:
            return _removed(fact)
        case "marks" if _marks_told(fact):
            return _marked(fact)
        case "scoop" if fact.share:
            samples = fact.samples or (round((low + min(high, 4 * low + 4)) / 2),)
            share = min(1.0, max(LEAST_SHARE, fact.share * len(samples)))
            return ShareCount(min(sum(samples), _MOST), share)
        case "guess":
            mid = (low + min(high, 3 * low + 10)) / 2
            return Estimate(mid, _GUESS_SPREAD * mid + 2.0)
        case "band":
            return Glance(low, None if fact.high is None else high)
        case _:
            return IndexCount(low) if low == high else RangeCount(low, high, full=False)


def _marks_told(fact: Counted) -> bool:
    return None not in (fact.marked, fact.caught, fact.recaptured)


def _removed(fact: Counted) -> Evidence:
    from mancary.science.counting import removal  # scipy is slow to import

    told = removal(catches=fact.catches)
    taken = sum(fact.catches)
    if taken == 0:  # nothing came to hand, as when nothing sits under the hide
        return IndexCount(0)
    if told.high > _MOST or told.standard_error > told.estimate:
        return RangeCount(min(taken, _MOST), _MOST, full=True)
    sd = max(told.standard_error, (told.high - told.low) / 4, 1.0)
    return Estimate(max(told.estimate, float(taken)), sd)


def _marked(fact: Counted) -> Evidence:
    """Marks stand for adults; how many half-grown there are beside them is not told."""
    from mancary.science.counting import chapman  # scipy is slow to import

    assert fact.marked is not None
    assert fact.caught is not None
    assert fact.recaptured is not None
    told = chapman(marked=fact.marked, caught=fact.caught, recaptured=fact.recaptured)
    high = min(float(_MOST), told.high * _ADULTS_AT_LEAST)
    low = min(float(_MOST), told.low)
    return RangeCount(round(low), round(max(low, high)), full=True)
