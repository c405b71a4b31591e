"""The bench of vents: which holes to drill, several choices side by side, the box drawn."""

from itertools import groupby
from urllib.parse import urlencode

from litestar import Response, get
from litestar.enums import MediaType
from msgspec import Struct
from msgspec.structs import asdict

from mancary import handbook
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.vent_choices import LAYOUTS, Choice
from mancary.husbandry.vent_said import share_said, span_said
from mancary.usecases.vents import VentsAnswer, drawn, vents_for
from mancary.web.desk import Asked, Desk
from mancary.web.drawing.ends import Ends, ends
from mancary.web.drawing.plan import plan
from mancary.web.forms import FormError
from mancary.web.threads import threaded
from mancary.web.tongue import gettext
from mancary.web.vents_form import VentsForm, vents_form


class ChoiceLine(Struct, frozen=True, kw_only=True):
    """A choice, and the address under which it is the one that is drawn."""

    choice: Choice
    address: str
    shown: bool
    advised: bool


class LayoutView(Struct, frozen=True, kw_only=True):
    """All drills of one layout."""

    name: str
    words: str
    lines: list[ChoiceLine]


@get("/vents", media_type=MediaType.HTML)
@threaded
def vents_page(request: Asked, desk: Desk) -> Response[str]:
    """Holes for a box, a species and a place; what is asked stands in the address alone."""
    form = vents_form(dict(request.query_params))
    with desk.open() as book:
        found, fault = None, None
        if form.asked:
            try:
                found = vents_for(book.book, form.wish())
            except Refusal as refusal:
                fault = refusal
        shown = _shown(found, form.draw) if found else None
        return book.page(
            request,
            "vents.html",
            status=422 if fault else 200,
            form=form,
            found=found,
            fault=fault,
            wrong=fault.field if isinstance(fault, FormError) else "",
            classes=list(handbook.ventilations().values()),
            class_room=handbook.ventilation_room(),
            layouts=_layouts(found, form, shown) if found else [],
            shown=shown,
            shown_words=gettext(LAYOUTS[shown.layout]) if shown else "",
            drawn_box=drawn(found, shown) if found else None,
            plan_of=plan(drawn(found, shown)) if found else None,
            ends_of=_ends(found, shown) if found else None,
            span=span_said,
            share=share_said,
        )


def _mark(choice: Choice) -> str:
    return "-".join(part for part in (choice.layout, f"{choice.mm:g}", choice.mesh) if part)


def _shown(found: VentsAnswer, draw: str) -> Choice | None:
    """The choice the address names, else the one that is advised."""
    named = [one for one in found.choices if _mark(one) == draw]
    return named[0] if named else found.take.choice if found.take else None


def _layouts(found: VentsAnswer, form: VentsForm, shown: Choice | None) -> list[LayoutView]:
    asked = {name: value for name, value in asdict(form).items() if value and name != "draw"}
    return [
        LayoutView(
            name=layout,
            words=gettext(LAYOUTS[layout]),
            lines=[
                ChoiceLine(
                    choice=one,
                    address=f"/vents?{urlencode({**asked, 'draw': _mark(one)})}#drawn",
                    shown=one is shown,
                    advised=found.take is not None and one is found.take.choice,
                )
                for one in made
            ],
        )
        for layout, made in groupby(found.choices, key=lambda one: one.layout)
    ]


def _ends(found: VentsAnswer, shown: Choice | None) -> Ends | None:
    if shown is None or shown.layout == "lid":
        return None
    box = found.box
    air_cm = box.air_litres * 1000 / (box.length_cm * box.width_cm)
    return ends(box.width_cm, box.height_cm, air_cm, shown.layout, shown.vents)
