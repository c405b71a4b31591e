"""Tonight's round, the first page: what fits, in walking order, written down by exception."""

import secrets
from datetime import date
from typing import Annotated, Any, Final

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect
from litestar.template.base import csrf_token
from msgspec import Struct

from mancary.husbandry.cautions import cautions
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import SEEN, said
from mancary.usecases.record import withdraw_many
from mancary.usecases.round_kept import Done, write_done
from mancary.usecases.shelf_care import care_for_shelf
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk, OpenDesk, packed
from mancary.web.forms import FormError
from mancary.web.once import OncePen, written_by
from mancary.web.planned import keep_what_was_shown, page_for, round_for
from mancary.web.round_form import WHY_NOT, marked, one, round_typed, touched
from mancary.web.round_view import RoundView, round_view
from mancary.web.threads import threaded
from mancary.web.typed import day_typed

FIRST: Final = ("mould", "mites", "left_over", "young_seen", "dry", "wet", "smells", "all_gone")
MET: Final = (*FIRST, *(word for word in SEEN if word not in (*FIRST, "dead")))
"""The words of what was seen, the commonest first; dead animals are told by their number."""

MANY_DEAD: Final = ("1", "2", "3", "4", "5")
FOR_A_SHELF: Final = ("mist", "vegetable", "protein", "calcium", "leaf_litter", "springtails")
"""Cares that are given to a whole shelf at once."""

Typed = Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)]


@get(["/", "/round"], media_type=MediaType.HTML)
@threaded
def round_page(
    request: Asked,
    desk: Desk,
    today: bool = False,  # noqa: FBT001, FBT002
    on: date | None = None,
) -> Response[str]:
    """The next working evening's round, with ``today`` this very day's, or that of a day ``on``."""
    with desk.open() as book:
        register = register_of(book.book, book.zone, until=book.on)
        if not any(box.colony for box in register.boxes.values()):
            return book.page(request, "empty.html", boxes=len(register.boxes))
        return _page(request, book, on or book.on, named=today or on is not None)


