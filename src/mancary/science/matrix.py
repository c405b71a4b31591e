"""What a stage matrix says: how fast it grows, into which stages, and what may be taken.

``matrix[i, j]`` is how many of stage i there are one step later for each one of stage j now, own
survivors and young. All sums need (stages, stages), finite, no element below zero.
"""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from mancary.science.validity import Floats, within

SAME: Final = 1e-9
"""Eigenvalues nearer together than this share of the greatest are one."""


class _Dominant(NamedTuple):
    rate: float
    stages: Floats
    values: Floats


def growth_rate(matrix: ArrayLike) -> float:
    """The factor a step, lambda, by which numbers grow in the end: the greatest eigenvalue.

    Caswell 2001, "Matrix population models", chapter 4. The matrix must hold some way round from a
    stage to itself, else all are gone after as many steps as there are stages.

    Raises:
        ValueError: for a matrix that is not square or that has no positive eigenvalue.
        OutsideValidity: for an element below zero or not finite.
    """
    return float(np.linalg.eigvals(_checked(matrix)).real.max())


def stable_stages(matrix: ArrayLike) -> Floats:
    """Shares of the stages (stages,), sum 1, once numbers grow at `growth_rate`.

    Raises:
        ValueError: as `growth_rate`, and where two parts grow equally fast, so that the shares
            depend on the start for ever.
        OutsideValidity: as `growth_rate`.
    """
    return _dominant(matrix).stages


def reproductive_values(matrix: ArrayLike) -> Floats:
    """What one of each stage (stages,) adds to later numbers, against one of the first stage.

    Where the first stage adds nothing, the first one that does has the value 1.

    Raises:
        ValueError, OutsideValidity: as `stable_stages`.
    """
    return _dominant(matrix).values


def elasticities(matrix: ArrayLike) -> Floats:
    """Share of `growth_rate` that hangs on each element (stages, stages); they sum to 1.

    Raises:
        ValueError, OutsideValidity: as `stable_stages`.
    """
    rate, stages, values = _dominant(matrix)
    given = np.asarray(matrix, dtype=float)
    shares: Floats = np.outer(values, stages) * given / (rate * float(values @ stages))
    return shares


def sustainable_share(matrix: ArrayLike) -> float:
    """Share of all stages alike that may go each step with numbers held: 1 - 1/lambda.

    0 where numbers do not grow. It takes the matrix as known and the stable stages as reached:
    with an uncertain matrix take a low percentile of its rates, never the middle.

    Raises:
        ValueError, OutsideValidity: as `growth_rate`.
    """
    return max(0.0, 1.0 - 1.0 / growth_rate(matrix))


def net_reproduction(matrix: ArrayLike, fecundity: ArrayLike) -> float:
    """Young one newborn has in its life, R0: the greatest eigenvalue of F (1 - U)^-1.

    ``fecundity`` F (stages, stages) is the part of the matrix that is young, U the rest (Caswell
    2001, chapter 5).

    Raises:
        ValueError: as `growth_rate`, and where somebody lives for ever (U does not die out).
        OutsideValidity: as `growth_rate`, for a fecundity outside 0..matrix, or for more than one
            survivor of one animal.
    """
    whole, young = _checked(matrix), np.asarray(fecundity, dtype=float)
    if young.shape != whole.shape:
        raise ValueError("fecundity must be of the matrix's shape")
    staying = whole - within("fecundity", young, 0.0, whole)
    within("survival", staying.sum(axis=0), 0.0, 1.0 + SAME)
    if np.abs(np.linalg.eigvals(staying)).max() > 1.0 - SAME:
        raise ValueError("some stage is never left, not even by death")
    lives = np.linalg.inv(np.eye(len(whole)) - staying)
    return float(np.linalg.eigvals(young @ lives).real.max())


def generation_time(matrix: ArrayLike, fecundity: ArrayLike) -> float:
    """Steps in which numbers grow by R0: ln R0 / ln lambda (Caswell 2001, chapter 5).

    Raises:
        ValueError: as `net_reproduction`, where nobody has young, and where numbers neither grow
            nor fall, for then this says nothing.
        OutsideValidity: as `net_reproduction`.
    """
    born, rate = net_reproduction(matrix, fecundity), growth_rate(matrix)
    if born <= 0.0 or abs(np.log(rate)) < SAME:
        raise ValueError("no generation time without young or where numbers stand still")
    return float(np.log(born) / np.log(rate))


def _checked(matrix: ArrayLike) -> Floats:
    given = within("matrix", np.asarray(matrix, dtype=float), 0.0, np.finfo(float).max)
    if given.ndim != 2 or given.shape[0] != given.shape[1] or given.shape[0] == 0:
        raise ValueError("matrix must be square")
    if not _comes_round(given):
        raise ValueError("matrix has no positive eigenvalue: every stage dies out")
    return given


def _comes_round(matrix: Floats) -> bool:
    """Whether some stage leads back to itself; exact, where a computed eigenvalue of 0 is not."""
    ways: Floats = (matrix > 0).astype(float)
    after: Floats = np.ones(len(matrix))
    for _ in range(len(matrix)):
        after = np.minimum(ways @ after, 1.0)
    return bool(after.any())


def _dominant(matrix: ArrayLike) -> _Dominant:
    given = _checked(matrix)
    rates, right = np.linalg.eig(given)
    rate = float(rates.real.max())
    if (np.abs(rates - rate) <= SAME * rate).sum() > 1:
        raise ValueError("two parts of the matrix grow equally fast")
    stages = np.abs(right[:, int(np.argmax(rates.real))].real)
    turned, left = np.linalg.eig(given.T)
    values = np.abs(left[:, int(np.argmax(turned.real))].real)
    values[values < SAME * values.max()] = 0.0
    first = values[int(np.argmax(values > 0))]
    return _Dominant(rate, stages / stages.sum(), values / first)
