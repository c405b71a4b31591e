"""The watch: which colonies may be failing, what moved their figure, and where to look."""

from datetime import date, timedelta
from typing import Final

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import natural
from mancary.husbandry.colony_past import PAST_KINDS
from mancary.husbandry.register import REGISTER_KINDS
from mancary.husbandry.sentences import tell
from mancary.husbandry.triage import look_for
from mancary.husbandry.watch_reasons import chance_said
from mancary.husbandry.watch_rows import (
    WatchRow,
    apart_of,
    band_of,
    mostly_prior,
    size_of,
)
from mancary.usecases.beliefs import Believed, Room, believed, believed_in, room_of
from mancary.usecases.shelf_readings import CLIMATE_KINDS
from mancary.usecases.standings import standings_of
from mancary.usecases.unchanged import Unchanged
from mancary.usecases.warmth import warmth
from mancary.usecases.watch_known import known_of

TOLD: Final = 12
"""So many of the foremost are looked into; of quiet ones further down reasons are not asked."""
ASKED: Final = 10
"""The foremost get a look on the round."""
ASKED_FROM: Final = 0.02
SEEN_ENOUGH: Final = timedelta(days=7)
BASIS: Final = (
    "Chances are a model's (see the guide): 5 animals of all ages but mancas, within 12 weeks."
    " Whether a colony will be smaller in 12 weeks no method tried could tell, so it is not said."
)


class Watch(Struct, frozen=True, kw_only=True):
    """All colonies by falling chance, those that lie apart after the rest."""

    on: date
    rows: tuple[WatchRow, ...]
    weights: str
    basis: str
    invented: bool


def watch(book: Book, *, on: date, learn: bool = True) -> Watch:
    """The watch of a day, of nothing that happened later; ``learn`` as in ``room_of``."""
    room = room_of(book, on=on, learn=learn)
    lines = sorted(_lines(book, room), key=lambda one: one[0])
    told = _Told(book, room)
    rows = tuple(told.row(one, apart, wait, place) for place, (_, one, apart, wait) in
                 enumerate(lines))  # fmt: skip
    opened = room.register.opened
    return Watch(
        on=on,
        rows=rows,
        weights=room.weights.said,
        basis=BASIS,
        invented=bool(opened and opened.invented),
    )


def watch_of(book: Book, box: str, *, on: date, learn: bool = True) -> WatchRow:
    """One colony, looked into; ``learn`` as in ``room_of``.

    Raises:
        Refusal: as ``believed_in``.
    """
    room, one = believed_in(book, box, on=on, learn=learn)
    apart, wait = apart_of(one.held)
    return _Told(book, room).row(one, apart, wait, 0)


Line = tuple[tuple[object, ...], Believed, str, str]


def _lines(book: Book, room: Room, *, fell: bool = True) -> list[Line]:
    found: list[Line] = []
    for one in believed(book, room, fell=fell):
        apart, wait = apart_of(one.held)
        # starters lie apart at the end; an empty-looking box is no less urgent for its wait
        place = (apart == "starter", -one.outlook.p_below, natural(one.box.code))
        found.append((place, one, apart, wait))
    return found


class _Told:
    """Looks into colonies; what all of them need is read once, when the first is looked into."""

    def __init__(self, book: Book, room: Room) -> None:
        self.book, self.room = book, room
        self.standings = standings_of(book, room.zone, until=room.on)
        self.warmth = warmth(book, on=room.on)

    def row(self, one: Believed, apart: str, wait: str, place: int) -> WatchRow:
        outlook = one.outlook
        told = place < TOLD or outlook.p_below >= ASKED_FROM
        return WatchRow(
            box=one.box.code,
            p_below_5_in_12_weeks=outlook.p_below,
            p_fell_last_12_weeks=outlook.p_fell,
            size=size_of(outlook),
            reasons=one.held.reasons() if told else (),
            look_for=self._look_for(one) if told else (),
            last_seen=one.past.last_seen,
            shelf=one.box.shelf,
            species=one.species.name,
            band=band_of(outlook.p_below),
            apart=apart,  # type: ignore[arg-type]
            wait=wait,
            mostly_prior=mostly_prior(outlook),
            looks=outlook.looks,
        )

    def _look_for(self, one: Believed) -> tuple[str, ...]:
        known = known_of(
            self.book,
            self.room.register,
            self.standings,
            one.box.code,
            self.warmth,
            on=self.room.on,
            zone=self.room.zone,
        )
        return look_for(known, self.room.on)


def asked(book: Book, *, on: date) -> dict[str, str]:
    """The boxes that want a look for the watch's sake, with the words for it.

    The foremost ten from 2 % on that were not looked at within a week. One of which nothing was
    ever noted is left to the rhythm of looks: its figure is any colony's. Worked out once while the
    book stays as it is.
    """
    return _ASKED.get(book, on, None, lambda: _asked(book, on))


_ASKED: Final[Unchanged[None, dict[str, str]]] = Unchanged(
    states=4, kinds=(*PAST_KINDS, *REGISTER_KINDS, *CLIMATE_KINDS)
)


def _asked(book: Book, on: date) -> dict[str, str]:
    room = room_of(book, on=on, learn=False)
    lines = sorted(_lines(book, room, fell=False), key=lambda one: one[0])
    found = {}
    for _, one, apart, _ in lines[:ASKED]:
        looked = max((look.day for look in one.past.looks), default=None)
        if one.outlook.p_below < ASKED_FROM or apart == "starter" or not one.outlook.looks:
            continue
        if looked is None or on - looked >= SEEN_ENOUGH:
            found[one.box.code] = tell(
                "on watch, %(chance)s to fall below five in 12 weeks: count under the same hide",
                chance=chance_said(one.outlook.p_below),
            )
    return found
