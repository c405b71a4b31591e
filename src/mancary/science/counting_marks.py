"""How many there are, from marked animals that were seen again."""

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np
from scipy.special import gammaln, stdtrit

from mancary.science.counting_estimate import MOST, Estimate, between, one_count, whole_counts
from mancary.science.counting_samples import poisson_interval

ENOUGH_BACK: Final = 7
"""Recaptures from which Chapman's middle is nearly unbiased (Robson and Regier 1964; memory)."""

MOULT: Final = (
    "Marks on adults are lost at the moult, about once a month: look again within days. "
    "Lost marks make the number too high."
)
"""33 days between moults in Porcellio scaber (Zidar and others 1998, abstract seen)."""


def chapman(*, marked: int, caught: int, recaptured: int) -> Estimate:
    """Animals there are, when ``recaptured`` of the later ``caught`` bore one of the marks.

    (M + 1)(n + 1)/(m + 1) - 1 with Seber's variance (Chapman 1951; Seber 2002, chapter 3). The
    range is exact: each size for which neither tail of the hypergeometric is below 2.5 %. Nobody
    may be born, die, come or go between, and the marked must mix with the others.

    Raises:
        ValueError: for a count that is not whole.
        OutsideValidity: for none marked or caught, more recaptured than either, over 10,000.
    """
    marks = one_count("marked", marked, least=1)
    n = one_count("caught", caught, least=1)
    back = one_count("recaptured", recaptured, most=float(min(marks, n)))
    estimate = (marks + 1) * (n + 1) / (back + 1) - 1
    spread = (marks + 1) * (n + 1) * (marks - back) * (n - back)
    low, high = _exact(marks, n, back)
    return Estimate(
        estimate=estimate,
        low=low,
        high=high,
        standard_error=(spread / ((back + 1) ** 2 * (back + 2))) ** 0.5,
        said=_marks_said(back, low, high),
    )


def _exact(marks: int, caught: int, back: int) -> tuple[float, float]:
    """Smallest and largest size with 2.5 % or more of the hypergeometric on each side."""
    least = marks + caught - back
    low = _first(least, lambda size: _tail(size, marks, caught, 0, back) > 0.025)
    if back == 0:
        return float(low), float("inf")
    most = min(marks, caught)
    past = _first(least, lambda size: _tail(size, marks, caught, back, most) <= 0.025)
    return float(low), float(max(past - 1, least))


def _first(least: int, holds: Callable[[int], bool]) -> int:
    """The first whole number from ``least`` on for which ``holds``, which then holds for ever."""
    if holds(least):
        return least
    step = 1
    while not holds(least + step):
        step *= 2
    below, above = least + step // 2, least + step
    while above - below > 1:
        middle = (below + above) // 2
        below, above = (below, middle) if holds(middle) else (middle, above)
    return above


def _tail(size: int, marks: int, caught: int, first: int, last: int) -> float:
    """Chance of ``first`` to ``last`` marked ones among the caught, of ``size`` animals."""
    k = np.arange(max(first, marks + caught - size), last + 1, dtype=float)
    ways = _choose(float(marks), k) + _choose(float(size - marks), caught - k)
    return float(np.exp(ways - _choose(float(size), float(caught))).sum())


def _choose(of: float, some: float | np.ndarray) -> np.ndarray:
    return np.asarray(gammaln(of + 1.0) - gammaln(some + 1.0) - gammaln(of - some + 1.0))


def _marks_said(back: int, low: float, high: float) -> str:
    told = f"{between(low, high)}."
    if back == 0:
        told = f"None of the marked came back. {told} The middle is not to be used."
    elif back < ENOUGH_BACK:
        told += " Few marked ones came back: go by the range, not by the middle."
    return f"{told} {MOULT}"


def schnabel(
    *, caught: Sequence[int], recaptured: Sequence[int], released: Sequence[int]
) -> Estimate:
    """Animals there are, from several looks (looks,), each time marking those without a mark.

    ``released`` are all that went back bearing a mark, old or new. Sum(CM)/(sum(R) + 1), the
    range from Garwood's for the recaptures as a Poisson count (Schnabel 1938; Krebs 1989,
    chapter 2); the error is estimate/sqrt(sum(R) + 1), its first-order form.

    Raises:
        ValueError: for lists that differ in length, fewer than two looks, or nothing marked.
        OutsideValidity: for more recaptured than caught or than were marked.
    """
    looks, back, marks = _looks(caught, recaptured, released)
    product, again = float(looks @ marks), int(back.sum())
    few, many = poisson_interval(count=again)
    estimate = product / (again + 1)
    seen = float((looks - back).sum())
    low, high = max(product / many, seen), product / few if few > 0 else float("inf")
    return Estimate(
        estimate=max(estimate, seen),
        low=min(low, max(estimate, seen)),
        high=max(high, seen),
        standard_error=estimate / (again + 1) ** 0.5,
        said=_marks_said(again, low, max(high, seen)),
    )


def schumacher(
    *, caught: Sequence[int], recaptured: Sequence[int], released: Sequence[int]
) -> Estimate:
    """The same from the line of the marked share on the marks at large, with Student's range.

    Sum(CM^2)/sum(RM); 1/N has the residual variance of the line over sum(CM^2) and looks - 2
    degrees of freedom (Schumacher and Eschmeyer 1943; Krebs 1989, whose freedom is taken: others
    use looks - 1). Each look may find a share of its own.

    Raises:
        ValueError: as `schnabel`, and for fewer than three looks or no recapture at all.
        OutsideValidity: as `schnabel`.
    """
    looks, back, marks = _looks(caught, recaptured, released)
    if back.sum() == 0 or looks.size < 3 or (looks == 0).any():
        raise ValueError("three looks that each found some, and one recapture, are needed")
    square, cross = float(looks @ marks**2), float(back @ marks)
    left = float((back**2 / looks).sum()) - cross**2 / square
    error = (max(left, 0.0) / (looks.size - 2) / square) ** 0.5
    reach = float(stdtrit(looks.size - 2, 0.975)) * error
    share = cross / square
    low = 1 / (share + reach)
    high = 1 / (share - reach) if share > reach else float("inf")
    return Estimate(
        estimate=1 / share,
        low=low,
        high=high,
        standard_error=error / share**2,
        said=_marks_said(int(back.sum()), low, high),
    )


def _looks(
    caught: Sequence[int], recaptured: Sequence[int], released: Sequence[int]
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Caught and recaptured at each look, and the marks at large before it."""
    looks, back, out = (
        whole_counts(name, numbers, least=2)
        for name, numbers in (
            ("caught", caught), ("recaptured", recaptured), ("released", released),
        )
    )  # fmt: skip
    if not looks.size == back.size == out.size:
        raise ValueError("caught, recaptured and released must be of one length")
    marks = np.append(0, np.cumsum(out - back)[:-1])
    for look in range(looks.size):
        one_count("recaptured", int(back[look]), most=float(min(looks[look], marks[look], MOST)))
    if float(looks @ marks) == 0:
        raise ValueError("nothing was marked before the last look")
    return looks.astype(float), back.astype(float), marks.astype(float)
