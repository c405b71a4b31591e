"""Work on one box and its colony: found, moved, split, joined, ended, set apart, described."""

import secrets
from typing import Annotated

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.book.trouble import MovedOn
from mancary.husbandry.cautions import RULES, WAIT
from mancary.usecases.record import known_box
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.once import OncePen
from mancary.web.threads import threaded
from mancary.web.trying_again import try_again
from mancary.web.wording import box_address, work_address
from mancary.web.working.doing import box_after, do_work
from mancary.web.working.form import NotSure, WorkForm
from mancary.web.working.view import CAUSES, confirming, work_view
from mancary.web.written import written_address


@get("/box-work/{box:path}", media_type=MediaType.HTML)
@threaded
def work_page(
    request: Asked, desk: Desk, box: str, do: str = "", animals: str = ""
) -> Response[str]:
    """The forms for work on a box and the colony in it; ``do`` opens one of them."""
    with desk.open() as book:
        form = WorkForm(do=do[:32], animals=animals[:200])
        return _work_page(request, book, known_box(book.book, box.strip("/")), form=form)


@post("/box-work/{box:path}", media_type=MediaType.HTML, status_code=303)
@threaded
def work_done(
    request: Asked,
    desk: Desk,
    box: str,
    data: Annotated[WorkForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Writes what was done; on disk when this answers. The same form again is written once."""
    with desk.open() as book:
        code = known_box(book.book, box.strip("/"))
        try:
            ids = _written(book, code, data)
        except FormError as fault:
            return _work_page(request, book, code, form=data, fault=fault)
        except MovedOn as fault:
            at = work_address(code)
            return try_again(request, book, data, address=f"{at}#{data.do}", back=at, fault=fault)
        return Redirect(written_address(box_address(box_after(code, data)), ids), status_code=303)


def _written(book: OpenDesk, code: str, data: WorkForm) -> list[str]:
    pen = OncePen.of_form(book.pen, data, data.once, where=f"work on {code}")
    if before := pen.written(book.book):
        return before
    return [entry.id for entry in do_work(book.book, code, data, pen=pen).entries]


def _work_page(
    request: Asked,
    book: OpenDesk,
    code: str,
    *,
    form: WorkForm | None = None,
    fault: FormError | None = None,
) -> Response[str]:
    register = register_of(book.book, book.zone, until=book.on)
    asks = isinstance(fault, NotSure) and form
    return book.page(
        request,
        "work.html",
        status=422 if fault else 200,
        here=box_address(code),
        view=work_view(register, code, on=book.on),
        confirm=confirming(book.book, register, form.species) if asks and form else None,
        causes=CAUSES,
        rules=RULES,
        wait=WAIT,
        form=form or WorkForm(),
        fault=fault,
        once=form.once if form and form.once else secrets.token_hex(16),
    )
