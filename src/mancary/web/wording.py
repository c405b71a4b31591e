"""Dates and wants as they are said on a page."""

import re
from datetime import date, tzinfo
from urllib.parse import quote

from mancary.husbandry.moments import Moment, is_exact, read_instant
from mancary.husbandry.wants import Want
from mancary.husbandry.words import said

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_DAYS_AS_DAYS = 14
_SHORT_DAYS = 2
_DAYS_AS_WEEKS = 63
_CERTAIN, _LIKELY, _POSSIBLE = 0.9, 0.5, 0.1
"""Ours: from which likelihood on a proposal is called so."""
_WEEK, _MONTH = 7, 30.44
_YEAR_TEXT, _MONTH_TEXT = 4, 7
_ISO = re.compile(r"\b\d{4}-\d{2}-\d{2}\b", re.ASCII)


def box_address(code: str) -> str:
    """The address of a box's page; a slash within the code is kept apart from the path's own."""
    return f"/boxes/{quote(code, safe='')}"


def species_address(slug: str) -> str:
    """The address of a species' page."""
    return f"/species/{quote(slug, safe='')}"


def work_address(code: str) -> str:
    """The address at which a box and its colony are worked on."""
    return f"{box_address(code)}/work"


def shelf_address(code: str) -> str:
    """The place of a shelf on the page of the shelves."""
    return f"/shelves#{shelf_mark(code)}"


def shelf_mark(code: str) -> str:
    """A mark for a shelf that is good in any page, whatever letters its code has."""
    return f"shelf-{code.encode().hex()}"


def fact_address(fact_id: str) -> str:
    """The address at which one fact is withdrawn or written anew."""
    return f"/facts/{quote(fact_id, safe='')}"


def span(days: float) -> str:
    """A number of days in words: "5 days", "3 weeks", "4 months"; rounded to the nearest."""
    if days < _DAYS_AS_DAYS:
        return _counted(round(days), "day")
    if days < _DAYS_AS_WEEKS:
        return _counted(round(days / _WEEK), "week")
    return _counted(round(days / _MONTH), "month")


def stretch(low: float, high: float) -> str:
    """How long, in whole weeks where it is so: "4 to 8 weeks", "12 weeks", "5 to 9 days"."""
    weeks = low % _WEEK == 0 and high % _WEEK == 0
    size, unit = (_WEEK, "week") if weeks else (1, "day")
    if low == high:
        return _counted(round(low / size), unit)
    return f"{low / size:g} to {high / size:g} {unit}s"


def _counted(number: int, unit: str) -> str:
    return f"{number} {unit}" if number == 1 else f"{number} {unit}s"


def rhythm(low: float, high: float) -> str:
    """How often: "every 7 days", "every 4 to 8 weeks" from days."""
    if low == high or (low >= _SHORT_DAYS and round(low) == round(high)):
        return "every day" if round(low, 1) == 1 else f"every {span(low)}"
    for size, unit in ((_MONTH, "months"), (_WEEK, "weeks")):
        parts = (low / size, high / size)
        if low >= size * 1.9 and all(abs(part - round(part)) < 0.1 for part in parts):
            return f"every {round(parts[0])} to {round(parts[1])} {unit}"
    return f"every {_whole(low)} to {_whole(high)} days"


def _whole(days: float) -> str:
    return f"{round(days, 1):g}" if days < _SHORT_DAYS else str(round(days))


def likely(likelihood: float) -> str:
    """How sure a proposal is, in words and per cent: "likely, 72 %"."""
    words = (
        "as good as certain" if likelihood >= _CERTAIN
        else "likely" if likelihood >= _LIKELY
        else "possible" if likelihood >= _POSSIBLE
        else "hardly"
    )  # fmt: skip
    return f"{words}, {100 * likelihood:.0f} %" if likelihood >= _POSSIBLE else words


_FIGURES = {
    "adult_length_mm": "adult length",
    "temperature_c": "temperature",
    "damp_share": "damp share of the floor",
    "ventilation_class": "ventilation",
    "humidity_note": "damp and air, in words",
    "protein_feeds_per_week": "protein feeds",
    "calcium_need": "calcium need",
    "growth_speed": "growth",
    "brood_size": "brood",
    "months_to_first_brood": "wait for the first young",
    "substrate_depth_cm": "depth of substrate",
    "climate_origin": "comes from",
    "authority": "described by",
}


def figure_said(name: str) -> str:
    """A figure's name as a keeper says it, its unit left to the value."""
    return _FIGURES.get(name, name.removesuffix("_days").replace("_", " "))


def capitalize_first(text: str) -> str:
    """A sentence begun with a capital, the rest as it is."""
    return text[:1].upper() + text[1:]


class Wording:
    """Says dates against the day the page is for, and moments in the keeper's zone."""

    def __init__(self, *, on: date, zone: tzinfo) -> None:
        self.on = on
        self.zone = zone

    def day(self, day: date) -> str:
        """Such as "2 December", with the year where it is another one."""
        year = "" if day.year == self.on.year else f" {day.year}"
        return f"{day.day} {MONTHS[day.month - 1]}{year}"

    def prose(self, text: str) -> str:
        """A sentence with its dates as a keeper says them: "on 2026-11-25" as "on 25 November"."""
        return _ISO.sub(lambda found: self._said(found[0]), text)

    def _said(self, typed: str) -> str:
        try:
            return self.day(date.fromisoformat(typed))
        except ValueError:  # no such day: a code or a number of the keeper's own
            return typed

    def full(self, day: date) -> str:
        """Such as "Wednesday 25 November 2026"."""
        return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"

    def moment(self, moment: Moment) -> str:
        """A moment as exactly as it is known, and no more exactly."""
        if is_exact(moment):
            at = read_instant(moment).astimezone(self.zone)
            return f"{self.day(at.date())}, {at:%H:%M}"
        if len(moment) == _YEAR_TEXT:
            return moment
        if len(moment) == _MONTH_TEXT:
            return f"{MONTHS[int(moment[5:]) - 1]} {moment[:4]}"
        return self.day(date.fromisoformat(moment))

    def short(self, moment: Moment) -> str:
        """A moment for a narrow column: "24 Nov 17:48", "24 Nov 2025", "Mar 2026"."""
        if is_exact(moment):
            at = read_instant(moment).astimezone(self.zone)
            return f"{self._short_day(at.date())} {at:%H:%M}"
        if len(moment) == _YEAR_TEXT:
            return moment
        if len(moment) == _MONTH_TEXT:
            return f"{MONTHS[int(moment[5:]) - 1][:3]} {moment[:4]}"
        return self._short_day(date.fromisoformat(moment))

    def _short_day(self, day: date) -> str:
        year = "" if day.year == self.on.year else f" {day.year}"
        return f"{day.day} {MONTHS[day.month - 1][:3]}{year}"

    def want(self, want: Want) -> str:
        """Such as "protein, 3 weeks late", or "leaf litter, by 2 December"."""
        return f"{said(want.care)}, {self.when(want)}"

    def when(self, want: Want) -> str:
        """When a care is wanted, without its name."""
        if want.state == "late":
            return f"{span(want.late_days)} late"
        if want.state == "due" and want.latest:
            return "today" if want.latest == self.on else f"by {self.day(want.latest)}"
        if want.state == "later" and want.due:
            return f"from {self.day(want.due)}"
        return "no record yet"
