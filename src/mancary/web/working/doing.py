"""From a form of the work page to the use-case that does it."""

from collections.abc import Callable, Mapping
from typing import Any, Final, cast, get_args

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.codes import code
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.husbandry.words import EndCause
from mancary.sheets.values.measures import read_cm, read_litres, read_share
from mancary.sheets.values.vents import told_vents
from mancary.usecases import colony_work, set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, past
from mancary.usecases.standings import register_of
from mancary.web.forms import FormError
from mancary.web.tongue import N_, _, sentence
from mancary.web.typed import (
    day_typed,
    measure_typed,
    moment_typed,
    number_typed,
    tidy,
    whole_typed,
)
from mancary.web.working.form import WorkForm

_PLAIN: Final = frozenset({"", N_("a range")})
"""Numbers that are read as they are written; of others the keeper's own words are kept too."""

INTO_ANOTHER: Final = frozenset({"move", "split", "join"})
"""Works after which the animals are in the other box."""


class Bench(Struct, frozen=True, kw_only=True):
    """The open book, the box that stands on the bench, the pen, and when it was."""

    book: Book
    box: str
    pen: Pen
    happened: Moment | None


def do_work(book: Book, box: str, form: WorkForm, *, pen: Pen) -> Recorded:
    """Does what the form says with the box.

    Raises:
        FormError: naming the field, or with an empty field for the whole form.
        MovedOn: when something else was written meanwhile.
    """
    work = _WORKS.get(form.do)
    if work is None:
        raise FormError("", _("Choose what was done."))
    try:
        happened = past(book, moment_typed(form.day), pen=pen)
    except FormError:
        raise
    except Refusal as fault:
        raise FormError("day", sentence(fault)) from None
    try:
        return work(Bench(book=book, box=box, pen=pen, happened=happened), form)
    except FormError:
        raise
    except UnknownSubject as fault:
        raise FormError("to" if form.do in INTO_ANOTHER else "", sentence(fault)) from None
    except Refusal as fault:
        raise FormError("", sentence(fault)) from None


def box_after(box: str, form: WorkForm) -> str:
    """The box to look at when the work is done."""
    return code(form.to) if form.do in INTO_ANOTHER else box


def _other(form: WorkForm) -> str:
    if not form.to.strip():
        raise FormError("to", _("Say which box."))
    try:
        return code(form.to)
    except Refusal as fault:
        raise FormError("to", sentence(fault)) from None


def _animals(form: WorkForm) -> int | None:
    return whole_typed(form.animals, "animals", _("a number of animals"))


def _found(at: Bench, form: WorkForm) -> Recorded:
    told = form.founders()
    words = f"as written: {told.as_written}" if told and told.said not in _PLAIN else ""
    return colony_work.found(
        at.book,
        at.box,
        form.sure_species(at.book),
        as_bought=tidy(form.species) or form.page,
        pen=at.pen,
        morph=tidy(form.morph),
        source=tidy(form.source),
        locality=tidy(form.locality),
        founders=(told.low, told.high) if told else (None, None),
        happened=at.happened,
        note="; ".join(part for part in (tidy(form.note), words) if part),
    )


def _move(at: Bench, form: WorkForm) -> Recorded:
    to = _other(form)
    return colony_work.move(
        at.book, at.box, to, why=tidy(form.why), pen=at.pen, happened=at.happened
    )


def _split(at: Bench, form: WorkForm) -> Recorded:
    return colony_work.split(
        at.book,
        at.box,
        _other(form),
        taken=_animals(form),
        why=tidy(form.why),
        pen=at.pen,
        happened=at.happened,
    )


def _join(at: Bench, form: WorkForm) -> Recorded:
    return colony_work.join(
        at.book,
        at.box,
        _other(form),
        mixing=bool(form.mixing),
        why=tidy(form.why),
        pen=at.pen,
        happened=at.happened,
    )


def _end(at: Bench, form: WorkForm) -> Recorded:
    if form.cause not in get_args(EndCause):
        raise FormError("cause", _("Choose what you think it was; not known is an answer too."))
    cause = cast("EndCause", form.cause)
    return colony_work.end(
        at.book, at.box, cause=cause, note=tidy(form.note), pen=at.pen, happened=at.happened
    )


def _take(at: Bench, form: WorkForm) -> Recorded:
    return colony_work.take(
        at.book,
        at.box,
        animals=_animals(form),
        to=tidy(form.to),
        pen=at.pen,
        happened=at.happened,
    )


def _set_apart(at: Bench, form: WorkForm) -> Recorded:
    until = day_typed(form.until, "until")
    try:
        return set_up.quarantine(
            at.book,
            at.box,
            why=form.why or "not_said",
            until=until,
            pen=at.pen,
            happened=at.happened,
        )
    except Refusal as fault:
        raise FormError("until" if until else "", sentence(fault)) from None


def _bring_back(at: Bench, form: WorkForm) -> Recorded:
    return set_up.end_quarantine(
        at.book, at.box, note=tidy(form.note), pen=at.pen, happened=at.happened
    )


def _describe(at: Bench, form: WorkForm) -> Recorded:
    position = whole_typed(form.position, "position", _("a place on a shelf"))
    shelf = tidy(form.shelf)
    if position and not shelf:
        box = register_of(at.book).boxes.get(at.box)
        shelf = box.shelf if box else ""
        if not shelf:
            raise FormError("shelf", _("Say on which shelf that place is."))
    figures = _figures(form)
    try:
        return set_up.describe_box(
            at.book,
            at.box,
            shelf=shelf,
            position=position,
            new_shelf=bool(form.new_shelf),
            pen=at.pen,
            happened=at.happened,
            **figures,
        )
    except UnknownSubject as unknown:
        raise FormError(
            "shelf", _("%(unknown)s If it is a new one, tick so below.", unknown=unknown)
        ) from None


def _figures(form: WorkForm) -> Mapping[str, Any]:
    return {
        "litres": measure_typed(form.litres, "litres", read_litres),
        "length_cm": measure_typed(form.length, "length", read_cm),
        "width_cm": measure_typed(form.width, "width", read_cm),
        "height_cm": measure_typed(form.height, "height", read_cm),
        "damp_share": measure_typed(form.damp, "damp", read_share),
        "wall_mm": number_typed(form.wall, "wall"),
        "substrate_cm": measure_typed(form.substrate, "substrate", read_cm),
        "litter_cm": measure_typed(form.litter, "litter", read_cm),
        "moss_share": measure_typed(form.moss, "moss", read_share),
        "warmer_c": number_typed(form.warmer, "warmer"),
        "vents": measure_typed(form.vents, "vents", told_vents),
        "vents_as_written": tidy(form.vents),
        "make": tidy(form.make),
    }


def _retire(at: Bench, form: WorkForm) -> Recorded:
    return set_up.retire_box(at.book, at.box, why=tidy(form.why), pen=at.pen, happened=at.happened)


_WORKS: Final[Mapping[str, Callable[[Bench, WorkForm], Recorded]]] = {
    "found": _found,
    "move": _move,
    "split": _split,
    "take": _take,
    "join": _join,
    "end": _end,
    "set_apart": _set_apart,
    "bring_back": _bring_back,
    "describe": _describe,
    "retire": _retire,
}
