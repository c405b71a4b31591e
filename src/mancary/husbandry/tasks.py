"""What a box wants in the weeks ahead, each task in its window, with what its lateness costs."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta, tzinfo
from zlib import crc32

from msgspec import Struct
from msgspec.structs import replace

from mancary.handbook import Effort, harm_of
from mancary.husbandry.moments import last_day
from mancary.husbandry.sentences import tell
from mancary.husbandry.standing import Standing
from mancary.husbandry.wants import WEEK_DAYS, Want
from mancary.husbandry.water_due import MistDue

YOUNG_DAYS = 49
"""Young are at risk for 4-7 weeks after they are seen (published stage lengths, see the guide)."""

NEW_DAYS = 7
"""A newly arrived colony is left alone for its first week (common practice)."""

CHANGES = frozenset({"substrate_half", "substrate_whole"})
"""Cares that turn the floor over: they disturb young, and take long enough to be spread apart."""

_LABEL_WITHIN_DAYS = 21
"""So long after a colony moved in its box, lid and spare lid are looked at (ours)."""

TOO_WET_DAYS = 3
"""Ours: so long after a visit a box too wet is looked at again."""

_SECOND_LOOK = {"mould": 5, "mites": 3, "dead": 4}
"""Days after which a box is looked at again (ours)."""


class Task(Struct, frozen=True, kw_only=True):
    """One care of one box, once: not before ``due``, better not after ``latest``.

    ``every_days`` is the middle of its rhythm, zero for what comes only once. ``amount_ml`` is what
    the box's scale says to pour on this visit, and ``said`` its words; None where none is known.
    """

    box: str
    care: str
    due: date
    latest: date
    minutes: float
    harm: float
    why: str
    risk: str
    every_days: float = 0.0
    amount_ml: float | None = None
    said: str = ""


def tasks_of(
    standing: Standing,
    wants: tuple[Want, ...],
    efforts: Mapping[str, Effort],
    *,
    species: str,
    start: date,
    end: date,
    zone: tzinfo,
    known_since: date | None = None,
    by_scale: MistDue | None = None,
) -> list[Task]:
    """The tasks of one box whose window opens up to ``end``, in the order of their due days.

    ``known_since`` is the day from which the book is kept: a care without a record has its first
    day within one rhythm of it. Left out, first days are counted from ``start``. ``by_scale`` is
    the misting that the box's weighings call for; it stands in the place of the rhythm's.
    """
    since = known_since or start
    rhythmic = [
        task
        for want in wants
        if want.care in efforts and not (by_scale and want.care == "mist")
        for task in _rhythmic(standing, want, efforts[want.care], species, since, start, end, zone)
    ]
    if by_scale and "mist" in efforts:
        rhythmic += _by_scale(standing, by_scale, efforts["mist"], species, start, end, zone)
    triggered = list(_triggered(standing, efforts, species, start, zone))
    if by_scale and by_scale.too_wet and "mist" in efforts:
        triggered.append(_too_wet(standing, by_scale, efforts, species, start, zone))
    return sorted([*rhythmic, *triggered], key=lambda task: (task.due, task.latest, task.care))


def _rhythmic(
    standing: Standing,
    want: Want,
    effort: Effort,
    species: str,
    since: date,
    start: date,
    end: date,
    zone: tzinfo,
) -> Iterator[Task]:
    first = _first_window(standing, want, effort, since, start, zone)
    every, blocked = _middle_days(want), _blocked_until(standing, want.care, zone)
    for due, latest, why in _windows(first, every, blocked, start, end):
        yield _task(
            standing.box, want.care, effort, species, due=due, latest=latest, why=why,
            every_days=every,
        )  # fmt: skip


Window = tuple[date, date, str]
"""Due, latest, and why."""


def _windows(
    first: Window, every_days: float, blocked: date, start: date, end: date
) -> Iterator[Window]:
    """A first window and those that follow it an interval apart, none before ``blocked``."""
    middle = timedelta(days=every_days)
    due, latest, why = first
    while due <= end:
        if due < blocked:
            due, latest = blocked, max(latest, blocked + timedelta(days=WEEK_DAYS))
            if due > end:
                return
        yield due, latest, why
        passed = max(due, start)
        due, latest = passed + middle, max(latest, start) + middle
        why = tell("its rhythm")


def _by_scale(
    standing: Standing,
    mist: MistDue,
    effort: Effort,
    species: str,
    start: date,
    end: date,
    zone: tzinfo,
) -> Iterator[Task]:
    """Misting when the reserve is used; only the next one's mL are known."""
    every, blocked = max(1.0, mist.every_days), _blocked_until(standing, "mist", zone)
    windows = _windows((mist.due, mist.latest, mist.why), every, blocked, start, end)
    for place, (due, latest, why) in enumerate(windows):
        task = _task(
            standing.box, "mist", effort, species, due=due, latest=latest, why=why,
            every_days=every,
        )  # fmt: skip
        yield task if place else replace(task, amount_ml=mist.amount_ml, said=mist.said)


