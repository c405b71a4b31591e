"""The sheet of one absence on a stand-in's phone: what goes into which box, and was it done."""

from collections.abc import Iterator
from typing import Annotated, Any

from litestar import Response, get, post
from litestar.enums import MediaType, RequestEncodingType
from litestar.params import Body
from litestar.response import Redirect

from mancary.access import Pass
from mancary.husbandry.facts import Amount, CareGiven, Fact, Noted
from mancary.husbandry.refusal import Refusal
from mancary.usecases.away import Away, plan_absence
from mancary.usecases.record import write_entries
from mancary.usecases.stand_in import racks_of
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.drawing.standing_on import shelf_said
from mancary.web.entering import NotForYou, NotLetIn
from mancary.web.once import OncePen
from mancary.web.round_form import many, one
from mancary.web.threads import threaded
from mancary.web.tongue import _

LONGEST_NOTE = 1000
Typed = Annotated[dict[str, Any], Body(media_type=RequestEncodingType.URL_ENCODED)]


@get("/stand-in/{token:str}", media_type=MediaType.HTML, who="anyone")
@threaded
def open_pass(desk: Desk, token: str) -> Redirect:
    """The link a stand-in was given: it is remembered on the phone, and the sheet opens."""
    if desk.entrance.keeper.who(token, at_desk=False).role != "stand_in":
        raise NotLetIn
    return Redirect("/stand-in", status_code=303, cookies=[desk.entrance.cookie(token)])


@get("/stand-in", media_type=MediaType.HTML, who="stand_in")
@threaded
def stand_in_page(request: Asked, desk: Desk, written: int = 0) -> Response[str]:
    """The sheet as it was planned for the day of leaving, with what is written down already."""
    with desk.open() as book:
        return _page(request, book, _pass(request, desk), written=written)


@post("/stand-in", media_type=MediaType.HTML, status_code=303, who="stand_in")
@threaded
def stand_in_done(request: Asked, desk: Desk, data: Typed) -> Response[str] | Redirect:
    """Writes down the boxes that were wetted on a visit; sent twice it is written once."""
    with desk.open() as book:
        given = _pass(request, desk)
        try:
            number = _written(book, given, data)
        except Refusal as fault:
            return _page(request, book, given, fault=fault)
    return Redirect(f"/stand-in?written={number}", status_code=303)


def _pass(request: Asked, desk: Desk) -> Pass:
    found = desk.entrance.keeper.pass_of(desk.entrance.who(request).id)
    if found is None:
        raise NotForYou
    return found


def _plan(book: OpenDesk, given: Pass) -> Away:
    return plan_absence(book.book, leaving=given.leaving, back=given.back)


def _written(book: OpenDesk, given: Pass, data: dict[str, Any]) -> int:
    plan = _plan(book, given)
    if book.on < given.leaving:
        raise Refusal(
            _(
                "The absence begins on %(leaving)s; until then nothing is written down.",
                leaving=given.leaving,
            )
        )
    wetted = [told.partition("|") for told in many(data, "wetted")]
    entries = []
    for number, _bar, box in wetted:
        entries += [
            _pen(book, given, f"{number}|{box}").entry(fact)
            for fact in _facts(plan, given, number, box)
        ]
    if text := one(data, "note")[:LONGEST_NOTE]:
        fact = Noted(what="book", text=f"{given.name}, standing in: {text}")
        entries.append(_pen(book, given, f"note|{text}").entry(fact))
    return len(write_entries(book.book, entries, pen=book.pen).entries)


def _facts(plan: Away, given: Pass, number: str, box: str) -> Iterator[Fact]:
    """Only what stands on the sheet can be written."""
    visits = {str(count): visit for count, visit in enumerate(plan.visits, 1)}
    told = next((each for each in plan.boxes if each.box == box), None)
    if told is None or told.pour is None or box not in visits.get(number, _NONE).boxes:
        raise Refusal(
            _("Box %(box)s is not to be wetted on visit %(number)s.", box=box, number=number)
        )
    yield CareGiven(
        box=box,
        care="mist",
        amount=Amount(low=told.pour.low_ml, high=told.pour.high_ml, unit="mL"),
        note=f"{given.name}, standing in, visit {number}",
    )


class _NONE:
    boxes: tuple[str, ...] = ()


def _pen(book: OpenDesk, given: Pass, what: str) -> OncePen:
    return OncePen(book.pen, f"stand-in|{given.id}|{what}")


def _page(
    request: Asked,
    book: OpenDesk,
    given: Pass,
    *,
    fault: Refusal | None = None,
    written: int = 0,
) -> Response[str]:
    plan = _plan(book, given)
    done = {
        (number, box)
        for number, visit in enumerate(plan.visits, 1)
        for box in visit.boxes
        if _pen(book, given, f"{number}|{box}").written(book.book)
    }
    return book.page(
        request,
        "stand_in.html",
        status=422 if fault else 200,
        given=given,
        plan=plan,
        racks=racks_of(plan.rack),
        shelf_said=shelf_said,
        done=done,
        fault=fault,
        written=written,
        begun=book.on >= given.leaving,
        longest=LONGEST_NOTE,
    )
