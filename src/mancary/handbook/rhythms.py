"""How often each care comes round, for a species or a care group."""

from functools import cache
from typing import Final

from msgspec.structs import asdict, replace

from mancary.handbook.bound import ProteinPractice, Rhythms, Turn
from mancary.handbook.model import Figure, Rhythm
from mancary.handbook.shelf import bound, figures, group_figures, group_of

SPRINGTAILS: Final = "springtails"
DAYS_A_WEEK: Final = 7
SLACK: Final = 1 / 7
"""Ours: a care said as one interval may come a seventh of it sooner or later."""


def rhythms(slug: str) -> dict[str, Rhythm]:
    """The rhythm of each care for a page or a care group, by care.

    A care that is not in the answer has no rhythm known for it, or is not to be done at all. A
    page without a care group has only what goes for every box.

    Raises:
        UnknownPage: when there is neither a page nor a care group of this plain name.
    """
    return dict(_rhythms(slug))


@cache
def _rhythms(slug: str) -> dict[str, Rhythm]:
    group = slug if slug in bound().groups else group_of(slug)
    known = figures(slug) if slug not in bound().groups else group_figures(slug)
    table = bound().rhythms
    moisture = _moisture(_species(slug), group, known, table)
    best: dict[str, Turn] = {}
    for turn in table.care:
        if _meant(turn, group, moisture) and (turn.groups or turn.care not in best):
            best[turn.care] = turn
    made = {care: _plain(turn) for care, turn in best.items() if not turn.never}
    if group and "protein_feeds_per_week" in known:
        made["protein"] = _protein(known["protein_feeds_per_week"], group, table)
    return made


def moisture_class(slug: str) -> str | None:
    """Dry-type, mid, moist tropical or dwarf: the class of misting a page is put in (ours).

    Raises:
        UnknownPage: when there is neither a page nor a care group of this plain name.
    """
    grouped = slug in bound().groups
    known = group_figures(slug) if grouped else figures(slug)
    group = slug if grouped else group_of(slug)
    return _moisture(_species(slug), group, known, bound().rhythms)


def _species(slug: str) -> str:
    found = bound().pages.get(slug)
    return found.parent if found and found.parent else slug


def _moisture(slug: str, group: str | None, known: dict[str, Figure], table: Rhythms) -> str | None:
    if group is None or group == SPRINGTAILS:
        return None
    if named := table.moisture.species.get(slug) or table.moisture.groups.get(group):
        return named
    share = known.get("damp_share")
    if share is None or share.high is None:
        return None
    return "dry-type" if share.high <= table.moisture.dry_up_to else "mid"


def _meant(turn: Turn, group: str | None, moisture: str | None) -> bool:
    if turn.groups and group not in turn.groups:
        return False
    if turn.moisture and turn.moisture != moisture:
        return False
    if turn.who == "every box":
        return True
    return group is not None and (turn.who == SPRINGTAILS) == (group == SPRINGTAILS)


def _plain(turn: Turn) -> Rhythm:
    kept = {name: value for name, value in asdict(turn).items() if name in Rhythm.__struct_fields__}
    return Rhythm(**kept)


def _protein(feeds: Figure, group: str, table: Rhythms) -> Rhythm:
    """A page's feeds a week as days; where practice says otherwise, the wider range of both."""
    practice = next((entry for entry in table.protein if group in entry.groups), None)
    given = [rate for rate in (feeds.low, feeds.high) if rate is not None]
    if practice:
        told = (practice.low_per_week, practice.high_per_week)
        given += [rate for rate in told if rate is not None]
    seldom, often = min(given), max(given)
    slack = SLACK if often == seldom else 0.0
    made = Rhythm(
        care="protein",
        low_days=round(DAYS_A_WEEK / often * (1 - slack), 1),
        high_days=round(DAYS_A_WEEK / seldom * (1 + slack), 1),
        said=f"{_times(seldom, often)} a week",
        kind=feeds.kind,
        source=feeds.source,
    )
    return _differing(made, feeds, practice) if practice else made


def _differing(made: Rhythm, feeds: Figure, practice: ProteinPractice) -> Rhythm:
    """The same, saying that practice differs; as well known as the worse known of the two."""
    said = f"The catalogue says {feeds.low:g} a week, {practice.said}: the keeper chooses."
    kind = "memory" if "memory" in (feeds.kind, practice.kind) else practice.kind
    return replace(made, kind=kind, source=practice.source, differs=said, note=practice.note)


def _times(seldom: float, often: float) -> str:
    if seldom == often:
        return "once" if seldom == 1 else f"{seldom:g} times"
    return f"{seldom:g} to {often:.3g} times"
