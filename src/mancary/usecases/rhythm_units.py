"""What the rhythms of now take: each care of each care group, its boxes, days and minutes."""

from datetime import date
from statistics import mean

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.handbook import Effort
from mancary.husbandry.sentences import tell
from mancary.husbandry.stretching import Unit
from mancary.husbandry.wants import Want
from mancary.usecases.round_minutes import minutes_by_weekday
from mancary.usecases.species_names import SpeciesName
from mancary.usecases.standings import register_of
from mancary.usecases.timed import efforts_known
from mancary.usecases.wants import rhythms_for, wants_list

FITTED = tell("chosen so that the work fits the week")
"""Why a rhythm was chosen that came from a proposal."""


class Held(Struct, frozen=True):
    """A box: its days between, those of before any proposal, the end of that range, the harm."""

    box: str
    days: float
    usual_days: float
    high_days: float
    harm: float


class Demand(Struct, frozen=True, kw_only=True):
    """The units, the codes of their boxes by care and group, and the minutes offered a week."""

    units: tuple[Unit, ...]
    boxes: dict[tuple[str, str], tuple[str, ...]]
    offered: float
    opening_minutes: float
    minutes_basis: str


def demand(book: Book, *, on: date) -> Demand:
    """What the boxes want a week, with the keeper's own minutes where he timed any evenings."""
    efforts, opening, basis = efforts_known(book)
    held = _held(book, efforts, on)
    return Demand(
        units=tuple(_unit(care, group, told, efforts[care]) for (care, group), told in held),
        boxes={key: tuple(one.box for one in told) for key, told in held},
        offered=sum(minutes_by_weekday(register_of(book)).values()),
        opening_minutes=opening,
        minutes_basis=basis,
    )


def _held(
    book: Book, efforts: dict[str, Effort], on: date
) -> list[tuple[tuple[str, str], list[Held]]]:
    held: dict[tuple[str, str], list[Held]] = {}
    for box in wants_list(book, on=on, weighed=False).boxes:
        if box.species is None:
            continue
        group = box.species.care_group
        page = box.species.slug if box.species.slug in handbook.species_slugs() else group
        for want in box.wants:
            effort = efforts.get(want.care)
            if effort is None or not page:
                continue
            days = (want.low_days + want.high_days) / 2
            usual, high = _usual(want, box.species) or (days, want.high_days)
            told = Held(box.box, days, usual, high, handbook.harm_of(effort, page))
            held.setdefault((want.care, group), []).append(told)
    return sorted(held.items())


def _usual(want: Want, species: SpeciesName) -> tuple[float, float] | None:
    """The middle and the end of the handbook's rhythm, where the one of now came of a proposal."""
    if FITTED not in want.source:
        return None
    told = rhythms_for(species).get(want.care)
    return ((told.low_days + told.high_days) / 2, told.high_days) if told else None


def _unit(care: str, group: str, told: list[Held], effort: Effort) -> Unit:
    return Unit(
        care=care,
        group=group,
        boxes=len(told),
        minutes=effort.minutes,
        days=mean(one.days for one in told),
        usual_days=mean(one.usual_days for one in told),
        forgiven_days=mean(one.high_days for one in told) + effort.tolerance_days,
        harm=mean(one.harm for one in told),
    )
