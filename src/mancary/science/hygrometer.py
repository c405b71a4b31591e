"""What to add to a hygrometer's readings, learned from air of known humidity.

The correction is a line: ``true = offset + slope * reading``, all as fractions 0..1. One salt gives
an offset only, two a line that fits exactly and so says nothing of its own error, three or more a
line by least squares with standard errors. The same salt read again is no third point. The truths
over the salts have an error of their own (0.15-0.5 points), below which no standard error goes.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mancary.science.validity import Amount, Floats, OutsideValidity, plain, within

SLOPES: Final = (0.5, 2.0)
"""A hygrometer that needs more than this is worn out or was read too soon; ours."""

LEAST_SPAN: Final = 0.05
"""Truths nearer together tell no slope; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """A line from readings to truths, and how well it is known.

    ``offset_se`` and ``slope_se`` are standard errors, None where the points do not tell them.
    ``lowest_reading`` and ``highest_reading`` bound what was checked; ``points`` says by how many.
    ``levels`` counts truths that lie apart; ``slope_assumed``: the slope is 1 because the points
    cannot tell it.
    """

    offset: float
    slope: float
    offset_se: float | None
    slope_se: float | None
    points: int
    levels: int
    slope_assumed: bool
    lowest_reading: float
    highest_reading: float
    middle_reading: float
    middle_se: float | None

    @property
    def said(self) -> str:
        """How far this correction can be trusted, in a sentence."""
        if self.slope_assumed:
            known = "not known" if self.offset_se is None else "known from repeated readings"
            return f"An offset only; the slope is assumed to be 1. How exact it is, is {known}."
        if self.slope_se is None:
            if self.points > self.levels:
                return (
                    f"A line through {self.points} points over two salts; how exact it is, two"
                    " salts cannot tell, however often read."
                )
            return "A line through two points; how exact it is, two points cannot tell."
        return f"A line through {self.points} points, with standard errors."

    def corrected(self, reading: Amount) -> Amount:
        """Humidity, 0..1, for a reading: the line, cut off at 0 and 1.

        Raises:
            OutsideValidity: for a reading outside 0..1.
        """
        given = within("reading", reading, 0.0, 1.0)
        return plain(np.clip(self.offset + self.slope * given, 0.0, 1.0))

    def standard_error(self, reading: Amount) -> Amount | None:
        """Standard error of the line at a reading; None where the points do not tell it.

        Raises:
            OutsideValidity: for a reading outside 0..1.
        """
        given = within("reading", reading, 0.0, 1.0)
        if self.middle_se is None:
            return None
        away = (self.slope_se or 0.0) * (given - self.middle_reading)
        return plain(np.hypot(self.middle_se, away))


def correction(*, true_rh: Amount, reading_rh: Amount, true_se: Amount = 0.0) -> Correction:
    """The line that turns readings into truths, from one, two or more points (points,).

    Ordinary least squares of truths on readings with n - 2 degrees of freedom (n - 1 where the
    truths lie within 0.05 and only the offset is learned); textbook, checked against scipy. A slope
    has standard errors from three truths on that lie 0.05 apart. ``true_se`` is the standard error
    of the truths, the same in every reading of one truth: what it alone does to the line is the
    least that standard errors are (ours; adding it would count it twice, for it bends the points
    away from a line too). Valid for 0..1, slopes 0.5..2 (ours).

    Raises:
        OutsideValidity: outside those ranges.
        ValueError: when there are not as many readings as truths, or none.
    """
    truths = np.atleast_1d(within("true_rh", true_rh, 0.0, 1.0)).ravel()
    readings = np.atleast_1d(within("reading_rh", reading_rh, 0.0, 1.0)).ravel()
    if len(truths) != len(readings) or not len(truths):
        raise ValueError(f"{len(truths)} truths and {len(readings)} readings: one of each a point")
    slope = None if np.ptp(truths) < LEAST_SPAN else _slope(truths, readings)
    own = np.broadcast_to(within("true_se", true_se, 0.0, 1.0), truths.shape)
    return _line(truths, readings, own, slope)


def _slope(truths: Floats, readings: Floats) -> float:
    away = readings - readings.mean()
    spread = float(away @ away)
    slope = float(away @ truths) / spread if spread > 0 else np.inf
    if not SLOPES[0] <= slope <= SLOPES[1]:
        raise OutsideValidity("slope", slope, *SLOPES)
    return slope


def _levels(truths: Floats) -> NDArray[np.intp]:
    """The number of the level of each truth: those nearer together than ``LEAST_SPAN`` are one."""
    order = np.argsort(truths)
    level = np.empty(len(truths), dtype=np.intp)
    level[order] = np.cumsum(np.diff(truths[order], prepend=truths[order[0]]) >= LEAST_SPAN)
    return level


def _line(truths: Floats, readings: Floats, own: Floats, slope: float | None) -> Correction:
    steep = 1.0 if slope is None else slope
    middle = float(readings.mean())
    offset = float(truths.mean()) - steep * middle
    misses = truths - offset - steep * readings
    level = _levels(truths)
    known = 1 if slope is None else 2
    middle_se, slope_se = _errors(misses, readings, own, level, known=known)
    away = 0.0 if slope_se is None else slope_se * middle
    return Correction(
        offset=offset,
        slope=steep,
        offset_se=None if middle_se is None else float(np.hypot(middle_se, away)),
        slope_se=slope_se,
        points=len(truths),
        levels=int(level.max()) + 1,
        slope_assumed=slope is None,
        lowest_reading=float(readings.min()),
        highest_reading=float(readings.max()),
        middle_reading=middle,
        middle_se=middle_se,
    )


def _errors(
    misses: Floats, readings: Floats, own: Floats, level: NDArray[np.intp], *, known: int
) -> tuple[float | None, float | None]:
    """Standard errors at the middle of the readings, and of the slope where it is ``known``."""
    if len(misses) < 3 or level.max() + 1 == known == 2:
        return None, None
    sd = float(np.sqrt(misses @ misses / (len(misses) - known)))
    even = np.full(len(misses), 1 / len(misses))
    middle = max(sd / float(np.sqrt(len(misses))), _own_se(even, own, level))
    if known == 1:
        return middle, None
    away = readings - readings.mean()
    spread = float(away @ away)
    return middle, max(sd / float(np.sqrt(spread)), _own_se(away / spread, own, level))


def _own_se(weights: Floats, own: Floats, level: NDArray[np.intp]) -> float:
    """What the truths' own errors do to a weighted sum of them, alike within one level."""
    return float(np.linalg.norm(np.bincount(level, weights=weights * own)))
