"""The templates: escaped always, and loud about a value that is missing."""

from collections.abc import Callable, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from mancary.husbandry.box_figures import vents_said, vents_told
from mancary.husbandry.how_well import how_well
from mancary.husbandry.out_of_range import TOO, lasted_said
from mancary.husbandry.telling import told
from mancary.web import measures
from mancary.web.chips import chips
from mancary.web.reading import READING
from mancary.web.tongue import gettext, ngettext, spoken
from mancary.web.vocabulary import band_said, range_said, said
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
    measures.num,
    measures.grams,
    measures.millilitres,
    measures.litres,
    measures.centimetres,
    measures.millimetres,
    measures.celsius,
    measures.kelvins,
)


def _address(name: str) -> str:
    """A file's address changes with its content, so that it can be kept for long."""
    mark = sha256((STATIC / name).read_bytes()).hexdigest()[:12]
    return f"/static/{name}?{mark}"


def _words(message: str, /, **values: object) -> Markup:
    """As the extension's newstyle ``gettext``, with the values in the reader's language."""
    return _filled(gettext(message), values)


def _counted(one: str, more: str, num: float, /, **values: object) -> Markup:
    """As the extension's newstyle ``ngettext``, likewise."""
    return _filled(ngettext(one, more, num), {"num": num} | values)


def _filled(words: str, values: Mapping[str, object]) -> Markup:
    safe = {
        name: value if isinstance(value, int | float) else escape(spoken(value))
        for name, value in values.items()
    }
    return Markup(words % safe)  # noqa: S704  the values are escaped, the words are ours


def environment() -> Environment:
    """The environment every page is made in."""
    made = Environment(
        loader=FileSystemLoader(FOLDER / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        extensions=["jinja2.ext.i18n"],
        finalize=spoken,
        optimized=False,  # what is said of a constant changes with the reader
    )
    made.policies["ext.i18n.trimmed"] = True
    made.install_gettext_callables(gettext, ngettext, newstyle=True)  # type: ignore[attr-defined]
    made.globals.update(_=_words, gettext=_words, ngettext=_counted)
    made.filters.update({word.__name__: word for word in _WORDS})
    made.filters["tr"] = gettext
    made.globals.update(
        reads=READING.get,
        chips=chips,
        how_well=how_well,
        TOO=TOO,
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
        label_address=_address("label.js"),
        find_address=_address("find.js"),
    )
    return made
