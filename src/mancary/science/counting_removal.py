"""How many there are, from takings-out that were not put back until the last was done."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import brentq
from scipy.special import gammaln, psi, xlogy

from mancary.science.counting_estimate import Z_95, Estimate, between, whole_counts

DROP: Final = Z_95**2 / 2
"""How far the log likelihood may lie below its greatest within a 95 % range."""

FEW: Final = 10
"""Fewer taken in all put no upper bound. Ours, of 0, 6, 8, 10 and 12 by exact coverage."""

BOUNDLESS: Final = 1e9
"""A range that reaches this many has no upper end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Removed(Estimate):
    """``share_taken`` is the chance of one animal at one taking; ``falls``: the catches do."""

    share_taken: float
    falls: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Takings:
    """``early`` is the sum of (takings left) x (taken): more, the earlier they came."""

    taken: int
    early: int
    passes: int

    @property
    def falls(self) -> bool:
        """Whether the likelihood has a greatest value at a finite size (Seber 2002, chapter 7)."""
        return 2 * self.early > (self.passes - 1) * self.taken

    def chance(self, size: float) -> float:
        """Chance of one animal at one taking, were there so many."""
        tries = self.passes * size - self.early
        return self.taken / tries if tries > 0 else 0.0

    def log_likelihood(self, size: float) -> float:
        """Of so many animals at their likeliest chance (Moran 1951; Zippin 1956)."""
        chance, missed = self.chance(size), self.passes * size - self.early - self.taken
        ways = float(gammaln(size + 1) - gammaln(size - self.taken + 1))
        return ways + float(xlogy(self.taken, chance) + xlogy(missed, 1 - chance))

    @property
    def boundless(self) -> float:
        """Log likelihood of ever more animals that are ever harder to find."""
        return float(xlogy(self.taken, self.taken / self.passes)) - self.taken


def removal(*, catches: Sequence[int]) -> Removed:
    """Animals there were, from two or more equal searches (searches,), none put back between.

    Weighted likelihood with weights 1 and 1 (Carle and Strub 1978), which has an answer for
    catches that rise, too; the error is Zippin's (1956). The range is that of the likelihood
    without the weights (Schnute 1983), infinite above where the catches do not bound it or fewer
    than ten were taken. All must be equally easy to find, each time.

    Raises:
        ValueError: for fewer than two searches or a count that is not whole.
        OutsideValidity: for a count outside 0..10,000.
    """
    seen = _takings(catches)
    size = _weighted(seen)
    low, high = _range(seen, likeliest=_likeliest(seen))
    low, high = min(low, size), max(high, size) if seen.taken >= FEW else float("inf")
    return _removed(seen, size, low, high)


def likeliest_removal(*, catches: Sequence[int]) -> Removed:
    """The same without the weights, a size that need not be whole (Moran 1951; Schnute 1983).

    Raises:
        ValueError: as `removal`, and for catches that do not fall: no size is likeliest then.
        OutsideValidity: as `removal`.
    """
    seen = _takings(catches)
    if not seen.falls:
        raise ValueError("the catches do not fall, so no size is the likeliest")
    size = _likeliest(seen)
    low, high = _range(seen, likeliest=size)
    return _removed(seen, size, low, high)


def _takings(catches: Sequence[int]) -> _Takings:
    taken = whole_counts("catches", catches, least=2)
    left = np.arange(taken.size - 1, -1, -1)
    return _Takings(taken=int(taken.sum()), early=int(left @ taken), passes=taken.size)


def _removed(seen: _Takings, size: float, low: float, high: float) -> Removed:
    return Removed(
        estimate=size,
        low=low,
        high=high,
        standard_error=_error(seen, size),
        share_taken=seen.chance(size),
        falls=seen.falls,
        said=_said(seen, low, high),
    )


def _error(seen: _Takings, size: float) -> float:
    """Zippin's (1956); infinite where nothing was taken."""
    missed = 1 - seen.chance(size)
    if seen.taken == 0:
        return float("inf")
    never = missed**seen.passes
    known = (1 - never) ** 2 - ((1 - missed) * seen.passes) ** 2 * missed ** (seen.passes - 1)
    return float((size * (1 - never) * never / known) ** 0.5) if known > 0 else float("inf")


def _weighted(seen: _Takings) -> float:
    """The first size whose next larger one is no likelier, weights 1 and 1."""
    order = np.arange(seen.passes)

    def gain(size: int) -> float:
        tries = seen.passes * size - seen.early + 2 + order
        missed = np.log1p(-(seen.taken + 1) / tries).sum()
        return float(missed - np.log1p(-seen.taken / (size + 1)))

    if gain(seen.taken) <= 0:
        return float(seen.taken)
    step = 1
    while gain(seen.taken + step) > 0:
        step *= 2
    below, above = seen.taken + step // 2, seen.taken + step
    while above - below > 1:
        middle = (below + above) // 2
        below, above = (middle, above) if gain(middle) > 0 else (below, middle)
    return float(above)


def _likeliest(seen: _Takings) -> float:
    """Where the likelihood stops rising; infinite where it never does."""
    if not seen.falls:
        return float("inf")

    def slope(size: float) -> float:
        ways = float(psi(size + 1) - psi(size - seen.taken + 1))
        return ways + seen.passes * float(np.log1p(-seen.chance(size)))

    least = float(seen.taken)
    if seen.early == (seen.passes - 1) * seen.taken or slope(least) <= 0:
        return least
    step = 1.0
    while slope(least + step) > 0 and step < BOUNDLESS:
        step *= 2
    return least + step if step >= BOUNDLESS else float(brentq(slope, least, least + step))


def _range(seen: _Takings, *, likeliest: float) -> tuple[float, float]:
    least = float(seen.taken)
    endless = np.isinf(likeliest)
    best = seen.boundless if endless else seen.log_likelihood(likeliest)

    def spare(size: float) -> float:
        return seen.log_likelihood(size) - best + DROP

    high = float("inf")
    if not endless and seen.boundless < best - DROP:
        high = _crossing(spare, likeliest)
    if spare(least) >= 0:
        return least, high
    return (_crossing(spare, least) if endless else float(brentq(spare, least, likeliest))), high


def _crossing(spare: Callable[[float], float], start: float) -> float:
    """Where ``spare`` changes its sign above ``start``; infinite where too far out."""
    step = 1.0
    while (spare(start + step) >= 0) == (spare(start) >= 0):
        step *= 2
        if step > BOUNDLESS:
            return float("inf")
    return float(brentq(spare, start, start + step))


def _said(seen: _Takings, low: float, high: float) -> str:
    if seen.taken == 0:
        return "Nothing was found, which tells only that few are there or that they hide well."
    told = f"{between(low, high)}."
    if not seen.falls:
        return (
            f"{told} The catches do not fall, so the middle is hardly more than a guess: "
            "take out once more, or empty the box for a full count."
        )
    if seen.taken < FEW:
        return f"{told} Too few were taken to bound the number: empty the box for a full count."
    if np.isinf(high):
        return f"{told} The catches fall too little to bound the number: take out once more."
    return f"{told} Those that no search could reach are not in it: young ones are easily missed."
