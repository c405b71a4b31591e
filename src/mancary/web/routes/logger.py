"""A logger's file sent up for a shelf: written day by day, and undone in one press."""

import secrets
from typing import Annotated, Any, Final

from litestar import Response, get, post
from litestar.datastructures import UploadFile
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from msgspec import Struct

from mancary.husbandry.codes import natural
from mancary.husbandry.refusal import Refusal
from mancary.usecases.logger import LogTaken, take_log
from mancary.usecases.record import withdraw_many
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.once import written_by
from mancary.web.thermometers import instruments_named
from mancary.web.threads import threaded

MOST_BYTES: Final = 10_000_000
_ORDERS: Final = {"day": True, "month": False}
_UNITS: Final = ("c", "f")


class LogUpload(Struct):
    """The form: the file, and what to say where the file does not tell it."""

    log: UploadFile
    shelf: str = ""
    instrument: str = ""
    order: str = ""
    temperature: str = ""
    humidity: str = ""
    unit: str = ""
    once: str = ""


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
        try:
            taken = _taken(book, data.log.file.read(), form)
        except Refusal as fault:
            return _page(request, book, form=form, fault=fault, status=422)
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


def _taken(book: OpenDesk, data: bytes, form: dict[str, str]) -> LogTaken:
    if len(data) > MOST_BYTES:
        raise Refusal(f"This file is larger than {MOST_BYTES // 1_000_000} MB; split it first.")
    return take_log(
        book.book,
        form["shelf"],
        data,
        instrument=form["instrument"],
        day_first=_ORDERS.get(form["order"]),
        temperature=form["temperature"],
        humidity=form["humidity"],
        unit=form["unit"] if form["unit"] in _UNITS else "",
        pen=book.pen,
    )


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
        taken=taken,
        ids=ids,
        undone=undone,
        once=secrets.token_hex(16),
    )
