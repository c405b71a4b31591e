"""The keeper's own figures that bear on a box or a species: whose holds, and what can be chosen."""

from collections.abc import Sequence
from typing import Annotated, Final

from msgspec import Meta, Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import FigureChosen
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.register import Register
from mancary.husbandry.words import figure_said
from mancary.usecases.figures import CHOOSABLE, choose_figure
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded
from mancary.usecases.species_names import species_name
from mancary.web.chooser import Word
from mancary.web.forms import FormError
from mancary.web.tongue import N_, _, gettext, sentence
from mancary.web.typed import number_typed, tidy
from mancary.web.vocabulary import range_said

SCOPES: Final = ("box", "line", "species", "care_group", "all")
_PROTEIN: Final = "protein_feeds_per_week"


class FigureForm(Struct, frozen=True, kw_only=True):
    """A figure chosen or given back; ``scope`` is "line:CODE" and its like, or "all:"."""

    once: Annotated[str, Meta(max_length=64)] = ""
    do: Annotated[str, Meta(max_length=32)] = "choose"
    figure: Annotated[str, Meta(max_length=96)] = ""
    low: str = ""
    high: str = ""
    scope: Annotated[str, Meta(max_length=128)] = ""
    why: str = ""


class Scope(Struct, frozen=True, kw_only=True):
    """What a figure is for. ``aside`` is a part of the page's subject, which it does not rule."""

    kind: str
    code: str
    words: str
    aside: bool = False

    @property
    def value(self) -> str:
        return f"{self.kind}:{self.code}"


class HeldFigure(Struct, frozen=True, kw_only=True):
    """One figure of the keeper's own; ``gives_way`` names the nearer choice that holds instead."""

    fact: FigureChosen
    name: str
    said: str
    scope: Scope
    gives_way: str


class FigureView(Struct, frozen=True, kw_only=True):
    """Own figures, the nearest first, and the names and scopes a new one may have."""

    held: tuple[HeldFigure, ...]
    scopes: tuple[Scope, ...]
    names: tuple[Word, ...]


def figures_of_box(register: Register, code: str) -> FigureView:
    """The own figures that bear on a box."""
    line = register.line_in(code)
    scopes = [Scope(kind="box", code=code, words=_("this box, %(code)s", code=code))]
    if line:
        name = species_name(register, line.species)
        scopes.append(
            Scope(kind="line", code=line.slug, words=_("this line, %(slug)s", slug=line.slug))
        )
        scopes.append(
            Scope(
                kind="species", code=line.species, words=_("the species %(name)s", name=name.name)
            )
        )
        scopes += _of_group(name.care_group)
    return _view(register, [*scopes, _ALL])


def figures_of_species(register: Register, slug: str, group: str) -> FigureView:
    """The own figures that bear on a species, those of its lines beside them."""
    lines = [
        Scope(kind="line", code=line.slug, words=_("the line %(slug)s", slug=line.slug), aside=True)
        for line in register.lines.values()
        if line.species == slug
    ]
    own = Scope(kind="species", code=slug, words=_("this species"))
    return _view(register, [own, *_of_group(group), _ALL, *lines])


_ALL: Final = Scope(kind="all", code="", words=N_("all boxes"))


def _of_group(group: str) -> list[Scope]:
    known = {one.slug: one.name for one in handbook.groups()}
    if group not in known:
        return []
    return [
        Scope(
            kind="care_group",
            code=group,
            words=_("the care group %(group)s", group=gettext(known[group])),
        )
    ]


def _view(register: Register, scopes: Sequence[Scope]) -> FigureView:
    holds: dict[str, str] = {}
    held = []
    for scope in scopes:
        for (kind, code, name), fact in register.figures.items():
            if (kind, code) == (scope.kind, scope.code):
                nearer = "" if scope.aside else holds.get(name, "")
                held.append(_held(fact, scope, nearer))
                if not scope.aside:
                    holds.setdefault(name, scope.words)
    names = tuple(Word(value=name, words=named(name)) for name in CHOOSABLE)
    return FigureView(held=tuple(held), scopes=tuple(scopes), names=names)


def named(figure: str) -> str:
    """A figure that can be chosen, with its unit in words: "vegetable, days between"."""
    return _("protein, feeds a week") if figure == _PROTEIN else gettext(figure_said(figure))


def _held(fact: FigureChosen, scope: Scope, gives_way: str) -> HeldFigure:
    return HeldFigure(
        fact=fact,
        name=named(fact.figure),
        said=range_said(fact.low, fact.high),
        scope=scope,
        gives_way=gives_way,
    )


def choose(book: Book, form: FigureForm, *, pen: Pen) -> Recorded:
    """Writes the figure, or gives it back.

    Raises:
        FormError: naming the field.
    """
    kind, _colon, code = form.scope.partition(":")
    if kind not in SCOPES:
        raise FormError("scope", _("Choose what it is for."))
    if form.figure not in CHOOSABLE:
        raise FormError("figure", _("Choose which figure."))
    low = high = None
    if form.do != "back":
        low, high = number_typed(form.low, "low"), number_typed(form.high, "high")
        if low is None and high is None:
            raise FormError("low", _("Say a number."))
    try:
        return choose_figure(
            book,
            form.figure,
            low=low,
            high=high,
            why=tidy(form.why),
            scopes={} if kind == "all" else {kind: code},
            pen=pen,
        )
    except Refusal as fault:
        raise FormError("low", sentence(fault)) from None
