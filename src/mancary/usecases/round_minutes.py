"""Which evenings the keeper works, and how many minutes each offers."""

from datetime import date, timedelta

from mancary.husbandry.planning_evenings import Evening
from mancary.husbandry.register import Register

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MINUTES_FIGURES = tuple(f"{day}_minutes" for day in WEEKDAYS)

USUAL = {"wednesday": 90.0, "sunday": 90.0}
"""Ours, until the keeper says otherwise: three hours a week in two evenings."""

MOST_EVENINGS = 12
"""With more evenings in the weeks ahead, fewer weeks are planned."""


def minutes_by_weekday(register: Register) -> dict[str, float]:
    """Minutes of each working weekday: the keeper's own where he chose any, else the usual ones."""
    chosen = {
        figure.removesuffix("_minutes"): fact.high or fact.low or 0.0
        for (scope, _, figure), fact in register.figures.items()
        if scope == "all" and figure in MINUTES_FIGURES
    }
    working = {day: minutes for day, minutes in chosen.items() if minutes > 0}
    return working or dict(USUAL)


def evenings_from(
    register: Register, on: date, *, weeks: int, named: bool, minutes: float | None
) -> list[Evening]:
    """The working evenings from ``on``; ``on`` itself is one where it is ``named``."""
    offered = minutes_by_weekday(register)
    usual = sum(offered.values()) / len(offered)
    found: list[Evening] = []
    for number in range(weeks * 7):
        day = on + timedelta(days=number)
        weekday = WEEKDAYS[day.weekday()]
        if number == 0 and named:
            found.append(Evening(day=day, minutes=minutes or offered.get(weekday, usual)))
        elif weekday in offered:
            first = not found and minutes is not None
            found.append(
                Evening(day=day, minutes=minutes if first and minutes else offered[weekday])
            )
    return found[:MOST_EVENINGS]
