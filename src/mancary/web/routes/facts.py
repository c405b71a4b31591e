"""One fact: what it says, and calling it a mistake."""

from typing import Annotated

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.book.trouble import MovedOn
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import BookOpened, Withdrawn
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.husbandry.telling import told
from mancary.usecases.record import correct, withdraw
from mancary.web.chooser import CORRECTABLE, drawers
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import CorrectForm, FormError, WithdrawForm, as_told
from mancary.web.threads import threaded
from mancary.web.tongue import _
from mancary.web.trying_again import try_again
from mancary.web.wording import box_address, fact_address
from mancary.web.written import written_address


@get("/facts/{fact:str}", media_type=MediaType.HTML)
@threaded
def fact_page(request: Asked, desk: Desk, fact: str) -> Response[str]:
    """One fact, when it happened and was written, and the forms to withdraw or correct it."""
    with desk.open() as book:
        return _fact_page(request, book, _entry(book, fact))


@post("/facts/{fact:str}/withdraw", media_type=MediaType.HTML, status_code=303)
@threaded
def withdraw_fact(
    request: Asked,
    desk: Desk,
    fact: str,
    data: Annotated[WithdrawForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Calls a fact a mistake; it stays readable, with the reason beside it.

    Where later facts rest on it, this is said first, with a tick to withdraw it even so.
    """
    with desk.open() as book:
        entry = _entry(book, fact)
        at = fact_address(entry.id)
        even_so = bool(data.even_so) and not isinstance(entry.fact, BookOpened)
        why = data.why.strip()
        try:
            withdraw(book.book, entry.id, why=why, even_so=even_so, pen=book.pen)
        except MovedOn as moved:
            again = f"{at}/withdraw"
            return try_again(request, book, data, address=again, back=at, fault=moved)
        except Refusal as refused:
            return _fact_page(request, book, entry, refused=refused, withdrawing=data)
        return Redirect(f"{_home_of(entry)}#timeline", status_code=303)


@post("/facts/{fact:str}/correct", media_type=MediaType.HTML, status_code=303)
@threaded
def correct_fact(
    request: Asked,
    desk: Desk,
    fact: str,
    data: Annotated[CorrectForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Withdraws a fact and writes another in its place, both or neither."""
    with desk.open() as book:
        entry = _entry(book, fact)
        try:
            written = _corrected(book, entry, data)
        except FormError as fault:
            return _fact_page(request, book, entry, fault=fault, said=data)
        except MovedOn as moved:
            at = fact_address(entry.id)
            again = f"{at}/correct"
            return try_again(request, book, data, address=again, back=at, fault=moved)
        return Redirect(written_address(_home_of(entry), [written]), status_code=303)


def _corrected(book: OpenDesk, entry: Entry, data: CorrectForm) -> str:
    box = _box_of(entry)
    if entry.fact.kind not in CORRECTABLE or not box:
        raise Refusal(_("This fact is not told by one word; withdraw it and write what is true."))
    happened = data.happened()
    (better,) = data.facts(box)
    receipt = correct(
        book.book, entry.id, better, why=data.why.strip(), pen=book.pen, happened=happened
    )
    return receipt.entries[0].id


def _entry(book: OpenDesk, fact_id: str) -> Entry:
    entry = book.book.entry(fact_id.strip().lower())
    if entry is None:
        raise UnknownSubject("fact", fact_id)
    return entry


def _box_of(entry: Entry) -> str:
    boxes = [subject[4:] for subject in entry.fact.subjects() if subject.startswith("box:")]
    return boxes[0] if boxes else ""


def _home_of(entry: Entry) -> str:
    box = _box_of(entry)
    return box_address(box) if box else "/"


def _withdrawals(book: OpenDesk, entry: Entry) -> list[Entry]:
    about = book.book.entries_about(f"fact:{entry.id}")
    return [one for one in about if isinstance(one.fact, Withdrawn) and not _gone(book, one)]


def _gone(book: OpenDesk, entry: Entry) -> bool:
    return bool(_withdrawals(book, entry))


def _fact_page(
    request: Asked,
    book: OpenDesk,
    entry: Entry,
    *,
    fault: FormError | None = None,
    said: CorrectForm | None = None,
    refused: Refusal | None = None,
    withdrawing: WithdrawForm | None = None,
) -> Response[str]:
    withdrawals = _withdrawals(book, entry)
    return book.page(
        request,
        "fact.html",
        status=422 if fault else 409 if refused else 200,
        entry=entry,
        words=told(entry.fact),
        box=_box_of(entry),
        withdrawn=withdrawals[-1] if withdrawals else None,
        correctable=entry.fact.kind in CORRECTABLE and bool(_box_of(entry)),
        drawers=drawers(),
        fault=fault,
        told=said or as_told(entry.fact),
        refused=refused,
        withdrawing=withdrawing or WithdrawForm(),
        fixed=isinstance(entry.fact, BookOpened),
    )
