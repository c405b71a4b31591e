"""Finds words of a template that no catalogue would be asked for."""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

from jinja2 import nodes
from jinja2.nodes import Call, Compare, Const, Filter, Name, Node, TemplateData

from mancary.web.templating import FOLDER, environment

TEMPLATES = FOLDER / "templates"
_SPOKEN = re.compile(r"""\s(?:aria-label|title|placeholder|alt|content)="([^"]*)""")
_ENTITY = re.compile(r"&\w+;")
_WORD = re.compile(r"[^\W\d_]{2,}")
_NOT_WORDS = {"mL", "cm", "mm", "Mancary", "width", "device", "initial", "scale"}
"""Units, the name of the program, and what a page says to the browser."""
_ASKED = {"_", "gettext", "ngettext", "N_"}


def bare_words(path: Path) -> list[str]:
    """The pieces of text, spoken attributes and sentences in expressions, that stand bare."""
    tree = environment().parse(path.read_text(encoding="utf-8"))
    return [piece for piece in _pieces(tree) if _has_words(piece)]


def _has_words(piece: str) -> bool:
    return any(word not in _NOT_WORDS for word in _WORD.findall(_ENTITY.sub(" ", piece)))


def _pieces(tree: Node) -> Iterator[str]:
    inside_tag = False
    for node in _walk(tree):
        if isinstance(node, TemplateData):
            text, inside_tag = _spoken(node.data, inside_tag)
            yield from text
        elif isinstance(node, Const) and isinstance(node.value, str) and _sentence(node.value):
            yield node.value


def _sentence(text: str) -> bool:
    spoken = " " in text.strip() and re.search(r"[a-z]{3,}", text)
    return bool(spoken) and not _markup(text)


def _markup(text: str) -> bool:
    return "=" in text or text.startswith(("/", "http"))


def _walk(node: Node) -> Iterator[Node]:
    """Every node in the order of the page, but for what is put into the reader's language."""
    for child in node.iter_child_nodes():
        if isinstance(child, Call) and isinstance(child.node, Name) and child.node.name in _ASKED:
            yield from (
                one for kept in child.kwargs for one in _walk(nodes.Keyword("x", kept.value))
            )
            continue
        if isinstance(child, Compare) or (isinstance(child, Filter) and child.name == "tr"):
            continue
        if isinstance(child, (TemplateData, Const)):
            yield child
        yield from _walk(child)


def _spoken(data: str, inside_tag: bool) -> tuple[list[str], bool]:  # noqa: FBT001
    """The text between tags and in spoken attributes, and whether a tag is still open."""
    found, place = [], 0
    while place < len(data):
        if inside_tag:
            end = _end_of_tag(data, place)
            found += _SPOKEN.findall(" " + data[place:end])
            inside_tag, place = end >= len(data) or data[end - 1] != ">", end
        else:
            end = data.find("<", place)
            end = len(data) if end < 0 else end
            found.append(data[place:end])
            inside_tag, place = end < len(data), end
    return found, inside_tag


def _end_of_tag(data: str, place: int) -> int:
    end = data.find(">", place)
    return len(data) if end < 0 else end + 1


def main() -> None:
    for name in sys.argv[1:] or sorted(path.name for path in TEMPLATES.iterdir()):
        for piece in bare_words(TEMPLATES / name):
            sys.stdout.write(f"{name}: {piece.strip()[:100]!r}\n")


if __name__ == "__main__":
    main()
