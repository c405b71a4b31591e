"""Dates and wants as they are said on a page."""

import re
from datetime import date, datetime, tzinfo
from functools import lru_cache
from typing import Final
from urllib.parse import quote

from babel.dates import format_date, format_time

from mancary.husbandry.moments import Moment, is_exact, read_instant
from mancary.husbandry.sentences import Told
from mancary.husbandry.wants import Want
from mancary.husbandry.words import said
from mancary.web.measures import num
from mancary.web.reading import READING
from mancary.web.tongue import N_, _, counted, gettext, spoken

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
        return counted("%(num)s day", "%(num)s days", round(days))
    if days < _DAYS_AS_WEEKS:
        return counted("%(num)s week", "%(num)s weeks", round(days / _WEEK))
    return counted("%(num)s month", "%(num)s months", round(days / _MONTH))


def stretch(low: float, high: float) -> str:
    """How long, in whole weeks where it is so: "4 to 8 weeks", "12 weeks", "5 to 9 days"."""
    weeks = low % _WEEK == 0 and high % _WEEK == 0
    if low == high:
        number = round(low / _WEEK if weeks else low)
        if weeks:
            return counted("%(num)s week", "%(num)s weeks", number)
        return counted("%(num)s day", "%(num)s days", number)
    if weeks:
        return _("%(low)s to %(high)s weeks", low=num(low / _WEEK), high=num(high / _WEEK))
    return _("%(low)s to %(high)s days", low=num(low), high=num(high))


def rhythm(low: float, high: float) -> str:
    """How often: "every 7 days", "every 4 to 8 weeks" from days."""
    if low == high or (low >= _SHORT_DAYS and round(low) == round(high)):
        return _("every day") if round(low, 1) == 1 else _("every %(span)s", span=span(low))
    if _near_whole(low, high, _MONTH):
        lowest, highest = round(low / _MONTH), round(high / _MONTH)
        return _("every %(low)s to %(high)s months", low=lowest, high=highest)
    if _near_whole(low, high, _WEEK):
        return _(
            "every %(low)s to %(high)s weeks", low=round(low / _WEEK), high=round(high / _WEEK)
        )
    return _("every %(low)s to %(high)s days", low=_whole(low), high=_whole(high))


def _near_whole(low: float, high: float, size: float) -> bool:
    return low >= size * 1.9 and all(
        abs(part - round(part)) < 0.1 for part in (low / size, high / size)
    )


def _whole(days: float) -> str:
    return num(round(days, 1)) if days < _SHORT_DAYS else str(round(days))


def likely(likelihood: float) -> str:
    """How sure a proposal is, in words and per cent: "likely, 72 %"."""
    words = (
        _("as good as certain") if likelihood >= _CERTAIN
        else _("likely") if likelihood >= _LIKELY
        else _("possible") if likelihood >= _POSSIBLE
        else _("hardly")
    )  # fmt: skip
    return f"{words}, {100 * likelihood:.0f} %" if likelihood >= _POSSIBLE else words


_FIGURES = {
    "adult_length_mm": N_("adult length"),
    "temperature_c": N_("temperature"),
    "damp_share": N_("damp share of the floor"),
    "ventilation_class": N_("ventilation"),
    "humidity_note": N_("damp and air, in words"),
    "protein_feeds_per_week": N_("protein feeds"),
    "calcium_need": N_("calcium need"),
    "growth_speed": N_("growth"),
    "brood_size": N_("brood"),
    "months_to_first_brood": N_("wait for the first young"),
    "substrate_depth_cm": N_("depth of substrate"),
    "climate_origin": N_("comes from"),
    "authority": N_("described by"),
}


def figure_said(name: str) -> str:
    """A figure's name as a keeper says it, its unit left to the value."""
    return gettext(_FIGURES.get(name, "") or said(name.removesuffix("_days")))


def capitalize_first(text: str) -> str:
    """A sentence begun with a capital, the rest as it is."""
    text = gettext(text) if isinstance(text, Told) else text
    return text[:1].upper() + text[1:]


class Wording:
    """Says dates against the day the page is for, and moments in the keeper's zone."""

    def __init__(self, *, on: date, zone: tzinfo) -> None:
        self.on = on
        self.zone = zone

    def day(self, day: date) -> str:
        """Such as "2 December", with the year where it is another one."""
        return date_said("d MMMM" if day.year == self.on.year else "d MMMM y", day)

    def prose(self, text: str) -> str:
        """A sentence with its dates as a keeper says them: "on 2026-11-25" as "on 25 November"."""
        return _ISO.sub(lambda found: self._said(found[0]), str(spoken(text)))

    def _said(self, typed: str) -> str:
        try:
            return self.day(date.fromisoformat(typed))
        except ValueError:  # no such day: a code or a number of the keeper's own
            return typed

    def full(self, day: date) -> str:
        """Such as "Wednesday 25 November 2026"."""
        return date_said("EEEE d MMMM y", day)

    def moment(self, moment: Moment) -> str:
        """A moment as exactly as it is known, and no more exactly."""
        if is_exact(moment):
            at = read_instant(moment).astimezone(self.zone)
            return f"{self.day(at.date())}, {_clock(at)}"
        if len(moment) == _YEAR_TEXT:
            return moment
        if len(moment) == _MONTH_TEXT:
            return date_said("MMMM y", date.fromisoformat(f"{moment}-01"))
        return self.day(date.fromisoformat(moment))

    def short(self, moment: Moment) -> str:
        """A moment for a narrow column: "24 Nov 17:48", "24 Nov 2025", "Mar 2026"."""
        if is_exact(moment):
            at = read_instant(moment).astimezone(self.zone)
            return f"{self._short_day(at.date())} {_clock(at)}"
        if len(moment) == _YEAR_TEXT:
            return moment
        if len(moment) == _MONTH_TEXT:
            return date_said("MMM y", date.fromisoformat(f"{moment}-01"))
        return self._short_day(date.fromisoformat(moment))

    def _short_day(self, day: date) -> str:
        return date_said("d MMM" if day.year == self.on.year else "d MMM y", day)

    def want(self, want: Want) -> str:
        """Such as "protein, 3 weeks late", or "leaf litter, by 2 December"."""
        return f"{gettext(said(want.care))}, {self.when(want)}"

    def when(self, want: Want) -> str:
        """When a care is wanted, without its name."""
        if want.state == "late":
            return _("%(span)s late", span=span(want.late_days))
        if want.state == "due" and want.latest:
            today = want.latest == self.on
            return _("today") if today else _("by %(day)s", day=self.day(want.latest))
        if want.state == "later" and want.due:
            return _("from %(day)s", day=self.day(want.due))
        return _("no record yet")


_AMERICAN: Final = {"d MMMM y": "MMMM d, y", "d MMMM": "MMMM d", "d MMM y": "MMM d, y",
                    "d MMM": "MMM d", "EEEE d MMMM y": "EEEE, MMMM d, y"}  # fmt: skip
"""The order of the United States (Unicode CLDR, en_US, its long, medium and full dates)."""


def date_said(pattern: str, day: date) -> str:
    """A date by its pattern (Unicode CLDR), in the order and the words of the language."""
    return _date_said(pattern, day, READING.get().language)


@lru_cache(maxsize=1 << 12)
def _date_said(pattern: str, day: date, language: str) -> str:
    if language == "en_US":
        return format_date(day, _AMERICAN.get(pattern, pattern), locale="en_US")
    return format_date(day, pattern, locale=language)


def _clock(at: datetime) -> str:
    american = READING.get().language == "en_US"
    return format_time(at, "short", locale="en_US") if american else f"{at:%H:%M}"
