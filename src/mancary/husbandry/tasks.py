"""What a box wants in the weeks ahead, each task in its window, with what its lateness costs."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta, tzinfo
from zlib import crc32

from msgspec import Struct

from mancary.handbook import Effort, harm_of
from mancary.husbandry.moments import last_day
from mancary.husbandry.standing import Standing
from mancary.husbandry.wants import Want

YOUNG_DAYS = 49
"""Young are at risk for 4-7 weeks after they are seen (published stage lengths, see the guide)."""

NEW_DAYS = 7
"""A newly arrived colony is left alone for its first week (common practice)."""

_DISTURBING = frozenset({"substrate_half", "substrate_whole"})
_LABEL_WITHIN_DAYS = 21
"""So long after a colony moved in its box, lid and spare lid are looked at (ours)."""

_SECOND_LOOK = {"mould": 5, "mites": 3, "dead": 4}
"""Days after which a box is looked at again (ours)."""


class Task(Struct, frozen=True, kw_only=True):
    """One care of one box, once: not before ``due``, better not after ``latest``."""

    box: str
    care: str
    due: date
    latest: date
    minutes: float
    harm: float
    why: str
    risk: str


def tasks_of(
    standing: Standing,
    wants: tuple[Want, ...],
    efforts: Mapping[str, Effort],
    *,
    species: str,
    start: date,
    end: date,
    zone: tzinfo,
) -> list[Task]:
    """The tasks of one box whose window opens up to ``end``, in the order of their due days."""
    rhythmic = [
        task
        for want in wants
        if want.care in efforts
        for task in _rhythmic(standing, want, efforts[want.care], species, start, end, zone)
    ]
    triggered = list(_triggered(standing, efforts, species, start, zone))
    return sorted([*rhythmic, *triggered], key=lambda task: (task.due, task.latest, task.care))


def _rhythmic(
    standing: Standing,
    want: Want,
    effort: Effort,
    species: str,
    start: date,
    end: date,
    zone: tzinfo,
) -> Iterator[Task]:
    low, high = want.low_days, want.high_days
    middle = max(1.0, (low + high) / 2)
    if want.due is not None and want.latest is not None:
        due, latest, why = want.due, want.latest, f"last {want.last}"
    else:
        first = start + timedelta(days=_first_day(standing.box, want.care, high))
        due, latest, why = first, first + timedelta(days=max(1, round(high - low))), "no record"
    latest += timedelta(days=effort.tolerance_days)
    blocked = _blocked_until(standing, want.care, zone)
    while due <= end:
        if due < blocked:
            due, latest = blocked, max(latest, blocked + timedelta(days=7))
            if due > end:
                return
        yield _task(standing.box, want.care, effort, species, due=due, latest=latest, why=why)
        passed = max(due, start) if latest < start else due
        due, latest = (
            passed + timedelta(days=middle),
            max(latest, start) + timedelta(days=middle),
        )
        why = "its rhythm"


def _first_day(box: str, care: str, high: float) -> int:
    """A box without a record begins on a day of its own, so that not all wants come at once."""
    return crc32(f"{box} {care}".encode()) % max(1, round(min(high, 60)))


def _blocked_until(standing: Standing, care: str, zone: tzinfo) -> date:
    blocked = date.min
    if standing.settled and care != "look":
        blocked = max(blocked, last_day(standing.settled, zone) + timedelta(days=NEW_DAYS))
    young = standing.seen.get("young_seen")
    if care in _DISTURBING and young:
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
                why=f"fed {last}",
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
            why=f"{word} seen {when}",
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
    why = f"moved in {came}"
    return _task(
        standing.box, "label_check", efforts["label_check"], species, due=came, latest=latest,
        why=why,
    )  # fmt: skip


def _task(
    box: str, care: str, effort: Effort, species: str, *, due: date, latest: date, why: str
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
    )
