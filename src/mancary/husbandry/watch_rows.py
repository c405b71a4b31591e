"""One line of the watch: its figures, in which heap it lies, and how long to wait."""

from datetime import date, timedelta
from typing import Final, Literal

import numpy as np
from msgspec import Struct

from mancary.husbandry.colony_belief import FEW_LOOKS, Outlook
from mancary.husbandry.colony_growth import first_young
from mancary.husbandry.colony_held import Held
from mancary.husbandry.colony_pace import Pace, more_than
from mancary.husbandry.colony_past import Past
from mancary.husbandry.colony_room import FLOOR_M2
from mancary.husbandry.sentences import tell
from mancary.science import belief

Band = Literal["quiet", "low", "raised", "high"]
BANDS: Final[tuple[tuple[float, Band], ...]] = (
    (0.02, "quiet"), (0.10, "low"), (0.30, "raised"), (1.01, "high"),
)  # fmt: skip
"""Ours: under 2 %, 2 to 10 %, 10 to 30 %, over 30 %."""
BAND_SAID: Final[dict[str, str]] = {
    "quiet": tell("under 2 %"),
    "low": tell("2 to 10 %"),
    "raised": tell("10 to 30 %"),
    "high": tell("over 30 %"),
}
Apart = Literal["", "starter", "waiting"]
STARTER_UNDER: Final = 10
WAIT, WAIT_CAVE = timedelta(weeks=8), timedelta(weeks=12)
"""An empty-looking box is kept damp so long before it is called ended; common practice."""


class Size(Struct, frozen=True, kw_only=True):
    """Juveniles and adults, the middle and a 90 % range."""

    low: int
    mid: int
    high: int


class WatchRow(Struct, frozen=True, kw_only=True):
    """One colony on the watch. Chances are 0..1; ``p_fell_last_12_weeks`` None for the younger.

    ``apart`` lies apart from the rest: a ``starter`` of fewer than ten without young yet, or an
    empty-looking box that is ``waiting``; ``wait`` says for how long. ``mostly_prior`` where so few
    looks tell of it that the figure is what is held of any such colony.
    """

    box: str
    p_below_5_in_12_weeks: float
    p_fell_last_12_weeks: float | None
    size: Size
    reasons: tuple[str, ...]
    look_for: tuple[str, ...]
    last_seen: date | None
    shelf: str
    species: str
    band: Band
    apart: Apart
    wait: str
    mostly_prior: bool
    looks: int


def band_of(chance: float) -> Band:
    """The band a chance lies in."""
    return next(band for top, band in BANDS if chance < top)


def size_of(told: Outlook | belief.Size) -> Size:
    """The size in whole animals."""
    return Size(low=round(told.low), mid=round(told.mid), high=round(told.high))


def mostly_prior(outlook: Outlook) -> bool:
    """Whether too few looks tell of it."""
    return outlook.looks < FEW_LOOKS


def apart_of(one: Held) -> tuple[Apart, str]:
    """The heap a colony lies in, and its wait in words; an alarming starter is no case apart."""
    past, pace, on = one.past, one.pace, one.on
    empty = empty_since(past)
    if empty is not None:
        until = empty + (WAIT_CAVE if pace.cave else WAIT)
        weeks = (WAIT_CAVE if pace.cave else WAIT).days // 7
        if on < until:
            return "waiting", (
                tell(
                    "None seen since %(empty)s: keep it damp and lightly fed until %(until)s,"
                    " %(weeks)s weeks, before it is called ended (common practice).",
                    empty=empty,
                    until=until,
                    weeks=weeks,
                )
            )
        return "waiting", (
            tell(
                "None seen since %(empty)s, longer than the %(weeks)s weeks that are waited:"
                " turn it over with care; if none is found, say so with mancary end.",
                empty=empty,
                weeks=weeks,
            )
        )
    if is_starter(past) and not one.alarmed:
        return _starter(past, pace, on)
    return "", ""


def empty_since(past: Past) -> date | None:
    """The day from which on none were seen when looked for; None where some were seen since."""
    since = None
    for look in past.looks:
        found = [fact for _, fact, _ in look.counts]
        if look.young or any(fact.high != 0 for fact in found):
            since = None
        elif look.none_seen or found:
            since = since or look.day
    return since


def is_starter(past: Past) -> bool:
    """Fewer than ten founders, no young seen, and never more counted than it began with."""
    if past.founders is None or sum(past.founders) / 2 >= STARTER_UNDER:
        return False
    return not has_young(past)


def has_young(past: Past) -> bool:
    """Whether young were seen, or more animals counted than it was founded with."""
    most = past.founders[1] if past.founders else None
    return any(look.young or (most is not None and more_than(look, most)) for look in past.looks)


def _starter(past: Past, pace: Pace, on: date) -> tuple[Apart, str]:
    if pace.archetype is None:
        return "starter", tell("When the first young are due is not known for its species.")
    low, high, none = wait_for_young(past, pace)
    first, last = (past.since + timedelta(weeks=weeks) for weeks in (low, high))
    if on > last:
        return "", ""
    said = tell(
        "First young of such founders expected between %(first)s and %(last)s (model,"
        " 90 %%, at %(temp_c)g °C)",
        pace,
        first=first,
        last=last,
    )
    return "starter", said + (
        tell("; none at all in %(none).0f %% of its runs.", none=none * 100)
        if none >= 0.05
        else "."
    )


def wait_for_young(past: Past, pace: Pace) -> tuple[float, float, float]:
    """Weeks from the founding, a 90 % range, and the share of runs without any in two years."""
    assert pace.archetype is not None
    weeks = first_young(past, pace.archetype, temp_c=pace.temp_c, floor_m2=FLOOR_M2, runs=1000)
    some = weeks[np.isfinite(weeks)]
    if not len(some):
        return 104.0, 104.0, 1.0
    low, high = np.quantile(some, (0.05, 0.95))
    return float(low), float(high), float(1 - len(some) / len(weeks))
