"""A phone is paired with the code shown at the desk, or signed in with the password."""

from typing import Annotated

from litestar import Request, Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body, Parameter
from litestar.response import Redirect
from msgspec import Struct

from mancary.access.doorkeeper import TooManyTries
from mancary.husbandry.refusal import Refusal
from mancary.web.desk import Asked, Desk
from mancary.web.entering import client_of
from mancary.web.threads import threaded


class PairForm(Struct, frozen=True, kw_only=True):
    """What was typed on the phone: the code, or the password, and what the phone is called."""

    code: str = ""
    password: str = ""
    name: str = ""


@get(["/pair", "/pair-with/{code:str}"], media_type=MediaType.HTML, who="anyone")
@threaded
def pair_page(
    request: Asked,
    desk: Desk,
    code: Annotated[str, Parameter(description="as it stands in the QR code")] = "",
) -> Response[str]:
    """Asks for the code and for a name; a QR code brings the code along."""
    return entrance_page(request, desk, form=PairForm(code=code[:20]))


@post("/pair", media_type=MediaType.HTML, status_code=303, who="anyone")
@threaded
def pair(
    request: Asked,
    desk: Desk,
    data: Annotated[PairForm, Body(media_type=RequestEncodingType.URL_ENCODED)],
) -> Response[str] | Redirect:
    """Lets the phone in for as long as it is not signed out."""
    keeper, address = desk.entrance.keeper, client_of(request.scope)
    at_desk = desk.entrance.at_desk(request)
    try:
        if data.password or at_desk:
            token = keeper.sign_in(data.password, data.name, address=address, at_desk=at_desk)
        else:
            token = keeper.pair(data.code, data.name, address=address)
    except TooManyTries as fault:
        answer = entrance_page(request, desk, status=429, form=data, fault=fault)
        answer.headers["retry-after"] = str(int(fault.wait.total_seconds()) + 1)
        return answer
    except Refusal as fault:
        return entrance_page(request, desk, status=422, form=data, fault=fault)
    return Redirect("/", status_code=303, cookies=[desk.entrance.cookie(token)])


@post("/leave", media_type=MediaType.HTML, status_code=303, who="stand_in")
@threaded
def leave(request: Asked, desk: Desk) -> Redirect:
    """Signs this phone out; what it was signed in with opens nothing any more."""
    who = desk.entrance.who(request)
    if who.role == "keeper":
        desk.entrance.keeper.remove_phone(who.id)
    return Redirect("/pair", status_code=303, cookies=[desk.entrance.cookie("")])


def entrance_page(
    request: Request,  # type: ignore[type-arg]
    desk: Desk,
    *,
    status: int = 200,
    form: PairForm | None = None,
    fault: Refusal | None = None,
) -> Response[str]:
    """The page for one who is not let in: it tells nothing of the book, not even its name."""
    return desk.page(
        request,
        "pair.html",
        status=status,
        form=form or PairForm(),
        fault=fault,
        at_desk=desk.entrance.at_desk(request),
        password_set=bool(desk.entrance.keeper.access().password),
    )
