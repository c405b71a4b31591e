"""Draws for the stage model: deaths and moves, broods, and rates within what is believed."""

from dataclasses import fields
from functools import cache
from statistics import NormalDist
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mancary.science.stage_rates import Rates, Span, Traits
from mancary.science.validity import Floats

Singles: TypeAlias = NDArray[np.float32]
"""Whole numbers of animals too: single precision holds them exactly up to 16 million."""

Bits: TypeAlias = NDArray[np.uint32]

NORMAL_FROM: Final = 4.0
"""1: from this mean of the rarer outcome on, a shaped normal stands for a binomial; ours."""

FEW_LEFT: Final = 0.1
"""1: once this share of the cells still counts, the others are left out of the sums; speed only."""

_ONE: Final = np.float32(1.0)
_BITS: Final = 14


def binomial(
    count: Singles, share: ArrayLike, chance: np.random.Generator, rows: NDArray[np.intp]
) -> Singles:
    """How many of each count (stages, runs) come through.

    ``share`` (classes, runs) is the chance of each, ``rows`` (stages,) the class of each stage.
    Below a mean of `NORMAL_FROM` of the rarer outcome the distribution is inverted in single
    precision; above it is a rounded normal with the skewness and the fourth moment of the binomial
    (Cornish and Fisher 1938). Nowhere is it off by more than 0.002 (tested against exact sums).
    """
    given = np.asarray(share, dtype=np.float32)
    mostly = given > 0.5
    rare: Singles = np.where(mostly, _ONE - given, given)
    never: Singles = np.log1p(-rare)[rows]
    odds: Singles = (rare / (_ONE - rare))[rows]
    number, wide = count.ravel(), rare[rows].ravel()
    bits = _bits(count.size, chance)
    mean = number * wide
    few = mean < NORMAL_FROM
    drawn = _inverted(number, never.ravel(), odds.ravel(), few, bits)
    many = np.flatnonzero(~few)
    if many.size:
        drawn[many] = _shaped(number[many], wide[many], bits[many])
    made = np.minimum(drawn, number).reshape(count.shape)
    if mostly.any():
        made = np.where(mostly[rows], count - made, made)
    return made


