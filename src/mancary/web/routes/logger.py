"""A logger's file sent up for a shelf: written day by day, and undone in one press."""

import secrets
from typing import Annotated, Any, Final

from litestar import Response, get, post
from litestar.datastructures import UploadFile
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from msgspec import Struct

from mancary.husbandry.codes import natural
from mancary.husbandry.entries import Entry
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.sheets.logger_unsaid import Unsaid
from mancary.usecases.logger import LogTaken, OtherFigures, take_log
from mancary.usecases.minds import minds
from mancary.usecases.record import withdraw_many
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.once import written_by
from mancary.web.taking_in.incoming import Incoming
from mancary.web.thermometers import instruments_named
from mancary.web.threads import threaded
from mancary.web.tongue import _

MOST_BYTES: Final = 10_000_000
_ORDERS: Final = {"day": True, "month": False}
_UNITS: Final = ("c", "f")


class LogUpload(Struct):
    """The form: the file, and what to say where the file does not tell it."""

    log: UploadFile | None = None
    kept: str = ""
    replace: str = ""
    shelf: str = ""
    instrument: str = ""
    order: str = ""
    temperature: str = ""
    humidity: str = ""
    unit: str = ""
    once: str = ""


class FileGone(Refusal):
    """No file was sent, and none waits from before."""


@get("/shelves/logger", media_type=MediaType.HTML)
@threaded
def logger_page(request: Asked, desk: Desk) -> Response[str]:
    """The form for a logger's file, alone."""
    with desk.open() as book:
        return _page(request, book)


@post(
    "/shelves/logger",
    media_type=MediaType.HTML,
    status_code=201,
    request_max_body_size=MOST_BYTES + 100_000,
)
@threaded
def take_logger(
    request: Asked,
    desk: Desk,
    data: Annotated[LogUpload, Body(media_type=RequestEncodingType.MULTI_PART)],
) -> Response[str]:
    """Writes one reading for each day of the log; the same file again writes nothing."""
    with desk.open() as book:
        form = {
            name: told[:200]
            for name in data.__struct_fields__
            if isinstance(told := getattr(data, name), str)
        }
        sent = data.log.file.read() if data.log else b""
        waiting = Incoming(book.book.path.with_name(f"{book.book.path.name}.loggers"))
        try:
            log = sent or _kept(waiting, form["kept"])
            taken = _taken(book, log, form)
        except FileGone as fault:
            return _page(request, book, form={**form, "kept": ""}, fault=fault, status=422)
        except Refusal as fault:
            if sent and len(sent) <= MOST_BYTES:
                waiting.waiting(now=book.pen.now())  # throws away what nobody came back for
                name = data.log.filename if data.log else ""
                form |= {"kept": waiting.keep(sent, name).mark, "name": name}
            elif form["kept"]:
                form["name"] = waiting.fetch(form["kept"]).name
            return _page(request, book, form=form, fault=fault, status=422)
        waiting.drop(form["kept"])
        ids = written_by(form["once"][:64], taken.ids)
        return _page(request, book, taken=taken, ids=ids, status=201)


@post("/shelves/logger/undo", media_type=MediaType.HTML, status_code=201)
@threaded
def undo_logger(
    request: Asked,
    desk: Desk,
    data: Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str]:
    """Withdraws all that one file wrote; days it had put in the place of others stand again."""
    with desk.open() as book:
        why = "the log was taken in by mistake"
        ids = str(data.get("ids", "")).split()
        undone = withdraw_many(book.book, ids, why=why, pen=book.pen)
        return _page(request, book, undone=len(undone.entries), status=201)


def _kept(waiting: Incoming, mark: str) -> bytes:
    """The file of the answer before, which a browser does not send twice."""
    try:
        return waiting.fetch(mark).data
    except UnknownSubject:
        raise FileGone(_("Choose the logger's file.")) from None


def _taken(book: OpenDesk, data: bytes, form: dict[str, str]) -> LogTaken:
    if len(data) > MOST_BYTES:
        raise Refusal(
            _("This file is larger than %(most)s MB; split it first.", most=MOST_BYTES // 1_000_000)
        )
    return take_log(
        book.book,
        form["shelf"],
        data,
        instrument=form["instrument"],
        day_first=_ORDERS.get(form["order"]),
        temperature=form["temperature"],
        humidity=form["humidity"],
        unit=form["unit"] if form["unit"] in _UNITS else "",
        replace=bool(form["replace"]),
        pen=book.pen,
    )


def _entries(book: OpenDesk, ids: tuple[str, ...]) -> list[Entry]:
    return [entry for one in ids if (entry := book.book.entry(one)) is not None]


def _page(
    request: Asked,
    book: OpenDesk,
    *,
    status: int = 200,
    form: dict[str, str] | None = None,
    fault: Refusal | None = None,
    taken: LogTaken | None = None,
    ids: tuple[str, ...] = (),
    undone: int | None = None,
) -> Response[str]:
    shelves = register_of(book.book, book.zone, until=book.on).shelves.values()
    return book.page(
        request,
        "logged.html",
        status=status,
        logger_shelves=[
            one.code for one in sorted(shelves, key=lambda one: (one.turn, natural(one.code)))
        ],
        instruments=instruments_named(book.book, on=book.on, zone=book.zone),
        logger_form=form or {},
        logger_fault=fault,
        logger_wrong=fault.what if isinstance(fault, Unsaid) else "",
        logger_differs=isinstance(fault, OtherFigures),
        minds=minds(book.book, _entries(book, taken.ids)) if taken else (),
        taken=taken,
        ids=ids,
        undone=undone,
        once=secrets.token_hex(16),
    )
