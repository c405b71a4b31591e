"""From a typed name to a species' page, refused with proposals where it is not certain."""

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.usecases.species_page import CERTAIN
from mancary.usecases.standings import register_of


def certain_species(book: Book, typed: str) -> str:
    """The plain name of the page that ``typed`` means.

    Raises:
        Refusal: naming the likely pages, or the care groups where none is likely.
    """
    register = register_of(book)
    if typed in register.pages or typed in handbook.species_slugs():
        return typed
    own = tuple((page.species, page.name) for page in register.pages.values())
    proposals = handbook.find(typed, own=own)
    if proposals and proposals[0].confidence >= CERTAIN:
        return proposals[0].slug
    if proposals:
        likely = in_a_row(
            "; ",
            (
                tell("%(name)s (%(confidence)s)", one, confidence=f"{one.confidence:.0%}")
                for one in proposals[:4]
            ),
        )
        raise Refusal(
            tell(
                "%(typed)r is not certain to be any page. Likely: %(likely)s.",
                typed=typed,
                likely=likely,
            )
        )
    groups = in_a_row(", ", (group.slug for group in handbook.groups()))
    raise Refusal(
        tell(
            "%(typed)r is in no page. Open one of your own in a care group (%(groups)s),"
            " with: mancary page %(typed)r GROUP",
            typed=typed,
            groups=groups,
        )
    )
