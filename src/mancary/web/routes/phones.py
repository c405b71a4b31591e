"""At the desk: the address and the code for a phone, paired phones, passes of stand-ins."""

from typing import Annotated, Any
from urllib.parse import quote, urlsplit

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect
from msgspec import Struct

from mancary.access.fingerprints import fingerprint
from mancary.access.pairing import GOOD_FOR
from mancary.husbandry.refusal import Refusal
from mancary.paper.qr import qr_code
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.forms import FormError
from mancary.web.recent import Recent
from mancary.web.threads import threaded
from mancary.web.tongue import _
from mancary.web.typed import day_typed

_LINKS: Recent[str, str] = Recent(16)
"""Links of passes just given: shown once, by their id, and kept nowhere else."""


class PhonesForm(Struct, frozen=True, kw_only=True):
    """What is done with a phone or a pass, as typed."""

    do: str = ""
    id: str = ""
    name: str = ""
    leaving: str = ""
    back: str = ""
    password: str = ""


@get("/phones", media_type=MediaType.HTML, who="desk")
@threaded
def phones_page(request: Asked, desk: Desk, given: str = "") -> Response[str]:
    """How a phone gets in, and who has been let in. ``given`` is a pass made a moment ago."""
    with desk.open() as book:
        return _page(request, book, desk, given=given)


@post("/phones", media_type=MediaType.HTML, status_code=303, who="desk")
@threaded
def change_phones(
    request: Asked,
    desk: Desk,
    data: Annotated[PhonesForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Signs a phone out, gives or takes back a pass, sets or clears the password."""
    keeper = desk.entrance.keeper
    with desk.open() as book:
        try:
            match data.do:
                case "remove-phone":
                    keeper.remove_phone(data.id)
                case "remove-pass":
                    keeper.remove_pass(data.id)
                case "give-pass":
                    return Redirect(f"/phones?given={_give(desk, book, data)}#passes")
                case "password":
                    keeper.set_password(data.password)
                case _:
                    raise FormError("do", _("Say what is to be done."))
        except Refusal as fault:
            return _page(request, book, desk, form=data, fault=fault)
    return Redirect("/phones", status_code=303)


def _give(desk: Desk, book: OpenDesk, data: PhonesForm) -> str:
    leaving = day_typed(data.leaving, "leaving") or book.on
    back = day_typed(data.back, "back") or leaving
    token = desk.entrance.keeper.give_pass(data.name, leaving=leaving, back=back)
    made = desk.entrance.keeper.access().passes[-1]
    _LINKS.put(made.id, token)
    return made.id


def _plain(asked: Asked, at: str) -> str:
    """Where the network is answered without HTTPS: at the desk's own port."""
    return f"http://{urlsplit(at).hostname}:{asked.url.port or 80}"


def _page(
    request: Asked,
    book: OpenDesk,
    desk: Desk,
    *,
    form: PhonesForm | None = None,
    fault: Refusal | None = None,
    given: str = "",
) -> Response[str]:
    reach, access = desk.entrance.reach, desk.entrance.keeper.access()
    code = desk.entrance.keeper.code.shown()
    at = reach.addresses[0] if reach.addresses else ""
    token = _LINKS.find(given)
    link = f"{at}/stand-in/{quote(token)}" if token and at else ""
    told: dict[str, Any] = {
        "addresses": reach.addresses,
        "way": _plain(request, reach.addresses[0]) if reach.authority else "",
        "print": fingerprint(reach.authority) if reach.authority else "",
        "code": code,
        "minutes": int(GOOD_FOR.total_seconds() // 60),
        "qr": qr_code(f"{at}/PAIR/{code.replace(' ', '')}".upper()).svg if at else "",
        "phones": access.phones,
        "passes": access.passes,
        "password_set": bool(access.password),
        "link": link,
        "link_qr": qr_code(link).svg if link else "",
    }
    return book.page(
        request,
        "phones.html",
        here="/phones",
        status=422 if fault else 200,
        form=form or PhonesForm(),
        fault=fault,
        **told,
    )
