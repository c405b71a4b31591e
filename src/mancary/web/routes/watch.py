"""The watch: which colonies may be failing, why, and what to look for."""

from collections.abc import Iterable
from typing import Final

from litestar import Response, get
from litestar.enums import MediaType

from mancary.husbandry.watch_reasons import chance_said
from mancary.husbandry.watch_rows import BAND_SAID, WatchRow
from mancary.usecases.species_names import SpeciesName, species_name
from mancary.usecases.standings import register_of
from mancary.usecases.watch import watch
from mancary.web.desk import Asked, Desk, OpenDesk
from mancary.web.threads import threaded

OPEN_FIRST: Final = 3
"""Ours: so many of the foremost have their reasons open, the others folded."""

BANDS: Final = {name: f"{name}, {said}" for name, said in BAND_SAID.items()}


@get("/watch", media_type=MediaType.HTML)
@threaded
def watch_page(request: Asked, desk: Desk) -> Response[str]:
    """Every colony by falling chance; starters apart, quiet ones in a line."""
    with desk.open() as book:
        found = watch(book.book, on=book.on, learn=book.learns)
        rows = [row for row in found.rows if row.apart != "starter"]
        return book.page(
            request,
            "watch.html",
            found=found,
            names=names_in(book, [row.box for row in found.rows]),
            foremost=[row for row in rows if not is_quiet(row)],
            quiet=[row for row in rows if is_quiet(row)],
            starters=[row for row in found.rows if row.apart == "starter"],
            open_first=OPEN_FIRST,
            chance=chance_said,
            bands=BANDS,
        )


def names_in(book: OpenDesk, boxes: Iterable[str]) -> dict[str, SpeciesName]:
    """The species of the colony in each box, with what of its name is Latin."""
    register = register_of(book.book, book.zone, until=book.on)
    lines = {box: register.line_in(box) for box in boxes}
    return {box: species_name(register, line.species) for box, line in lines.items() if line}


def is_quiet(row: WatchRow) -> bool:
    """Whether a row only stands in the line of quiet ones; a waiting box never does."""
    return row.band == "quiet" and not row.apart
