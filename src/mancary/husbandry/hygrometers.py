"""What a salt test teaches of a hygrometer: the line its readings are corrected by, and its trust.

The truths and the line are those of ``science.salts`` and ``science.hygrometer``; that a test is
refused where it misses by more than ``MOST_OFF`` is ours.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from mancary.husbandry.facts.instruments import Salt, SaltReading
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.science.hygrometer import Correction, correction
from mancary.science.salts import salt_rh, salt_uncertainty
from mancary.science.validity import OutsideValidity

MOST_OFF: Final = 0.25
"""Ours: further from the truth than this, a hygrometer was read too soon, or a figure mistyped."""

READ_AGAIN: Final = tell(
    "Check that solid salt is still there and all is shut, wait 12 hours more at"
    " steady warmth, and read again; if it stays so, the hygrometer is worn out."
)

MOST_APART: Final = 0.03
"""Ours: two readings over one salt differ by less, for a hygrometer that settled."""

_NOTHING_POINTS: Final = 0.5
_ENOUGH: Final = 6
"""Ours: a standard error of fewer points than this is itself hardly known."""


@dataclass(frozen=True, slots=True)
class SaltPoint:
    """One salt of a test: shown and true humidity 0..1, how well the truth is known, °C."""

    salt: Salt
    shown_rh: float
    true_rh: float
    true_error: float
    temp_c: float


@dataclass(frozen=True, slots=True)
class SaltLine:
    """The correction of one test, and the points it was learned from."""

    points: tuple[SaltPoint, ...]
    line: Correction

    def corrected(self, rh: float) -> float:
        """True humidity, 0..1, for one shown; never below 0 or above 1.

        Beyond the span that was checked it is as far off as at the nearer end of it (ours): a
        steep line carried on far would make anything of a reading.

        Raises:
            Refusal: for a reading outside 0..1.
        """
        given = _share(rh)
        near = min(max(given, self.line.lowest_reading), self.line.highest_reading)
        return min(1.0, max(0.0, float(self.line.corrected(near)) + given - near))

    def ends(self, rh: float) -> tuple[float, float]:
        """What a shown humidity may be, 0..1: beyond the span also as the line carried on has it.

        Raises:
            Refusal: for a reading outside 0..1.
        """
        both = self.corrected(rh), float(self.line.corrected(_share(rh)))
        return min(both), max(both)

    def standard_error(self, rh: float) -> float | None:
        """Standard error of the line there, 0..1; None where the points do not tell it.

        Raises:
            Refusal: for a reading outside 0..1.
        """
        error = self.line.standard_error(_share(rh))
        return None if error is None else float(error)

    def is_outside(self, rh: float) -> bool:
        """Whether a shown humidity lies outside the span that was checked."""
        return not self.line.lowest_reading <= rh <= self.line.highest_reading

    @property
    def error_said(self) -> str:
        """How exact the line is, in a sentence."""
        if self.line.middle_se is None:
            return self.line.said
        error = tell(
            "standard error %(middle_se).1f points in the middle of the test",
            middle_se=self.line.middle_se * 100,
        )
        few = tell("; of so few points a rough figure") if len(self.points) < _ENOUGH else ""
        return tell("%(said)s S%(error)s%(few)s.", said=self.line.said, error=error[1:], few=few)

    def off_said(self, rh: float) -> str:
        """How far off the hygrometer is where it shows ``rh``, 0..1, in words."""
        off = (rh - self.corrected(rh)) * 100
        if abs(off) < _NOTHING_POINTS:
            return tell("at %(rh).0f %% it shows the truth to half a point", rh=rh * 100)
        points = (
            tell("%(off).0f point", off=abs(off))
            if round(abs(off)) == 1
            else tell("%(off).0f points", off=abs(off))
        )
        return (
            tell("at %(rh).0f %% it shows %(points)s too much", rh=rh * 100, points=points)
            if off > 0
            else tell("at %(rh).0f %% it shows %(points)s too little", rh=rh * 100, points=points)
        )


def salt_point(reading: SaltReading) -> SaltPoint:
    """A reading beside the true humidity over that salt at that temperature.

    Raises:
        Refusal: for a temperature the salts' humidities are not known at.
    """
    try:
        truth = float(salt_rh(salt=reading.salt, temp_c=reading.temp_c))
    except OutsideValidity as outside:
        raise Refusal(
            tell(
                "%(salt)s at %(temp_c)g °C: what is true over a salt is known from %(low)g to"
                " %(high)g °C. Do the test at room temperature.",
                reading,
                low=outside.low,
                high=outside.high,
            )
        ) from None
    error = salt_uncertainty(salt=reading.salt)
    return SaltPoint(reading.salt, reading.reading_rh, truth, error, reading.temp_c)


@lru_cache(maxsize=256)
def salt_line(readings: tuple[SaltReading, ...]) -> SaltLine:
    """The correction that a test's readings teach: an offset from one salt, a line from more.

    Raises:
        Refusal: where there is none to learn, saying what to do.
    """
    if not readings:
        raise Refusal(tell("Read the hygrometer over at least one salt."))
    points = tuple(salt_point(one) for one in readings)
    _all_near(points)
    _all_settled(points)
    try:
        line = correction(
            true_rh=np.array([point.true_rh for point in points]),
            reading_rh=np.array([point.shown_rh for point in points]),
            true_se=np.array([point.true_error for point in points]),
        )
    except OutsideValidity as outside:
        raise Refusal(_no_line(outside)) from None
    return SaltLine(points, line)


def _all_near(points: Sequence[SaltPoint]) -> None:
    for point in points:
        off = point.shown_rh - point.true_rh
        if abs(off) > MOST_OFF:
            raise Refusal(
                tell(
                    "%(salt)s shows %(shown_rh).1f %% where %(true_rh).1f %% is true, %(off).0f"
                    " points off: read too soon, or mistyped. %(read_again)s",
                    point,
                    shown_rh=point.shown_rh * 100,
                    true_rh=point.true_rh * 100,
                    off=abs(off) * 100,
                    read_again=READ_AGAIN,
                )
            )


def _all_settled(points: Sequence[SaltPoint]) -> None:
    """Two readings over one salt agree, beside what is true at the temperature of each."""
    for salt in dict.fromkeys(point.salt for point in points):
        offs = [one.shown_rh - one.true_rh for one in points if one.salt == salt]
        apart = max(offs) - min(offs)
        if apart > MOST_APART:
            shown = in_a_row(
                tell(" and "), (f"{one.shown_rh * 100:.1f}" for one in points if one.salt == salt)
            )
            raise Refusal(
                tell(
                    "%(salt)s shows %(shown)s %%: %(apart).0f points apart over one salt, so the"
                    " test failed: not settled, or not equally warm. %(read_again)s More than"
                    " %(most_apart).0f points is not taken (ours).",
                    salt=salt,
                    shown=shown,
                    apart=apart * 100,
                    read_again=READ_AGAIN,
                    most_apart=MOST_APART * 100,
                )
            )


def _no_line(outside: OutsideValidity) -> str:
    if outside.quantity != "slope":
        return tell(
            "A reading of %(value).0f %%: a humidity lies between 0 and 100 %%.",
            value=outside.value * 100,
        )
    return tell(
        "The salts do not make a line: what it shows over them lies far too near"
        " together, too far apart or the wrong way round. %(read_again)s",
        read_again=READ_AGAIN,
    )


def _share(rh: float) -> float:
    if not 0 <= rh <= 1:
        raise Refusal(
            tell("A reading of %(rh)g %%: a humidity lies between 0 and 100 %%.", rh=rh * 100)
        )
    return rh
