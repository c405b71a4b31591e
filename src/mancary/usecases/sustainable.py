"""Whether the rhythms fit into the keeper's weeks, and which stretched ones would."""

from datetime import date

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import FigureChosen
from mancary.husbandry.stretching import Unit, stretch
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, write
from mancary.usecases.round_minutes import minutes_by_weekday
from mancary.usecases.standings import register_of
from mancary.usecases.wants import wants_list

_PROTEIN_WEEK = 7.0


class Proposal(Struct, frozen=True, kw_only=True):
    """One rhythm of one care group: every ``days`` now, every ``proposed_days`` then."""

    care: str
    care_group: str
    boxes: int
    days: float
    proposed_days: float
    minutes_saved_a_week: float


class Sustainable(Struct, frozen=True, kw_only=True):
    """Minutes a week wanted, offered, and wanted under the proposals; ``fits`` under them."""

    minutes_wanted: float
    minutes_offered: float
    minutes_proposed: float
    fits: bool
    proposals: tuple[Proposal, ...]
    basis: str


BASIS = (
    "Minutes are estimates; which lateness harms how much, and that the least harm for the minutes"
    " saved goes first, is ours."
)


def propose(book: Book, *, on: date) -> Sustainable:
    """Sustainable rhythms for the boxes there are; no proposals where all fits already."""
    offered = sum(minutes_by_weekday(register_of(book)).values())
    found = stretch(_units(book, on), offered=offered, opening_minutes=handbook.opening().minutes)
    proposals = [
        Proposal(
            care=unit.care,
            care_group=unit.group,
            boxes=unit.boxes,
            days=round(unit.days, 1),
            proposed_days=round(unit.stretched_days, 1),
            minutes_saved_a_week=round(
                unit.boxes * unit.minutes * 7 * (1 / unit.days - 1 / unit.stretched_days), 1
            ),
        )
        for unit in found.units
    ]
    return Sustainable(
        minutes_wanted=round(found.minutes_before, 1),
        minutes_offered=round(offered, 1),
        minutes_proposed=round(found.minutes_after, 1),
        fits=found.fits,
        proposals=tuple(sorted(proposals, key=lambda one: -one.minutes_saved_a_week)),
        basis=BASIS,
    )


def _units(book: Book, on: date) -> list[Unit]:
    efforts = handbook.efforts()
    held: dict[tuple[str, str], list[tuple[float, float, float]]] = {}
    for box in wants_list(book, on=on).boxes:
        if box.species is None:
            continue
        group = box.species.care_group
        page = box.species.slug if box.species.slug in handbook.species_slugs() else group
        for want in box.wants:
            effort = efforts.get(want.care)
            if effort is None or not page:
                continue
            harm = handbook.harm_of(effort, page)
            days = (want.low_days + want.high_days) / 2
            held.setdefault((want.care, group), []).append((days, want.high_days, harm))
    return [
        Unit(
            care=care,
            group=group,
            boxes=len(told),
            minutes=efforts[care].minutes,
            days=sum(days for days, _, _ in told) / len(told),
            forgiven_days=sum(high for _, high, _ in told) / len(told)
            + efforts[care].tolerance_days,
            harm=sum(harm for _, _, harm in told) / len(told),
        )
        for (care, group), told in sorted(held.items())
    ]


def accept(book: Book, proposals: tuple[Proposal, ...], *, pen: Pen) -> Recorded:
    """Chooses the proposed rhythms as the keeper's own, a tenth either way, by care group."""
    facts = [_figure(one) for one in proposals]
    return write(book, facts, pen=pen)


def _figure(one: Proposal) -> FigureChosen:
    low, high = one.proposed_days * 0.9, one.proposed_days * 1.1
    name = f"{one.care}_days"
    if one.care == "protein":
        name, low, high = "protein_feeds_per_week", _PROTEIN_WEEK / high, _PROTEIN_WEEK / low
    return FigureChosen(
        scope="care_group",
        code=one.care_group,
        figure=name,
        low=round(low, 3),
        high=round(high, 3),
        why="stretched so that the work fits the week",
    )
