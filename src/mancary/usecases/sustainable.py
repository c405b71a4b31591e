"""Whether the rhythms fit into the keeper's weeks, and which stretched ones would."""

import math
from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from mancary.book import Book
from mancary.husbandry.facts import FigureChosen
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.stretching import WEEK_DAYS, Unit, stretch, weekly_minutes
from mancary.husbandry.words import said
from mancary.usecases.figures import LONGEST_DAYS
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, write
from mancary.usecases.rhythm_units import FITTED, Demand, demand

SHORTEST_DAYS = 0.1
_EITHER_WAY = 0.1
"""Ours: a rhythm is chosen as a range, a tenth either way."""

Row = tuple[str, str]
"""A care and a care group."""


class Proposal(Struct, frozen=True, kw_only=True):
    """One rhythm of one care group: every ``days`` now, every ``proposed_days`` then."""

    care: str
    care_group: str
    boxes: int
    codes: tuple[str, ...]
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

    @property
    def fits_already(self) -> bool:
        return self.minutes_wanted <= self.minutes_offered


BASIS = tell(
    "Minutes are estimates; which lateness harms how much, and that the least harm"
    " for the minutes saved goes first, is ours."
)


def propose(book: Book, *, on: date) -> Sustainable:
    """Sustainable rhythms for the boxes there are; no proposals where all fits already."""
    return proposed_of(demand(book, on=on))


def proposed_of(wanted: Demand) -> Sustainable:
    """The proposal for a demand: days to a tenth, rounded up, so that what is shown fits too."""
    found = stretch(wanted.units, offered=wanted.offered, opening_minutes=wanted.opening_minutes)
    days = {
        (unit.care, unit.group): math.ceil(round(unit.stretched_days * 10, 6)) / 10
        for unit in found.units
    }
    return chosen_of(wanted, days)


def chosen_of(wanted: Demand, days: Mapping[Row, float]) -> Sustainable:
    """What a week takes under days that the keeper chose; all other rhythms stay.

    Raises:
        Refusal: naming the care and group that has no box, or whose days are none.
    """
    units = {(unit.care, unit.group): unit for unit in wanted.units}
    for row, told in days.items():
        _may_be(units, row, told)
    then = [replace(unit, stretched_days=days.get(row, unit.days)) for row, unit in units.items()]
    before = weekly_minutes(wanted.units, opening_minutes=wanted.opening_minutes)
    after = weekly_minutes(then, opening_minutes=wanted.opening_minutes)
    proposals = [_proposal(units[row], wanted.boxes[row], told) for row, told in days.items()]
    basis = wanted.minutes_basis
    return Sustainable(
        minutes_wanted=round(before, 1),
        minutes_offered=round(wanted.offered, 1),
        minutes_proposed=round(after, 1),
        fits=after <= wanted.offered + 1e-9,
        proposals=tuple(sorted(proposals, key=lambda one: -one.minutes_saved_a_week)),
        basis=tell("Minutes %(basis)s. %(basis2)s", basis=basis, basis2=BASIS) if basis else BASIS,
    )


def row_said(row: Row) -> str:
    """Such as "vegetable of temperate-dry"."""
    return tell("%(row)s of %(row2)s", row=said(row[0]), row2=row[1])


def _may_be(units: Mapping[Row, Unit], row: Row, days: float) -> None:
    if row not in units:
        known = in_a_row(", ", sorted(f"{care}:{group}" for care, group in units)) or "none"
        raise Refusal(
            tell("No box wants %(row)s; rows are %(known)s.", row=row_said(row), known=known)
        )
    if not SHORTEST_DAYS <= days <= LONGEST_DAYS:
        raise Refusal(
            tell(
                "%(row)s: every %(days)g days is no rhythm; expected %(shortest_days)g to"
                " %(longest_days)s days.",
                row=row_said(row),
                days=days,
                shortest_days=SHORTEST_DAYS,
                longest_days=LONGEST_DAYS,
            )
        )


def _proposal(unit: Unit, codes: tuple[str, ...], days: float) -> Proposal:
    saved = unit.boxes * unit.minutes * WEEK_DAYS * (1 / unit.days - 1 / days)
    return Proposal(
        care=unit.care,
        care_group=unit.group,
        boxes=unit.boxes,
        codes=codes,
        days=round(unit.days, 1),
        proposed_days=days,
        minutes_saved_a_week=round(saved, 1),
    )


def accept(book: Book, proposals: Sequence[Proposal], *, pen: Pen) -> Recorded:
    """Chooses the proposed rhythms as the keeper's own, a tenth either way, by care group."""
    return write(book, [_figure(one) for one in proposals], pen=pen)


def _figure(one: Proposal) -> FigureChosen:
    low, high = one.proposed_days * (1 - _EITHER_WAY), one.proposed_days * (1 + _EITHER_WAY)
    name = f"{one.care}_days"
    if one.care == "protein":
        name, low, high = "protein_feeds_per_week", WEEK_DAYS / high, WEEK_DAYS / low
    return FigureChosen(
        scope="care_group",
        code=one.care_group,
        figure=name,
        low=round(low, 3),
        high=round(high, 3),
        why=FITTED,
    )
