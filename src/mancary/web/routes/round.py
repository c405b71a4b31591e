"""Tonight's round, the first page: what fits, in walking order, written down by exception."""

import secrets
from datetime import date
from typing import Annotated, Any, Final

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect
from litestar.template.base import csrf_token

from mancary.husbandry.cautions import cautions
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import SEEN
from mancary.usecases.recent_words import recent_words
from mancary.usecases.record import withdraw_many
from mancary.usecases.round_kept import write_done
from mancary.usecases.shelf_care import care_for_shelf
from mancary.usecases.standings import register_of
from mancary.web.chooser import foremost
from mancary.web.desk import Asked, Desk, OpenDesk, packed
from mancary.web.forms import FormError
from mancary.web.once import OncePen, written_by
from mancary.web.planned import keep_what_was_shown, page_for, round_for
from mancary.web.round_form import WHY_NOT, marked, one, round_typed, touched
from mancary.web.round_saved import HELD, Just, Saved, keep, kept, unwritten, words_of
from mancary.web.round_view import round_view
from mancary.web.threads import threaded
from mancary.web.tongue import _, counted, gettext
from mancary.web.typed import day_typed
from mancary.web.vocabulary import said

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
    on: str = "",
    said: str = "",
) -> Response[str]:
    """The next working evening's round, with ``today`` this very day's, or that of a day ``on``.

    ``said`` is the key of what a form before this page wrote.
    """
    with desk.open() as book:
        register = register_of(book.book, book.zone, until=book.on)
        if not any(box.colony for box in register.boxes.values()):
            return book.page(request, "empty.html", boxes=len(register.boxes))
        try:
            day = day_typed(on, "on")
        except FormError as fault:
            return _page(request, book, book.on, named=True, fault=fault)
        named = today or day is not None
        return _page(request, book, day or book.on, named=named, saved=kept(said))


@post("/round", media_type=MediaType.HTML, status_code=303)
@threaded
def round_done(request: Asked, desk: Desk, data: Typed) -> Response[str] | Redirect:
    """Writes the round, or one shelf of it: the cares as given, all but the exceptions."""
    with desk.open() as book:
        day = book.on
        try:
            day = _day(book, data)
            saved = _saved(book, day, data)
        except Refusal as fault:
            return _page(request, book, day, named=True, data=data, fault=fault)
        return _on_to(day, saved)


def _on_to(day: date, saved: Saved) -> Redirect:
    return Redirect(f"/?on={day}&said={keep(saved)}#saved", status_code=303)


def _saved(book: OpenDesk, day: date, data: dict[str, Any]) -> Saved:
    if one(data, "hold"):
        return Saved(HELD, data)
    if one(data, "whole"):
        return Saved(_whole_shelf(book, day, data), data)
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
    part = one(data, "only")
    to_undo = written_by(f"{one(data, 'once')[:64]}|{part}", done.facts)
    just = Just(words_of(done), to_undo, cautions(typed.beside), after=f"part {part}")
    return Saved(just, unwritten(data, {box for box, _ in typed.stops}))


def _day(book: OpenDesk, data: dict[str, Any]) -> date:
    day = day_typed(one(data, "day")) or book.on
    if day > book.on:
        raise FormError(
            "day", _("%(day)s is still to come; nothing can be written for it yet.", day=day)
        )
    return day


def _whole_shelf(book: OpenDesk, day: date, data: dict[str, Any]) -> Just:
    shelf, _bar, care = one(data, "whole").rpartition("|")
    keep_what_was_shown(book, day)
    pen = OncePen(book.pen, f"shelf|{shelf}|{care}|{day}|{one(data, 'once')[:64]}")
    facts = tuple(pen.written(book.book))
    if not facts:
        recorded = care_for_shelf(book.book, shelf, care, on=day, pen=pen)
        facts = tuple(entry.id for entry in recorded.entries)
    words = counted(
        "%(care)s written for %(num)s box of shelf %(shelf)s.",
        "%(care)s written for %(num)s boxes of shelf %(shelf)s.",
        len(facts),
        care=said(care).capitalize(),
        shelf=shelf,
    )
    return Just(words, facts, after=f"shelf {shelf}")


@post("/round/keep", media_type=MediaType.HTML, status_code=303)
@threaded
def keep_round(request: Asked, desk: Desk, data: Typed) -> Redirect:  # noqa: ARG001
    """Keeps the plan as a fact: the page is quick from then on, and later plans stay near it."""
    with desk.open() as book:
        day = day_typed(one(data, "day")) or book.on
        keep_what_was_shown(book, day)
        return Redirect(f"/?on={day}", status_code=303)


@post("/round/undo", media_type=MediaType.HTML, status_code=303)
@threaded
def undo_round(request: Asked, desk: Desk, data: Typed) -> Redirect:  # noqa: ARG001
    """Withdraws all that one press of a button wrote; it stays readable."""
    with desk.open() as book:
        ids = one(data, "ids").split()
        why = "the round was written down by mistake"
        count = len(withdraw_many(book.book, ids, why=why, pen=book.pen).entries)
        words = counted(
            "Undone: %(num)s fact withdrawn; they stay readable.",
            "Undone: %(num)s facts withdrawn; they stay readable.",
            count,
        )
        return _on_to(day_typed(one(data, "day")) or book.on, Saved(Just(words), data))


def _page(
    request: Asked,
    book: OpenDesk,
    day: date,
    *,
    named: bool,
    data: dict[str, Any] | None = None,
    fault: Refusal | None = None,
    saved: Saved | None = None,
) -> Response[str]:
    token = {"token": csrf_token({"request": request}), "once": secrets.token_hex(8)}
    who = book.who(request)
    if data is None and fault is None and saved is None:
        html = page_for(
            book,
            day,
            lambda: _html(book, day, named, {**_MARKS, "who": who}, {}, None, None),
            named=named,
            role=who.role,
        )
        for name, mark in _MARKS.items():
            html = html.replace(mark, token[name])
        return packed(request, html, 200)
    form = saved.form if saved else data or {}
    html = _html(
        book, day, named, {**token, "who": who}, form, fault, saved.just if saved else None
    )
    return packed(request, html, 422 if fault else 200)


_MARKS: Final = {name: f"{name}{secrets.token_hex(12)}" for name in ("token", "once")}
"""Stand in a page that is kept for what differs each time it is asked for."""


def _html(
    book: OpenDesk,
    day: date,
    named: bool,  # noqa: FBT001
    token: dict[str, Any],
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
        met=[(word, said(word)) for word in foremost(MET, (), recent_words(book.book))],
        dead=[(number, _("dead %(number)s", number=number)) for number in MANY_DEAD],
        why_not=[(word, gettext(word)) for word in WHY_NOT],
        for_a_shelf=FOR_A_SHELF,
        form=form,
        marked=marked(form),
        touched=touched(form),
        fault=fault,
        just=just,
        just_before=just.before(view) if just else 0,
        writable=told.date <= book.on,
        asked_for=named,
        fault_at=fault.field.partition("|")[2] if isinstance(fault, FormError) else "",
        tonight=told.date == book.on,
        late=[put for put in told.put_off if not put.risk.startswith("none")],
        **token,
    )
