"""The templates: escaped always, and loud about a value that is missing."""

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from mancary.husbandry.box_figures import vents_said, vents_told
from mancary.husbandry.out_of_range import lasted_said
from mancary.husbandry.telling import range_said, told
from mancary.husbandry.words import band_said, said
from mancary.web.wording import (
    box_address,
    capitalize_first,
    fact_address,
    figure_said,
    likely,
    rhythm,
    shelf_address,
    shelf_mark,
    span,
    species_address,
    stretch,
    work_address,
)

FOLDER: Final = Path(__file__).parent
STATIC: Final = FOLDER / "static"

_WORDS: Final[tuple[Callable[..., str], ...]] = (
    said,
    band_said,
    span,
    vents_said,
    vents_told,
    lasted_said,
    range_said,
    told,
    capitalize_first,
    figure_said,
)


def _address(name: str) -> str:
    """A file's address changes with its content, so that it can be kept for long."""
    mark = sha256((STATIC / name).read_bytes()).hexdigest()[:12]
    return f"/static/{name}?{mark}"


def environment() -> Environment:
    """The environment every page is made in."""
    made = Environment(
        loader=FileSystemLoader(FOLDER / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    made.filters.update({word.__name__: word for word in _WORDS})
    made.globals.update(
        likely=likely,
        rhythm=rhythm,
        box_address=box_address,
        fact_address=fact_address,
        species_address=species_address,
        stretch=stretch,
        shelf_address=shelf_address,
        shelf_mark=shelf_mark,
        work_address=work_address,
        style_address=_address("mancary.css"),
        mark_address=_address("mark.svg"),
        script_address=_address("rack.js"),
    )
    return made
