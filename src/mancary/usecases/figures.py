"""The keeper's own figures: for all boxes, a care group, a species, a line or a box."""

from collections.abc import Mapping
from typing import Any

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import FigureChosen
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.words import CARES
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, known_box, write
from mancary.usecases.round_minutes import MINUTES_FIGURES
from mancary.usecases.standings import register_of

CHOOSABLE = (
    "protein_feeds_per_week",
    "air_changes_per_day",
    *(f"{care}_days" for care in CARES if care != "protein"),
    *MINUTES_FIGURES,
)


LONGEST_DAYS = 3660


def choose_figure(
    book: Book,
    name: str,
    *,
    low: float | None,
    high: float | None,
    why: str,
    scopes: Mapping[str, str],
    pen: Pen,
) -> Recorded:
    """Writes a figure of the keeper's own; with neither low nor high the handbook's holds again.

    ``scopes`` names at most one of care_group, species, line and box; none means all boxes.

    Raises:
        Refusal: for an unknown figure, a range upside down, or more than one scope.
    """
    if name not in CHOOSABLE:
        raise Refusal(
            tell(
                "%(name)r is no figure you can choose; expected one of %(all)s.",
                name=name,
                all=in_a_row(", ", CHOOSABLE),
            )
        )
    high = low if high is None else high
    if name.endswith("_days") and high is not None and high > LONGEST_DAYS:
        raise Refusal(
            tell(
                "%(high)g days is more than ten years; expected at most %(longest_days)s.",
                high=high,
                longest_days=LONGEST_DAYS,
            )
        )
    if low is not None and high is not None and not 0 < low <= high:
        raise Refusal(
            tell(
                "%(low)g to %(high)g is no range; expected a low above 0 and a high not below.",
                low=low,
                high=high,
            )
        )
    if name in MINUTES_FIGURES and any(scopes.values()):
        raise Refusal(tell("Your minutes are for the whole room, not for one thing in it."))
    scope, code = _scope(book, {key: value for key, value in scopes.items() if value})
    fact = FigureChosen(scope=scope, code=code, figure=name, low=low, high=high, why=why)
    return write(book, [fact], pen=pen)


def chosen_figures(book: Book, name: str) -> tuple[FigureChosen, ...]:
    """The keeper's own figures of this name that hold now, for whatever they were chosen."""
    held = register_of(book).figures
    return tuple(fact for (_, _, figure), fact in held.items() if figure == name)


def _scope(book: Book, named: dict[str, str]) -> tuple[Any, str]:
    if len(named) > 1:
        raise Refusal(
            tell(
                "A figure is for one thing at a time, not for %(all)s.",
                all=in_a_row(tell(" and "), named),
            )
        )
    for scope, code in named.items():
        if scope == "box":
            return scope, known_box(book, code)
        groups = [group.slug for group in handbook.groups()]
        if scope == "care_group" and code not in groups:
            raise Refusal(
                tell(
                    "There is no care group %(code)r; expected one of %(all)s.",
                    code=code,
                    all=in_a_row(", ", groups),
                )
            )
        if scope == "line" and not book.is_known(f"line:{code}"):
            raise Refusal(tell("There is no line %(code)r in this book.", code=code))
        if scope == "species" and not (
            code in handbook.species_slugs() or book.is_known(f"species:{code}")
        ):
            raise Refusal(tell("There is no species page %(code)r.", code=code))
        return scope, code
    return "all", ""
