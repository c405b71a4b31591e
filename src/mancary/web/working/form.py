"""What the forms of the work page bring: every field as typed, most of them empty."""

from typing import Annotated

from msgspec import Meta, Struct

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.refusal import Refusal
from mancary.sheets.values.counts import Count, read_count
from mancary.usecases.naming import certain_species
from mancary.web.forms import FormError
from mancary.web.tongue import _
from mancary.web.typed import measure_typed, tidy


class NotSure(FormError):
    """A name that may be several pages', or none's: the keeper confirms one."""


class WorkForm(Struct, frozen=True, kw_only=True):
    """``do`` says which work; ``to`` is another box, or who got the animals."""

    once: Annotated[str, Meta(max_length=64)] = ""
    do: Annotated[str, Meta(max_length=32)] = ""
    day: str = ""
    to: str = ""
    species: str = ""
    page: str = ""
    morph: str = ""
    source: str = ""
    locality: str = ""
    animals: str = ""
    why: str = ""
    mixing: str = ""
    cause: str = ""
    note: str = ""
    until: str = ""
    litres: str = ""
    length: str = ""
    width: str = ""
    height: str = ""
    vents: str = ""
    damp: str = ""
    wall: str = ""
    substrate: str = ""
    litter: str = ""
    moss: str = ""
    warmer: str = ""
    make: str = ""
    shelf: str = ""
    position: str = ""
    new_shelf: str = ""

    def founders(self) -> Count | None:
        """How many animals a colony begins with; None where it is not said."""
        return measure_typed(self.animals, "animals", read_count)

    def sure_species(self, book: Book) -> str:
        """The page the keeper confirmed, or the one that the name is certain to mean.

        Raises:
            NotSure: where the name has to be confirmed first.
        """
        page = self.page.strip().lower()
        if page in handbook.species_slugs() or (page and book.is_known(f"species:{page}")):
            return page
        if not tidy(self.species):
            raise FormError("species", _("Say what goes into the box."))
        try:
            return certain_species(book, tidy(self.species))
        except Refusal:
            raise NotSure("species", _("This name is not certain to mean one page.")) from None
