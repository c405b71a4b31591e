"""Whether a shelf left the temperatures a species is kept at, and between which looks.

A thermometer that remembers its lowest and highest tells that a bound was passed at some moment
between two looks, not for how long; so a spell is bounded from above by the looks around it.
"""

from collections.abc import Sequence
from datetime import date
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from mancary.husbandry.sentences import tell

LAPSES_DAYS: Final = 14
"""Ours: an instrument not read for so long while others were is not what a shelf has now."""


TOO: Final = {"hot": tell("too hot"), "cold": tell("too cold")}


class Look(Struct, frozen=True, kw_only=True):
    """One look at a shelf's thermometer: lowest and highest since the look before, in °C.

    ``instrument`` is its code, empty where it is not named.
    """

    day: date
    lowest_c: float
    highest_c: float
    instrument: str = ""


class Spell(Struct, frozen=True, kw_only=True):
    """Looks in a row that each found a bound passed: ``too`` "hot" or "cold".

    In a row by one instrument: another that finds nothing does not end it. Spells of several that
    lie over each other are one.

    It began after ``after`` (the last look that found nothing; None where there is no earlier
    one), was found on ``found`` and last on ``last``; ``worst_c`` is the furthest reading,
    ``past_c`` how far that lies beyond the bound, ``going_on`` whether the newest look shows it.
    """

    too: str
    after: date | None
    found: date
    last: date
    looks: int
    worst_c: float
    past_c: float
    going_on: bool

    @property
    def at_most_days(self) -> int | None:
        """The longest it can have lasted up to the last look; None where no look bounds it."""
        return (self.last - self.after).days if self.after else None


def spells(looks: Sequence[Look], *, low_c: float, high_c: float) -> list[Spell]:
    """The spells below ``low_c`` and above ``high_c`` (°C), oldest first; looks by their day.

    Touching a bound is within it.
    """
    found = [*_over_all(looks, "hot", high_c), *_over_all(looks, "cold", low_c)]
    return sorted(found, key=lambda spell: (spell.found, spell.too))


def worst_since(
    looks: Sequence[Look], spell: Spell, since: date, *, low_c: float, high_c: float
) -> tuple[date, float, float]:
    """The furthest look of a spell from ``since`` on: its day, its °C, and °C past the bound."""
    bound_c = high_c if spell.too == "hot" else low_c
    lately = [
        look
        for look in looks
        if max(spell.found, since) <= look.day <= spell.last and _past(look, spell.too, bound_c) > 0
    ]
    worst = max(lately, key=lambda look: _past(look, spell.too, bound_c))
    reading_c = worst.highest_c if spell.too == "hot" else worst.lowest_c
    return worst.day, reading_c, round(_past(worst, spell.too, bound_c), 2)


def lasted_said(spell: Spell) -> str:
    """How long a spell can have lasted, in words."""
    days = spell.at_most_days
    if days is None:
        return tell("no look before it, so how long is open")
    return (
        (
            tell("at most %(days)s days", days=days)
            if days != 1
            else tell("at most %(days)s day", days=days)
        )
        if days
        else tell("found within a day")
    )


def _over_all(looks: Sequence[Look], too: str, bound_c: float) -> list[Spell]:
    """The spells of every instrument, put together where they lie over each other."""
    by: dict[str, list[Look]] = {}
    for look in sorted(looks, key=lambda look: look.day):
        by.setdefault(look.instrument, []).append(look)
    newest = max((look.day for look in looks), default=date.min)
    runs = [run for told in by.values() for run in _spells(told, too, bound_c)]
    found: list[Spell] = []
    for run in sorted(runs, key=lambda run: run.found):
        now = replace(run, going_on=run.going_on and (newest - run.last).days <= LAPSES_DAYS)
        if found and run.found <= found[-1].last:
            found[-1] = _both(found[-1], now)
        else:
            found.append(now)
    return found


def _both(first: Spell, other: Spell) -> Spell:
    """Two spells that lie over each other, ``first`` found no later."""
    worse = max(first, other, key=lambda spell: spell.past_c)
    starts = [one.after for one in (first, other) if one.after]
    return replace(
        first,
        after=min(starts) if first.after else None,
        last=max(first.last, other.last),
        looks=first.looks + other.looks,
        worst_c=worse.worst_c,
        past_c=worse.past_c,
        going_on=first.going_on or other.going_on,
    )


def _spells(told: Sequence[Look], too: str, bound_c: float) -> list[Spell]:
    """The spells of one instrument's looks, in order."""
    found: list[Spell] = []
    run: list[Look] = []
    after: date | None = None
    for look in told:
        if _past(look, too, bound_c) > 0:
            run.append(look)
            continue
        if run:
            found.append(_spell(run, too, bound_c, after, going_on=False))
        run, after = [], look.day
    if run:
        found.append(_spell(run, too, bound_c, after, going_on=True))
    return found


def _past(look: Look, too: str, bound_c: float) -> float:
    return look.highest_c - bound_c if too == "hot" else bound_c - look.lowest_c


def _spell(
    run: Sequence[Look], too: str, bound_c: float, after: date | None, *, going_on: bool
) -> Spell:
    worst = max(run, key=lambda look: _past(look, too, bound_c))
    return Spell(
        too=too,
        after=after,
        found=run[0].day,
        last=run[-1].day,
        looks=len(run),
        worst_c=worst.highest_c if too == "hot" else worst.lowest_c,
        past_c=round(_past(worst, too, bound_c), 2),
        going_on=going_on,
    )