def _too_wet(
    standing: Standing,
    mist: MistDue,
    efforts: Mapping[str, Effort],
    species: str,
    start: date,
    zone: tzinfo,
) -> Task:
    """A look at a box that its scale calls too wet, tonight or some days after the last visit.

    It harms as much as a misting left out: wet kills as dry does.
    """
    due = start
    if standing.visited:
        due = max(due, last_day(standing.visited, zone) + timedelta(days=TOO_WET_DAYS))
    why = tell(
        "%(too_wet)s, by the scale: no water, air, dry leaves; look for mould and sour smell", mist
    )
    look = _task(standing.box, "look", efforts["look"], species, due=due, latest=due, why=why)
    return replace(look, harm=max(look.harm, efforts["mist"].harm))


def _middle_days(want: Want) -> float:
    """The middle of a rhythm; never less than a day."""
    return max(1.0, (want.low_days + want.high_days) / 2)


def _day_said(moment: str | None, zone: tzinfo) -> str:
    return f"{last_day(moment, zone)}" if moment else tell("not known")


def _first_window(
    standing: Standing, want: Want, effort: Effort, since: date, start: date, zone: tzinfo
) -> tuple[date, date, str]:
    """From the last time a care was given, or where there is no record from a day of its own.

    Nobody can say that a care without a record is late: its window reaches ``start`` at least.
    """
    spread, tolerance = want.high_days - want.low_days, timedelta(days=effort.tolerance_days)
    if want.due is None or want.latest is None:
        begin = max(since, last_day(standing.settled, zone)) if standing.settled else since
        first = begin + timedelta(days=_own_day(standing.box, want.care, want.high_days))
        latest = first + timedelta(days=max(1, round(spread))) + tolerance
        return first, max(latest, start), tell("no record")
    due, latest, why = (
        want.due,
        want.latest + tolerance,
        tell("last %(last)s", last=_day_said(want.last, zone)),
    )
    if want.care in CHANGES:
        turn = _own_day(standing.box, want.care, max(spread, effort.tolerance_days / 2))
        due = min(due + timedelta(days=turn), latest)
        why = tell("%(why)s, changes spread over their windows", why=why)
    return due, latest, why


def _own_day(box: str, care: str, days: float) -> int:
    """A day of its own for each box within so many, so that not all come at once."""
    return crc32(tell("%(box)s %(care)s", box=box, care=care).encode()) % max(1, round(days))


def _blocked_until(standing: Standing, care: str, zone: tzinfo) -> date:
    blocked = date.min
    if standing.settled and care != "look":
        blocked = max(blocked, last_day(standing.settled, zone) + timedelta(days=NEW_DAYS))
    young = standing.seen.get("young_seen")
    if care in CHANGES and young:
        blocked = max(blocked, last_day(young.happened, zone) + timedelta(days=YOUNG_DAYS))
    return blocked


def _triggered(
    standing: Standing, efforts: Mapping[str, Effort], species: str, start: date, zone: tzinfo
) -> Iterator[Task]:
    fed = [standing.given[care] for care in ("vegetable", "protein") if care in standing.given]
    if fed:
        last = max(last_day(moment, zone) for moment in fed)
        out = standing.given.get("leftovers_out", "")
        gone = standing.seen.get("all_gone")
        cleared = [last_day(m, zone) for m in (out, gone.happened if gone else "") if m]
        if not any(day >= last for day in cleared) and (start - last).days <= 14:
            yield _task(
                standing.box, "leftovers_out", efforts["leftovers_out"], species,
                due=last + timedelta(days=1), latest=last + timedelta(days=3),
                why=tell("fed %(last)s", last=last),
            )  # fmt: skip
    if label := _label_after_a_move(standing, efforts, species, start, zone):
        yield label
    for word, days in _SECOND_LOOK.items():
        seen = standing.seen.get(word)
        if not seen or not standing.visited:
            continue
        when = last_day(seen.happened, zone)
        if last_day(standing.visited, zone) > when or (start - when).days > 21:
            continue
        yield _task(
            standing.box, "look", efforts["look"], species,
            due=when + timedelta(days=min(2, days)), latest=when + timedelta(days=days),
            why=tell("%(word)s seen %(when)s", word=word, when=when),
        )  # fmt: skip


def _label_after_a_move(
    standing: Standing, efforts: Mapping[str, Effort], species: str, start: date, zone: tzinfo
) -> Task | None:
    if not standing.settled:
        return None
    came = last_day(standing.settled, zone)
    checked = standing.given.get("label_check")
    if (start - came).days > _LABEL_WITHIN_DAYS or (checked and last_day(checked, zone) >= came):
        return None
    latest = came + timedelta(days=7)
    why = tell("moved in %(came)s", came=came)
    return _task(
        standing.box, "label_check", efforts["label_check"], species, due=came, latest=latest,
        why=why,
    )  # fmt: skip


def _task(
    box: str,
    care: str,
    effort: Effort,
    species: str,
    *,
    due: date,
    latest: date,
    why: str,
    every_days: float = 0.0,
) -> Task:
    return Task(
        box=box,
        care=care,
        due=due,
        latest=latest,
        minutes=effort.minutes,
        harm=harm_of(effort, species) if species else effort.harm,
        why=why,
        risk=effort.risk,
        every_days=every_days,
    )
