"""Taking in a sheet: choose it, see what each row means, mend, and write it in one go."""

from itertools import takewhile
from typing import Annotated, Any, Final

from litestar import Response, get, post
from litestar.datastructures import UploadFile
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body, Parameter
from litestar.response import Redirect
from msgspec import Struct

from mancary.book.trouble import MovedOn
from mancary.husbandry.cautions import cautions
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import SheetTakenIn
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.sheets.heading_words import ROLES
from mancary.sheets.reading import Table, read_table
from mancary.usecases.take_in import Reading, read_sheet, take
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.taking_in.incoming import MOST_BYTES, Incoming, Sheet
from mancary.web.taking_in.mending import Ask, Mend, Told, asks, carried, left_out, mends, told
from mancary.web.threads import threaded
from mancary.web.trying_again import try_again

_ROWS: Final = 60
_MENDED_AT_ONCE: Final = 60
_FORM: Final = RequestEncodingType.URL_ENCODED


class Upload(Struct):
    """The file of the form."""

    sheet: UploadFile


@get("/take-in", media_type=MediaType.HTML)
@threaded
def choose_page(request: Asked, desk: Desk) -> Response[str]:
    """Where a sheet is chosen, and the sheets that were not finished."""
    with desk.open() as book:
        return _choose(request, book)


@post(
    "/take-in",
    media_type=MediaType.HTML,
    status_code=303,
    request_max_body_size=MOST_BYTES + 100_000,
)
@threaded
def choose_sheet(
    request: Asked,
    desk: Desk,
    data: Annotated[Upload, Body(media_type=RequestEncodingType.MULTI_PART)],
) -> Response[str] | Redirect:
    """Keeps the file beside the book and shows what it says. Nothing is written yet."""
    with desk.open() as book:
        bytes_ = data.sheet.file.read()
        try:
            read_table(bytes_)
        except Refusal as fault:
            return _choose(request, book, fault=fault, status=422)
        sheet = Incoming(book.book.path).keep(bytes_, data.sheet.filename)
        return Redirect(f"/take-in/{sheet.mark}", status_code=303)


@get("/take-in/{mark:str}", media_type=MediaType.HTML)
@threaded
def sheet_page(request: Asked, desk: Desk, mark: str) -> Response[str]:
    """What a sheet would add, row by row."""
    with desk.open() as book:
        sheet = Incoming(book.book.path).fetch(mark)
        return _read(request, book, sheet, Told(answers={}, meanings={}, as_of=None))


@post("/take-in/{mark:str}", media_type=MediaType.HTML, status_code=200)
@threaded
def mend_sheet(
    request: Asked,
    desk: Desk,
    mark: str,
    data: Annotated[dict[str, Any], Body(media_type=_FORM)],
) -> Response[str] | Redirect:
    """Reads the sheet again with the answers; with ``do=take`` its understood rows are written."""
    with desk.open() as book:
        incoming = Incoming(book.book.path)
        sheet = incoming.fetch(mark)
        if data.get("do") == "drop":
            incoming.drop(mark)
            return Redirect("/take-in", status_code=303)
        if data.get("do") == "take":
            try:
                return _taken(request, book, incoming, sheet, told(data))
            except MovedOn as fault:
                at = f"/take-in/{mark}"
                return try_again(
                    request, book, {**data, "do": "take"}, address=at, back=at, fault=fault
                )
        after = str(data.get("show", "0"))
        return _read(request, book, sheet, told(data), after=int(after) if after.isdigit() else 0)


@get("/taken-in/{fact:str}", media_type=MediaType.HTML)
@threaded
def taken_page(
    request: Asked,
    desk: Desk,
    fact: str,
    facts: Annotated[int, Parameter(description="how many facts it wrote", ge=0)] = 0,
) -> Response[str]:
    """What taking a sheet in wrote, what of it was left out, and what to mind."""
    with desk.open() as book:
        entry = book.book.entry(fact)
        if entry is None or not isinstance(entry.fact, SheetTakenIn):
            raise UnknownSubject("sheet taken in under", fact[:36])
        kept = {sheet.mark for sheet in Incoming(book.book.path).waiting(now=book.pen.now())}
        return book.page(
            request,
            "taken.html",
            sheet=entry.fact,
            written=entry.written,
            waiting=entry.fact.sha256 in kept,
            minds=_minds(book, entry, facts),
        )


