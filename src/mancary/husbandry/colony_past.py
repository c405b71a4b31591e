"""What a colony went through: each look at it as evidence of its size, and what was taken out.

The facts of all boxes it lived in, while it lived there, become weeks of sights for the filter of
``science.belief``. Which word tells what is ours, see ``docs/science/watch.md``.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, tzinfo
from operator import itemgetter
from typing import Final

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    Counted,
    Ended,
    Fact,
    Founded,
    Joined,
    Moved,
    SeenInBox,
    Split,
    Taken,
    Withdrawn,
)
from mancary.husbandry.moments import Moment, first_day, last_day
from mancary.husbandry.order import keyed
from mancary.husbandry.sight_evidence import counted_evidence
from mancary.husbandry.states import Colony
from mancary.science.belief_evidence import Dead, Evidence, FullCount, IndexCount, LeftOver, Young
from mancary.science.belief_state import History, Visit

PAST_KINDS: Final[tuple[str, ...]] = tuple(
    fact.kind
    for fact in (Counted, Ended, Founded, Joined, Moved, SeenInBox, Split, Taken, Withdrawn)
)
"""The kinds of fact that ``pasts_of`` needs."""

WEEK: Final = 7
_YEAR_ONLY: Final = 4
_MOST: Final = 5000
"""More no colony has: the filter takes greater numbers for this one."""
_LEFT: Final = 0.25
"""Ours: the share of a ration from which on food counts as left over."""
_LIVES_ON: Final = frozenset({"given_away", "sold", "joined", "culled"})
"""Causes of an end that say nothing of how many animals there were."""


@dataclass(slots=True)
class Look:
    """What was seen of a colony in one week of its life; ``counts`` with the days they were made.

    What was seen after animals were taken is a look of its own in the same week. ``dead`` and
    ``left`` are those told: one number for each time.
    """

    week: int
    day: date
    counts: list[tuple[date, Counted, Evidence]] = field(default_factory=list)
    none_seen: int = 0
    young: bool | None = None
    dead: list[int] = field(default_factory=list)
    dead_weeks: float = 3.0
    left: list[float] = field(default_factory=list)
    taken: float = 0.0
    taken_unknown: bool = False
    gone: bool = False

    @property
    def evidence(self) -> tuple[Evidence, ...]:
        """The sights for the filter; several of one sign in a week count as one."""
        told: list[Evidence] = [one for _, _, one in self.counts]
        if self.none_seen and not self.counts:
            told.append(IndexCount(0))
        if self.young is not None:
            told.append(Young(self.young))
        if self.dead:
            told.append(Dead(min(sum(self.dead), _MOST), self.dead_weeks))
        if self.left:
            told.append(LeftOver(float(2 * sum(self.left) >= len(self.left))))
        if self.gone:
            told.append(FullCount(0))
        return tuple(told)


@dataclass(frozen=True, slots=True, kw_only=True)
class Past:
    """A colony's life as far as it was looked at, up to a day.

    ``since`` is the day its weeks count from; ``founders`` None where they were not counted or
    the day is not known to the month. ``box`` is where it lives, or last lived.
    """

    colony: str
    box: str
    line: str
    since: date
    founders: tuple[int, int] | None
    looks: tuple[Look, ...]
    ended: date | None
    joined: date | None = None
    still: int = 0

    def week_of(self, day: date) -> int:
        """Whole weeks from its beginning."""
        return max(0, (day - self.since).days // WEEK)

    def history(self, on: date) -> History:
        """For the filter, up to a day."""
        week = self.week_of(on)
        visits = tuple(
            Visit(
                week=look.week,
                evidence=look.evidence,
                taken=min(look.taken, float(_MOST)),
                uncounted=look.taken_unknown,
            )
            for look in self.looks
            if look.week <= week
        )
        return History(visits=visits, week=week, founders=self.founders, still=self.still)

    @property
    def last_seen(self) -> date | None:
        """When animals were last seen or counted, young and dead ones not among them."""
        days = [day for look in self.looks for day, fact, _ in look.counts if fact.low > 0]
        days += [look.day for look in self.looks if look.young]
        return max(days, default=None)

    @property
    def last_taken(self) -> date | None:
        """When animals were last taken out or split off."""
        return max((one.day for one in self.looks if one.taken > 0 or one.taken_unknown),
                   default=None)  # fmt: skip


def pasts_of(
    colonies: Iterable[Colony], entries: Iterable[Entry], zone: tzinfo, *, until: date
) -> dict[str, Past]:
    """The past of each colony by code; entries of ``PAST_KINDS``, later than ``until`` left out."""
    by_box: dict[str, list[tuple[str, Entry]]] = {}
    for key, _, entry in keyed(entries, zone):
        if first_day(entry.happened, zone) <= until:
            for subject in set(entry.fact.subjects()):
                if subject.startswith("box:"):
                    by_box.setdefault(subject[4:], []).append((key, entry))
    found = {}
    for colony in colonies:
        if first_day(colony.founded, zone) <= until:
            found[colony.code] = _past(colony, by_box, zone, until)
    return found


def _past(
    colony: Colony, by_box: dict[str, list[tuple[str, Entry]]], zone: tzinfo, until: date
) -> Past:
    def at_latest(moment: Moment) -> date:
        """The last day it can have been; what is known to the month or year, not after today."""
        return min(last_day(moment, zone), until)

    told = [(at_latest(entry.happened), entry) for _, entry in _while_there(colony, by_box)]
    since = first_day(colony.founded, zone)
    founders = _founders(colony)
    if len(colony.founded) == _YEAR_ONLY:  # some day of that year: its founders tell nothing now
        founders = None
        since = min([at_latest(colony.founded), *(day for day, _ in told[1:])])
    joined = [
        day
        for day, entry in told
        if isinstance(entry.fact, Joined) and entry.fact.into_colony == colony.code
    ]
    if joined:  # of how many it is now nobody told
        since, founders = max(joined), None
    return Past(
        colony=colony.code,
        box=colony.stays[-1][0] if colony.stays else colony.box,
        line=colony.line,
        since=since,
        founders=founders,
        looks=tuple(_looks(colony, told, since)),
        ended=at_latest(colony.ended) if colony.ended else None,
        joined=max(joined) if joined else None,
    )


def _founders(colony: Colony) -> tuple[int, int] | None:
    low, high = colony.founders_low, colony.founders_high
    if low is None:
        return None
    return min(low, _MOST), min(max(low, 2 * low if high is None else high), _MOST)


def _while_there(
    colony: Colony, by_box: dict[str, list[tuple[str, Entry]]]
) -> list[tuple[str, Entry]]:
    """The entries of each box it lived in, from the moment it came to the moment it left."""
    found = []
    ends = [key for _, key in colony.stays[1:]] + [colony.ended_key or "~"]
    for (box, came), left in zip(colony.stays, ends, strict=True):
        found += [one for one in by_box.get(box, []) if came <= one[0] <= left]
    return sorted(found, key=lambda one: (one[0], one[1].number))


def _looks(colony: Colony, told: Iterable[tuple[date, Entry]], since: date) -> list[Look]:
    """The looks in order. Within a day facts stand as they happened, else as they were written."""
    looks: list[Look] = []
    before = newest = since
    for day, entry in sorted(told, key=itemgetter(0)):
        if day < since:
            continue
        if day > newest:
            before, newest = newest, day
        look = _look_for(looks, (day - since).days // WEEK, day, entry.fact)
        if not _take(look, entry.fact, colony.code, day, (day - before).days / WEEK):
            continue
        look.day = max(look.day, day)
        if not looks or look is not looks[-1]:
            looks.append(look)
    return looks


def _look_for(looks: list[Look], week: int, day: date, fact: Fact) -> Look:
    """The week's look, or another of that week where something is seen after a taking."""
    last = looks[-1] if looks else None
    if last is None or last.week != week:
        return Look(week, day)
    thinned = last.taken > 0 or last.taken_unknown
    return Look(week, day) if thinned and not isinstance(fact, Taken | Split) else last


