"""Gathers the words of the pages and brings every catalogue up to them.

``python tools/catalogue.py`` rewrites ``src/mancary/web/words/*.po``: new messages come in
untranslated, kept ones keep their translation, lost ones go. It prints what is left to translate.
"""

import re
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import get_args

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

from mancary import handbook
from mancary.husbandry import words
from mancary.husbandry.vent_choices import LAYOUTS
from mancary.husbandry.watch_rows import BAND_SAID
from mancary.usecases.round_minutes import WEEKDAYS
from mancary.web.tongue import CATALOGUES

WEB = CATALOGUES.parent
STILL = datetime(2026, 1, 1, tzinfo=UTC)
"""The date in the head of a catalogue, so that a new run changes nothing by itself."""
KEYWORDS = {
    "_": None, "gettext": None, "tell": None, "N_": None, "counted": (1, 2), "ngettext": (1, 2),
}  # fmt: skip


_PLACES = re.compile(r"%\(\w+\)[\d.+]*[sdfgr]")


def stored_words() -> Iterator[str]:
    """What the closed words of the book are called on a page."""
    for kind in (words.Seen, words.Care, words.EndCause):
        for word in get_args(kind):
            yield words.said(word)
    yield from get_args(words.Band)
    yield from (*WEEKDAYS, "box", "colony", "line", "shelf", "batch", "species")
    yield from handbook_words()
    yield from words.FIGURE_WORDS.values()
    yield from LAYOUTS.values()
    yield from (f"{name}, {said}" for name, said in BAND_SAID.items())


def handbook_words() -> Iterator[str]:
    """What the handbook's tables of rhythms and of how well a thing is known say in words."""
    yield from get_args(handbook.words.Kind)
    yield from (words for one in handbook.amounts() for words in (one.said, one.per) if words)
    yield from (group.name for group in handbook.groups())
    yield from (words.figure_said(name) for name in handbook.words.UNITS)
    slugs = [*handbook.species_slugs(), *(group.slug for group in handbook.groups())]
    for slug in slugs:
        for rhythm in handbook.rhythms(slug).values():
            yield from filter(None, (rhythm.said, rhythm.note, rhythm.differs))


def _has_words(message: str | tuple[str, ...]) -> bool:
    """Whether there is anything to translate in it but places and signs."""
    return isinstance(message, tuple) or bool(re.search(r"[^\W\d_]", _PLACES.sub("", message)))


def gathered() -> Catalog:
    """Every message of the templates, of the web's code, of the sentences and the stored words."""
    found = Catalog(charset="utf-8")
    below = (WEB.parent / floor for floor in ("husbandry", "usecases"))
    sources = [("python", path) for floor in (*below, WEB) for path in sorted(floor.rglob("*.py"))]
    sources += [("jinja2.ext:babel_extract", path) for path in sorted(WEB.glob("templates/*"))]
    options = {"newstyle_gettext": "true", "trimmed": "true", "silent": "false",
               "trim_blocks": "true", "lstrip_blocks": "true"}  # fmt: skip
    for method, path in sources:
        asked = {} if method == "python" else options
        within = WEB if path.is_relative_to(WEB) else WEB.parent
        place = path.relative_to(within).as_posix()
        with path.open("rb") as file:
            for _line, message, _notes, _context in extract(method, file, KEYWORDS, (), asked):
                if _has_words(message):
                    found.add(message, locations=[(place, 0)])
    for word in stored_words():
        found.add(word, locations=[("husbandry/words.py", 0)])
    return found


def renewed(path: Path, found: Catalog) -> Catalog:
    """The catalogue of one language with exactly the messages that are found."""
    with path.open("rb") as file:
        kept = read_po(file, locale=path.stem)
    kept.update(found, no_fuzzy_matching=True, keep_user_comments=False)
    kept.obsolete.clear()
    kept.fuzzy = False
    kept.revision_date = kept.creation_date = STILL
    return kept


def main() -> int:
    found = gathered()
    for path in sorted(CATALOGUES.glob("*.po")):
        catalogue = renewed(path, found)
        with path.open("wb") as file:
            write_po(file, catalogue, width=100, sort_output=True, include_lineno=False)
        left = [one.id for one in catalogue if one.id and not _whole(one.string)]
        sys.stdout.write(f"{path.stem}: {len(catalogue)} messages, {len(left)} to translate\n")
    return 0


def _whole(string: object) -> bool:
    return all(string) if isinstance(string, (list, tuple)) else bool(string)


if __name__ == "__main__":
    sys.exit(main())
