"""Which wants press, so that a visit is worth the walk today."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

from mancary.husbandry.wants import Want

RUNS_OUT_DAYS: Final = 1
"""Ours: a care whose time runs out today or tomorrow is seen to on today's walk."""


def pressing(wants: Iterable[Want], on: date) -> tuple[Want, ...]:
    """The late wants, the longest late for its rhythm first; then those whose time runs out."""
    late = [want for want in wants if want.state == "late"]
    out = [want for want in wants if _runs_out(want, on)]
    late.sort(key=lambda want: -want.late_days / want.high_days)
    return (*late, *sorted(out, key=lambda want: str(want.latest)))


def waiting(wants: Iterable[Want], on: date) -> tuple[Want, ...]:
    """The wants that can be seen to or will be, by the day their time runs out."""
    found = [
        want
        for want in wants
        if want.state == "later" or (want.state == "due" and not _runs_out(want, on))
    ]
    return tuple(sorted(found, key=lambda want: str(want.latest)))


def _runs_out(want: Want, on: date) -> bool:
    last = on + timedelta(days=RUNS_OUT_DAYS)
    return want.state == "due" and want.latest is not None and want.latest <= last