@post("/round", media_type=MediaType.HTML, status_code=201)
@threaded
def round_done(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Writes the round, or one shelf of it: the cares as given, all but the exceptions."""
    with desk.open() as book:
        day = book.on
        try:
            day = _day(book, data)
            if one(data, "hold"):
                return _page(request, book, day, named=True, data=data, just=HELD)
            if one(data, "whole"):
                return _whole_shelf(request, book, day, data)
            typed = round_typed(data)
            keep_what_was_shown(book, day)
            done = write_done(
                book.book,
                typed.stops,
                on=day,
                left_out=typed.left_out,
                skipped=typed.skipped,
                beside=typed.beside,
                pen=book.pen,
            )
        except Refusal as fault:
            return _page(request, book, day, named=True, data=data, fault=fault)
        minds = cautions(typed.beside)
        to_undo = written_by(f"{one(data, 'once')[:64]}|{one(data, 'only')}", done.facts)
        if one(data, "only"):
            just = Just(_words(done), to_undo, minds, after=f"part {one(data, 'only')}")
            return _page(request, book, day, named=True, data=data, just=just)
        return book.page(
            request,
            "round_written.html",
            status=201,
            done=done,
            ids=to_undo,
            mind=minds,
            day=day,
            undone=0,
        )


class Just(Struct, frozen=True):
    """What was written a moment ago, said where the round goes on: ``after`` this part of it."""

    words: str
    facts: tuple[str, ...] = ()
    minds: tuple[str, ...] = ()
    after: str = ""

    def before(self, view: RoundView) -> int:
        """The number of the next part with something to open; 0 where there is none."""
        number = next((one.number for one in view.parts if self.after in one.names), 0)
        return next((one.number for one in view.parts if one.stops and one.number > number), 0)


HELD: Final = Just("Nothing is written yet; what you marked is still marked.")


def _words(done: Done) -> str:
    parts = [f"{done.given} care{'s' if done.given != 1 else ''} written as given"]
    if done.skipped:
        parts.append(f"{done.skipped} as skipped")
    if done.left_out:
        parts.append(f"{done.left_out} left for another evening")
    if done.seen:
        parts.append(f"{done.seen} thing{'s' if done.seen != 1 else ''} met on the way")
    if done.repeated:
        parts.append(f"{done.repeated} were in the book already")
    return f"{', '.join(parts)}."


def _day(book: OpenDesk, data: dict[str, Any]) -> date:
    day = day_typed(one(data, "day")) or book.on
    if day > book.on:
        raise FormError("day", f"{day} is still to come; nothing can be written for it yet.")
    return day


def _whole_shelf(request: Asked, book: OpenDesk, day: date, data: dict[str, Any]) -> Response[str]:
    shelf, _, care = one(data, "whole").rpartition("|")
    keep_what_was_shown(book, day)
    pen = OncePen(book.pen, f"shelf|{shelf}|{care}|{day}|{one(data, 'once')[:64]}")
    facts = tuple(pen.written(book.book))
    if not facts:
        recorded = care_for_shelf(book.book, shelf, care, on=day, pen=pen)
        facts = tuple(entry.id for entry in recorded.entries)
    words = f"{said(care).capitalize()} written for all {len(facts)} boxes of shelf {shelf}."
    return _page(
        request, book, day, named=True, data=data, just=Just(words, facts, after=f"shelf {shelf}")
    )


@post("/round/keep", media_type=MediaType.HTML, status_code=303)
@threaded
def keep_round(request: Asked, desk: Desk, data: Typed) -> Redirect:  # noqa: ARG001
    """Keeps the plan as a fact: the page is quick from then on, and later plans stay near it."""
    with desk.open() as book:
        day = day_typed(one(data, "day")) or book.on
        keep_what_was_shown(book, day)
        return Redirect(f"/?on={day}", status_code=303)


@post("/round/undo", media_type=MediaType.HTML, status_code=201)
@threaded
def undo_round(request: Asked, desk: Desk, data: Typed) -> Response[str]:
    """Withdraws all that one press of a button wrote; it stays readable."""
    with desk.open() as book:
        ids = one(data, "ids").split()
        why = "the round was written down by mistake"
        undone = withdraw_many(book.book, ids, why=why, pen=book.pen)
        day = day_typed(one(data, "day")) or book.on
        count = len(undone.entries)
        if one(data, "once"):
            words = (
                f"Undone: {count} fact{'s' if count != 1 else ''} withdrawn; they stay readable."
            )
            return _page(request, book, day, named=True, data=data, just=Just(words))
        return book.page(
            request, "round_written.html", status=201, done=None, mind=(), day=day, undone=count
        )


def _page(
    request: Asked,
    book: OpenDesk,
    day: date,
    *,
    named: bool,
    data: dict[str, Any] | None = None,
    fault: Refusal | None = None,
    just: Just | None = None,
) -> Response[str]:
    token = {"token": csrf_token({"request": request}), "once": secrets.token_hex(8)}
    if data is None:
        html = page_for(book, day, named, lambda: _html(book, day, named, _MARKS, {}, None, None))
        for name, mark in _MARKS.items():
            html = html.replace(mark, token[name])
        return packed(request, html, 200)
    html = _html(book, day, named, token, data, fault, just)
    return packed(request, html, 422 if fault else 201)


_MARKS: Final = {name: f"{name}{secrets.token_hex(12)}" for name in ("token", "once")}
"""Stand in a page that is kept for what differs each time it is asked for."""


def _html(
    book: OpenDesk,
    day: date,
    named: bool,  # noqa: FBT001
    token: dict[str, str],
    form: dict[str, Any],
    fault: Refusal | None,
    just: Just | None,
) -> str:
    told = round_for(book, day, named=named)
    view = round_view(book.book, told, zone=book.zone)
    return book.html(
        "round.html",
        here="/",
        told=told,
        view=view,
        met=MET,
        dead=MANY_DEAD,
        why_not=WHY_NOT,
        for_a_shelf=FOR_A_SHELF,
        form=form,
        marked=marked(form),
        touched=touched(form),
        fault=fault,
        just=just,
        just_before=just.before(view) if just else 0,
        writable=told.date <= book.on,
        tonight=told.date == book.on,
        late=[put for put in told.put_off if not put.risk.startswith("none")],
        **token,
    )
