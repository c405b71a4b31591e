"""What air a box wants: what the keeper says now, else his own figure, else its species'."""

from msgspec import Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.how_well import how_well
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import Told, in_a_row, tell
from mancary.husbandry.vent_choices import Target
from mancary.husbandry.wants import own_figures
from mancary.usecases.species_page import SpeciesPage, find_species, species_page
from mancary.usecases.standings import register_of

OWN_FIGURE = "air_changes_per_day"
"""The keeper's own figure that goes before the ventilation class of a species."""

EITHER_WAY = 0.2
"""Ours: a figure the keeper wants counts as met within a fifth of it."""

_MOST = 100_000.0


class Wanted(Struct, frozen=True, kw_only=True):
    """At most one is needed; the first of mL, air changes, class, species that is said counts."""

    ml_a_week: float | None = None
    air_changes: float | None = None
    ventilation: str = ""
    species: str = ""


def target_of(
    book: Book | None, wanted: Wanted, lives_in_it: str, *, box: str = "", line: str = ""
) -> tuple[Target, str]:
    """What is wanted as a range, and the species meant, if any.

    The keeper's own figure for ``box``, ``line``, the species, its care group or all boxes goes
    before the handbook's class; what he says now goes before both.

    Raises:
        Refusal: when nothing says what air the box wants, or the words mean nothing known.
    """
    page = _page(book, wanted.species, lives_in_it)
    slug = page.species.slug if page else ""
    if wanted.ml_a_week is not None:
        said = tell("about %(ml_a_week)g mL a week", wanted)
        return _own("ml_a_week", wanted.ml_a_week, said), slug
    if wanted.air_changes is not None:
        said = tell("about %(air_changes)g air changes a day", wanted)
        return _own("air_changes", wanted.air_changes, said), slug
    if wanted.ventilation.strip():
        return _of_class(wanted.ventilation, tell("named by you")), slug
    if own := _chosen(book, page, box=box, line=line):
        return own, slug
    if page:
        return _of_page(page), slug
    raise Refusal(
        tell(
            "Say what air the box wants: a species, a ventilation class (low, medium,"
            " high), mL a week or air changes a day."
        )
    )


def damp_share_of(book: Book | None, slug: str) -> tuple[float, str] | None:
    """The middle of the species' damp share, and how that is said; None where it is blank."""
    figures = {one.name: one for one in species_page(book, slug).figures}
    told = figures.get("damp_share")
    if told is None or told.low is None or told.high is None:
        return None
    middle = (told.low + told.high) / 2
    return middle, tell(
        "%(middle).0f %% of the floor damp, the species' middle (%(kind)s)",
        kind=Told(told.kind, {}),
        middle=middle * 100,
    )


def _own(measure: str, wanted: float, said: str) -> Target:
    if not 0 < wanted <= _MOST:
        raise Refusal(tell("%(said)s: expected a figure above nothing.", said=said))
    low, high = wanted * (1 - EITHER_WAY), wanted / (1 - EITHER_WAY)
    basis = tell("your own figure; a fifth either way counts as met (ours)")
    if measure == "ml_a_week":
        return Target(measure="ml_a_week", low=low, high=high, said=said, basis=basis)
    return Target(measure="air_changes", low=low, high=high, said=said, basis=basis)


def _chosen(book: Book | None, page: SpeciesPage | None, *, box: str, line: str) -> Target | None:
    """The nearest of the keeper's own figures as a target; one number counts as met near it."""
    if book is None:
        return None
    held = own_figures(
        register_of(book).figures,
        box=box,
        line=line,
        species=page.species.slug if page else "",
        care_group=page.care_group if page else "",
    )
    fact, whose = held.get(OWN_FIGURE, (None, ""))
    if fact is None or fact.low is None:
        return None
    low, high = fact.low, fact.high or fact.low
    if low == high:
        return _own(
            "air_changes",
            low,
            tell("about %(low)g air changes a day, %(whose)s", low=low, whose=whose),
        )
    return Target(
        measure="air_changes",
        low=low,
        high=high,
        said=tell(
            "%(low)g to %(high)g air changes a day, %(whose)s", low=low, high=high, whose=whose
        ),
        basis=tell("your own figure"),
    )


def _of_class(words: str, whose: str) -> Target:
    found = handbook.ventilation_said(words)
    if found is None:
        known = in_a_row(
            ", ",
            (word for one in handbook.ventilations().values() for word in (one.name, *one.also)),
        )
        raise Refusal(
            tell(
                "%(words)r is no ventilation class; known words are %(known)s.",
                words=words,
                known=known,
            )
        )
    return Target(
        measure="air_changes",
        low=found.air_changes_low,
        high=found.air_changes_high,
        said=(
            tell(
                "ventilation %(name)s, %(whose)s: %(air_changes_low)g to %(air_changes_high)g"
                " air changes a day, %(ml_a_week_low)g to %(ml_a_week_high)g mL a week for"
                " each litre of air over the floor",
                found,
                whose=whose,
            )
        ),
        basis=tell(
            "the class in figures is %(kind)s: nobody has published vents for kept species",
            kind=Told(found.kind, {}),
        ),
    )


def _of_page(page: SpeciesPage) -> Target:
    told = next((one for one in page.figures if one.name == "ventilation_class"), None)
    if told is None:
        raise Refusal(
            tell(
                "The ventilation of %(name)s is not known, nor its care group's: name a class"
                " yourself (low, medium, high).",
                name=page.species.name,
            )
        )
    return _of_class(
        told.text,
        tell("of %(name)s (%(how_well)s)", name=page.species.name, how_well=how_well(told)),
    )


def _page(book: Book | None, typed: str, lives_in_it: str) -> SpeciesPage | None:
    if not typed.strip():
        return species_page(book, lives_in_it) if lives_in_it else None
    found = find_species(book, typed)
    if found.page is None:
        near = in_a_row(", ", (one.name for one in found.proposals[:3]))
        hint = (
            tell(" Did you mean one of: %(near)s?", near=near)
            if near
            else tell(" Name a class instead.")
        )
        raise Refusal(
            tell(
                "%(typed)r is not certain to be any page of the handbook.%(hint)s",
                typed=typed,
                hint=hint,
            )
        )
    return found.page
