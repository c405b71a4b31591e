"""What the rhythms of now take: each care of each care group, its boxes, days and minutes."""

from datetime import date

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.handbook import Effort
from mancary.husbandry.stretching import Unit
from mancary.usecases.round_minutes import minutes_by_weekday
from mancary.usecases.standings import register_of
from mancary.usecases.timed import efforts_known
from mancary.usecases.wants import wants_list

Held = tuple[str, float, float, float]
"""A box, its days between, the end of its range, and the harm of a late day."""


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
        boxes={key: tuple(box for box, *_ in told) for key, told in held},
        offered=sum(minutes_by_weekday(register_of(book)).values()),
        opening_minutes=opening,
        minutes_basis=basis,
    )


def _held(
    book: Book, efforts: dict[str, Effort], on: date
) -> list[tuple[tuple[str, str], list[Held]]]:
    held: dict[tuple[str, str], list[Held]] = {}
    for box in wants_list(book, on=on).boxes:
        if box.species is None:
            continue
        group = box.species.care_group
        page = box.species.slug if box.species.slug in handbook.species_slugs() else group
        for want in box.wants:
            effort = efforts.get(want.care)
            if effort is None or not page:
                continue
            days = (want.low_days + want.high_days) / 2
            told = (box.box, days, want.high_days, handbook.harm_of(effort, page))
            held.setdefault((want.care, group), []).append(told)
    return sorted(held.items())


def _unit(care: str, group: str, told: list[Held], effort: Effort) -> Unit:
    return Unit(
        care=care,
        group=group,
        boxes=len(told),
        minutes=effort.minutes,
        days=sum(days for _, days, _, _ in told) / len(told),
        forgiven_days=sum(high for _, _, high, _ in told) / len(told) + effort.tolerance_days,
        harm=sum(harm for *_, harm in told) / len(told),
    )