def _minds(book: OpenDesk, taken: Entry, facts: int) -> tuple[str, ...]:
    """The cautions beside the facts of a sheet, which stand just before the one about it."""
    found = book.book.entries(after=max(0, taken.number - 1 - facts))
    of_sheet = takewhile(lambda entry: entry.number < taken.number, found)
    return cautions(entry.fact for entry in of_sheet if entry.written == taken.written)


def _choose(
    request: Asked, book: OpenDesk, *, fault: Refusal | None = None, status: int = 200
) -> Response[str]:
    return book.page(
        request,
        "choose.html",
        status=status,
        fault=fault,
        waiting=Incoming(book.book.path).waiting(now=book.pen.now()),
        megabytes=MOST_BYTES // 1_000_000,
    )


def _reading(book: OpenDesk, sheet: Sheet, answered: Told) -> Reading:
    return read_sheet(
        book.book,
        sheet.data,
        sheet.name,
        now=book.pen.now(),
        answers=answered.answers,
        meanings=answered.meanings,
        as_of=answered.as_of,
    )


def _taken(
    request: Asked, book: OpenDesk, incoming: Incoming, sheet: Sheet, answered: Told
) -> Response[str] | Redirect:
    reading = _reading(book, sheet, answered)
    if reading.unused:
        return _read(request, book, sheet, answered, status=422)
    receipt = take(book.book, reading, now=book.pen.now())
    left = receipt.reading.rows_refused + receipt.reading.rows_asked
    if not left:
        incoming.drop(sheet.mark)
    if not receipt.receipt.written:
        return Redirect(f"/take-in/{sheet.mark}" if left else "/", status_code=303)
    address = f"/taken-in/{receipt.receipt.written[-1]}?facts={receipt.facts_written}"
    return Redirect(address, status_code=303)


def _read(
    request: Asked,
    book: OpenDesk,
    sheet: Sheet,
    answered: Told,
    *,
    after: int = 0,
    status: int = 200,
) -> Response[str]:
    table = read_table(sheet.data)
    try:
        reading = _reading(book, sheet, answered)
    except Refusal as fault:
        return _columns(request, book, sheet, table, answered, fault)
    faults, questions = mends(reading), asks(reading)
    shown_faults = faults[:_MENDED_AT_ONCE]
    shown_questions = questions[: max(0, _MENDED_AT_ONCE - len(shown_faults))]
    understood = [row for row in reading.rows if row.state == "understood"]
    out = left_out(reading)
    kept_out = [f"{row.line}" for row in out[:_MENDED_AT_ONCE]]
    return book.page(
        request,
        "sheet.html",
        status=status,
        out=out[:_MENDED_AT_ONCE],
        notes=reading.notes[len(reading.unused) :],
        sheet=sheet,
        reading=reading,
        faults=shown_faults,
        questions=shown_questions,
        unshown=len(faults) + len(questions) - len(shown_faults) - len(shown_questions),
        carried=carried(reading, [*_keys(shown_faults, shown_questions), *kept_out]),
        understood=understood[after : after + _ROWS],
        understood_after=after,
        understood_page=_ROWS,
        repeated=[row for row in reading.rows if row.state == "repeated"],
        meanings=answered.meanings,
        roles=ROLES,
        told_as_of=answered.as_of,
    )


def _keys(faults: list[Mend], questions: list[Ask]) -> list[str]:
    return [*(one.key for one in faults), *(one.key for one in questions)]


def _columns(
    request: Asked,
    book: OpenDesk,
    sheet: Sheet,
    table: Table,
    answered: Told,
    fault: Refusal,
) -> Response[str]:
    """The sheet cannot be read as it stands; the keeper says what its columns mean."""
    return book.page(
        request,
        "columns.html",
        status=422,
        sheet=sheet,
        table=table,
        fault=fault,
        meanings=answered.meanings,
        roles=ROLES,
    )