def _bits(size: int, chance: np.random.Generator) -> Bits:
    raw = np.asarray(chance.bit_generator.random_raw(-(-size // 2)), dtype=np.uint64)
    return raw.view(np.uint32)[:size]


def _inverted(
    number: Singles, never: Singles, odds: Singles, few: NDArray[np.bool_], bits: Bits
) -> Singles:
    """The number of terms of the distribution that lie below a uniform draw, all cells at once.

    Cells that are not ``few`` come back as 0.
    """
    term: Singles = np.exp(number * never)
    # 24 bits, the middle of each step; then what is left of the draw after the terms passed
    left = (bits >> np.uint32(8)).astype(np.float32)
    left += np.float32(0.5)
    left *= np.float32(2.0**-24)
    left -= term
    np.copyto(left, np.float32(-1.0), where=~few)
    rest = number * odds
    above = np.zeros(number.size, dtype=np.uint8)
    passed = 1
    while True:
        going = left >= 0.0
        above += going
        if np.count_nonzero(going) <= FEW_LEFT * number.size:
            break
        term *= rest
        term *= np.float32(1.0 / passed)
        left -= term
        rest -= odds
        passed += 1
    drawn = above.astype(np.float32)
    cells = np.flatnonzero(going)
    if cells.size:
        drawn[cells] += _passed(term[cells], left[cells], rest[cells], odds[cells], passed)
    return drawn


def _passed(term: Singles, left: Singles, rest: Singles, odds: Singles, passed: int) -> Singles:
    """How many more terms lie below the draw in the few cells that are not through."""
    drawn = np.zeros_like(term)
    cells = np.arange(term.size)
    while cells.size:
        term = term * rest * np.float32(1.0 / passed)
        left = left - term
        rest = rest - odds
        passed += 1
        # past the last animal the terms are nothing but what rounding left
        going = np.flatnonzero((left >= 0.0) & (term > 1e-9))
        cells, term, left = cells[going], term[going], left[going]
        rest, odds = rest[going], odds[going]
        drawn[cells] += _ONE
    return drawn


@cache
def _normals() -> Singles:
    """The middle of each of 2^14 equally likely parts of a normal, stretched to variance 1."""
    parts = 2**_BITS
    half = [NormalDist().inv_cdf((part + 0.5) / parts) for part in range(parts // 2)]
    whole = np.array([*half, *(-value for value in reversed(half))])
    table: Singles = (whole / whole.std()).astype(np.float32)
    return table


def _normal(bits: Bits) -> Singles:
    drawn: Singles = _normals()[bits >> np.uint32(32 - _BITS)]
    return drawn


def _shaped(number: Singles, rare: Singles, bits: Bits) -> Singles:
    """A rounded normal shaped to a binomial; to a Poisson one where ``rare`` is 0 and number is 1.

    Rounding adds a twelfth to the variance, which is taken off first.
    """
    often: Singles = _ONE - rare
    return _rounded(number * rare, often, often - rare, rare * often, bits)


def _rounded(
    mean: Singles, often: Singles, skewed: Singles, product: Singles, bits: Bits
) -> Singles:
    normal = _normal(bits)
    square = normal * normal
    spread = np.sqrt(mean * often - np.float32(1.0 / 12.0))
    fourth = (_ONE - np.float32(6.0) * product) / np.float32(24.0)
    bent = fourth * (square - np.float32(3.0))
    bent -= skewed * skewed / np.float32(36.0) * (np.float32(2.0) * square - np.float32(5.0))
    value = mean + spread * normal + skewed / np.float32(6.0) * (square - _ONE)
    value += normal / spread * bent
    drawn: Singles = np.maximum(np.rint(value), np.float32(0.0))
    return drawn


def broods(
    released: Singles, young: Singles, spread: float, chance: np.random.Generator
) -> Singles:
    """Young in all of the released broods together; same shapes.

    Each brood is negative binomial with variance mean + mean²/spread, so that their sum is one
    with spread times as many: a Poisson draw about a gamma draw. The gamma draw is the cube of a
    normal (Wilson and Hilferty 1931), off by less than 0.002 for a spread of 3 or more (tested).
    """
    total = np.zeros_like(released)
    some = np.flatnonzero((released > 0.0) & (young > 0.0))
    if some.size:
        number = released.ravel()[some]
        shape = number * np.float32(spread)
        ninth = _ONE / (np.float32(9.0) * shape)
        root = _ONE - ninth + np.sqrt(ninth) * _normal(_bits(some.size, chance))
        mean = number * young.ravel()[some] * np.maximum(root, np.float32(0.0)) ** 3
        total.ravel()[some] = _poisson(mean, chance)
    return total


def _poisson(mean: Singles, chance: np.random.Generator) -> Singles:
    drawn = np.empty_like(mean)
    few = mean < NORMAL_FROM
    drawn[few] = chance.poisson(mean[few])
    many = mean[~few]
    one = np.ones_like(many)
    drawn[~few] = _rounded(many, one, one, np.zeros_like(many), _bits(many.size, chance))
    return drawn


def draw_rates(traits: Traits, runs: int, chance: np.random.Generator) -> Rates:
    """One set of rates for each run (runs,): log-triangular between the ends of every span."""
    drawn = {
        one.name: _triangular(getattr(traits, one.name), runs, chance) for one in fields(Traits)
    }
    return Rates(**drawn)


def _triangular(span: Span, runs: int, chance: np.random.Generator) -> Floats:
    low, mode, high = np.log([span.low, span.mode, span.high])
    if low == high:
        return np.full(runs, span.mode)
    return np.exp(chance.triangular(low, mode, high, runs))
