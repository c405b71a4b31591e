"""The weighings of a box out of the book, each stretch with what the vents explained in its days.

All of it is worked out once for a box and an evening while the book stays as it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta, tzinfo
from functools import lru_cache
from typing import Any, Final

from mancary.book import Book
from mancary.husbandry.box_air import Modelled, Place, modelled, place_on, warmer_said
from mancary.husbandry.entries import Entry
from mancary.husbandry.shelf_climate import ShelfClimate
from mancary.husbandry.states import Box
from mancary.husbandry.water_booked import Ledger, ledger_of
from mancary.husbandry.water_loss import Learnt, Stretch, is_lately, learnt_of, stretches_of
from mancary.husbandry.water_past import TELLS_THE_MODEL, Era, era_between, eras_of
from mancary.husbandry.water_state import Explained
from mancary.usecases.shelf_past import ShelfPast, past_of
from mancary.usecases.shelf_readings import climate_of
from mancary.usecases.unchanged import Unchanged


@dataclass(frozen=True, slots=True)
class Weighings:
    """A box's weighings, what its vents explain today, and what its weighings teach."""

    ledger: Ledger
    explained: Explained | None
    learnt: Learnt


_WEIGHINGS: Final[Unchanged[str, Weighings]] = Unchanged(states=2)


def weighings_of(book: Book, box: Box, *, on: date, zone: tzinfo) -> Weighings:
    """The weighings of a box up to the evening of a day."""
    return _WEIGHINGS.get(book, (on, zone), box.code, lambda: _weighings(book, box, on, zone))


def _weighings(book: Book, box: Box, on: date, zone: tzinfo) -> Weighings:
    entries = book.entries_about(f"box:{box.code}")
    ledger = ledger_of(entries, box.code, zone, until=on)
    if not ledger.weights:
        return Weighings(ledger, None, Learnt(None, {}))
    climate = climate_of(book, box.shelf, on=on, zone=zone)
    model = model_in(box, place_on(climate, box))
    if len(ledger.weights) > 1:
        ledger = _with_paces(book, ledger, entries, box, climate, model, on)
    explained = _explained(box, climate, model) if model else None
    return Weighings(ledger, explained, learnt_of(ledger, on=on))


def _explained(box: Box, climate: ShelfClimate, model: Modelled) -> Explained:
    return Explained(
        low=model.g_per_day_low,
        middle=model.g_per_day,
        high=model.g_per_day_high,
        assumed=(*climate.said, *warmer_said(box), *model.assumed, *model.limits),
    )


def _with_paces(
    book: Book,
    ledger: Ledger,
    entries: Sequence[Entry],
    box: Box,
    climate: ShelfClimate,
    model: Modelled | None,
    on: date,
) -> Ledger:
    """The ledger with each late stretch's modelled loss over today's."""
    eras = eras_of(entries, box.code, ledger.zone, until=on)
    paces: list[float | None] = []
    for one in stretches_of(ledger):
        era = era_between(eras, one.first.day, one.second.day)
        if era is None or not is_lately(one.second.day, on):
            paces.append(None)
        elif model is None or model.g_per_day <= 0:
            paces.append(1.0 if era is eras[-1] else None)
        else:
            past = past_of(book, era.box.shelf, on=on, zone=ledger.zone)
            told = model_in(era.box, _place_in(one, era, past, climate))
            paces.append(told.g_per_day / model.g_per_day if told else None)
    changed = tuple(era.since for era in eras[1:])
    return replace(ledger, paces=tuple(paces), changed=changed)


def _place_in(one: Stretch, era: Era, past: ShelfPast, climate: ShelfClimate) -> Place:
    """The air of the days between two weighings.

    Where either those days or today were not read on one shelf, it is taken to have been alike.
    """
    same = era.box.shelf == climate.shelf
    temp_c, rh = past.between(one.first.day, one.second.day)
    if same and (temp_c is None or climate.temperature_is_assumed):
        temp_c = climate.temperature.middle
    if same and (rh is None or climate.humidity is None):
        rh = climate.rh
    return Place(
        temp_c=round(past.room.temp_c if temp_c is None else temp_c, 1),
        rh_outside=round(past.room.humidity if rh is None else rh, 2),
        air=past.air_on(one.second.day - timedelta(days=1)),
        warmer_c=era.box.warmer_c or 0.0,
    )


def model_in(box: Box, place: Place) -> Modelled | None:
    """What the vents explain; boxes told alike in one place are worked out once."""
    return _modelled(*(getattr(box, name) for name in TELLS_THE_MODEL), place=place)


@lru_cache(maxsize=8192)
def _modelled(*told: Any, place: Place) -> Modelled | None:  # noqa: ANN401  as described
    return modelled(Box("", "", **dict(zip(TELLS_THE_MODEL, told, strict=True))), place)
