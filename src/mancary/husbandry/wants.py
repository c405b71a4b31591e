"""What one box wants on a day: each care, when it was last given, and when it is next expected."""

from collections.abc import Mapping
from datetime import date, timedelta, tzinfo
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from mancary.handbook import Rhythm
from mancary.husbandry.facts import FigureChosen
from mancary.husbandry.moments import Moment, first_day, last_day
from mancary.husbandry.sentences import tell
from mancary.husbandry.standing import Standing
from mancary.husbandry.water_due import MistDue

State = Literal["late", "due", "no_record", "later"]
_URGENCY: Mapping[State, int] = {"late": 0, "due": 1, "no_record": 2, "later": 3}
_SERVED_BY: Mapping[str, tuple[str, ...]] = {
    "substrate_half": ("substrate_whole",),
    "springtail_check": ("springtails",),
}
"""A care that another one includes."""

WEEK_DAYS = 7
HANDBOOK = tell("the handbook")

SLACK_SAID = tell(
    "Where practice names one interval, a seventh of it either way is ours; the"
    " intervals themselves have no published source."
)


class Want(Struct, frozen=True, kw_only=True):
    """One care of one box.

    ``low_days`` to ``high_days`` is the rhythm and ``whose`` it is; ``due`` and ``latest`` follow
    from the last time it was given, and are None where the book holds no such time. ``late_days``
    counts from ``latest``; ``said`` is the handbook's rhythm in words, empty for the keeper's own.
    """

    care: str
    state: State
    last: Moment | None
    low_days: float
    high_days: float
    due: date | None
    latest: date | None
    late_days: int
    said: str
    whose: str
    kind: str
    source: str
    note: str = ""


def wants(
    standing: Standing,
    rhythms: Mapping[str, Rhythm],
    own: Mapping[str, tuple[FigureChosen, str]],
    *,
    on: date,
    zone: tzinfo,
) -> tuple[Want, ...]:
    """The cares of a box, the most urgent first.

    ``own`` holds the keeper's nearest figure by name with words for its scope; see ``own_figures``.
    """
    found = [
        _want(care, rhythm, standing, own, on=on, zone=zone)
        for care, rhythm in rhythms.items()
        if rhythm.periodic and (not rhythm.instead_of or f"{care}_days" in own)
    ]
    return tuple(sorted(found, key=lambda want: (_URGENCY[want.state], -want.late_days)))


def _want(
    care: str,
    rhythm: Rhythm,
    standing: Standing,
    own: Mapping[str, tuple[FigureChosen, str]],
    *,
    on: date,
    zone: tzinfo,
) -> Want:
    low, high, whose, kind, source = _interval(care, rhythm, own)
    given = [
        standing.given[one] for one in (care, *_SERVED_BY.get(care, ())) if one in standing.given
    ]
    if care == "look" and standing.visited:
        given.append(standing.visited)  # whoever feeds, counts or sees something has looked
    last = max(given, key=lambda moment: (first_day(moment, zone), moment), default=None)
    due = latest = None
    state: State = "no_record"
    late_days = 0
    if last is not None:
        due = max(first_day(one, zone) for one in given) + timedelta(days=low)
        latest = max(last_day(one, zone) for one in given) + timedelta(days=high)
        late_days = max(0, (on - latest).days)
        state = "late" if late_days else "due" if on >= due else "later"
    return Want(
        care=care,
        state=state,
        last=last,
        low_days=low,
        high_days=high,
        due=due,
        latest=latest,
        late_days=late_days,
        said=rhythm.said if whose == HANDBOOK else "",
        whose=whose,
        kind=kind,
        source=source,
        note=rhythm.note,
    )


def by_scale(found: tuple[Want, ...], mist: MistDue, *, on: date) -> tuple[Want, ...]:
    """The wants with the misting that a box's weighings call for in the place of the rhythm's."""
    late = max(0, (on - mist.latest).days)
    state: State = "late" if late else "due" if on >= mist.due else "later"
    told = [
        replace(
            want, state=state, due=mist.due, latest=mist.latest, late_days=late,
            low_days=mist.every_range[0], high_days=mist.every_range[1], said=mist.said,
            whose=tell("by your scale"), kind=tell("the keeper's own"), source=mist.why,
        )
        if want.care == "mist"
        else want
        for want in found
    ]  # fmt: skip
    return tuple(sorted(told, key=lambda want: (_URGENCY[want.state], -want.late_days)))


def _interval(
    care: str, rhythm: Rhythm, own: Mapping[str, tuple[FigureChosen, str]]
) -> tuple[float, float, str, str, str]:
    if care == "protein" and (chosen := own.get("protein_feeds_per_week")):
        fact, scope = chosen
        feeds = [feed for feed in (fact.low, fact.high) if feed]
        if feeds:
            low, high = WEEK_DAYS / max(feeds), WEEK_DAYS / min(feeds)
            return low, high, scope, tell("the keeper's own"), fact.why
    if chosen := own.get(f"{care}_days"):
        fact, scope = chosen
        low, high = fact.low or fact.high or 0.0, fact.high or fact.low or 0.0
        return low, high, scope, tell("the keeper's own"), fact.why
    return rhythm.low_days, rhythm.high_days, HANDBOOK, rhythm.kind, rhythm.source


def own_figures(
    figures: Mapping[tuple[str, str, str], FigureChosen],
    *,
    box: str,
    line: str,
    species: str,
    care_group: str,
) -> dict[str, tuple[FigureChosen, str]]:
    """The keeper's own figures that hold for a box; of two for the same thing the nearest wins."""
    scopes = (
        ("all", "", tell("yours, for all boxes")),
        ("care_group", care_group, tell("yours, for this care group")),
        ("species", species, tell("yours, for this species")),
        ("line", line, tell("yours, for this line")),
        ("box", box, tell("yours, for this box")),
    )
    found: dict[str, tuple[FigureChosen, str]] = {}
    for scope, code, words in scopes:
        for (held_scope, held_code, name), fact in figures.items():
            if held_scope == scope and held_code == code:
                found[name] = (fact, words)
    return found