def _take(look: Look, fact: Fact, colony: str, day: date, weeks: float) -> bool:
    """Adds what a fact tells of the colony; False where it tells nothing."""
    match fact:
        case Counted():
            look.counts.append((day, fact, counted_evidence(fact)))
        case SeenInBox():
            return _see(look, fact, weeks)
        case Taken(animals=animals) if fact.colony == colony:
            _lose(look, animals)
        case Split(taken_low=low, taken_high=high) if fact.colony == colony:
            known = [one for one in (low, high) if one is not None]
            _lose(look, round(sum(known) / len(known)) if known else None)
        case Ended(cause=cause) if fact.colony == colony and cause not in _LIVES_ON:
            look.gone = True
        case _:
            return False
    return True


def _lose(look: Look, animals: int | None) -> None:
    look.taken += animals or 0
    look.taken_unknown = look.taken_unknown or animals is None


def _see(look: Look, fact: SeenInBox, weeks: float) -> bool:
    match fact.word:
        case "young_seen":
            look.young = bool(look.young) or fact.animals != 0
        case "none_seen":
            look.none_seen += 1
        case "dead":
            look.dead.append(1 if fact.animals is None else fact.animals)
            look.dead_weeks = min(look.dead_weeks, max(weeks, 1.0))
        case "left_over":
            # a quarter or more left is left over; the filter knows no halves
            look.left.append(1.0 if fact.share is None or fact.share >= _LEFT else 0.0)
        case "all_gone":
            look.left.append(0.0)
        case _:
            return False
    return True


def without(past: Past, kind: str, *, since_week: int) -> Past:
    """The past as it would read without one sort of sight from a week on.

    ``kind`` is ``counts``, ``none_seen``, ``young``, ``dead``, ``left`` or ``taken``.
    """
    empty: dict[str, dict[str, object]] = {
        "counts": {"counts": []},
        "none_seen": {"none_seen": 0},
        "young": {"young": None},
        "dead": {"dead": []},
        "left": {"left": []},
        "taken": {"taken": 0.0, "taken_unknown": False},
    }
    looks = tuple(
        replace(look, **empty[kind]) if look.week >= since_week else look  # type: ignore[arg-type]
        for look in past.looks
    )
    return replace(past, looks=looks)
