"""Documents stay true: every command, option and word of the book is in them."""

import re
from pathlib import Path

import click
import pytest

from mancary import handbook
from mancary.cli.front import COMMANDS, front
from mancary.husbandry.facts import KINDS
from mancary.husbandry.words import BANDS, CARES, SEEN, said

DOCS = Path(__file__).parents[2] / "docs"


def commands() -> dict[str, click.Command]:
    context = click.Context(front)
    found = {name: front.get_command(context, name) for name in COMMANDS}
    return {name: command for name, command in found.items() if command is not None}


def section(name: str) -> str:
    text = (DOCS / "commands.md").read_text(encoding="utf-8")
    parts = re.split(r"^## ", text, flags=re.MULTILINE)
    return next((part for part in parts if re.match(rf"`mancary {name}[` ]", part)), "")


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_is_documented_with_its_arguments_and_options(name: str) -> None:
    command = commands()[name]
    told = section(name)
    assert told, f"docs/commands.md has no section for mancary {name}"
    for parameter in command.params:
        if isinstance(parameter, click.Argument):
            assert str(parameter.make_metavar(click.Context(command))).strip("[].") in told
            continue
        for option in (*parameter.opts, *parameter.secondary_opts):
            assert f"`{option}" in told, f"{name} {option}"


def test_no_document_speaks_of_a_command_that_is_not() -> None:
    told = "\n".join(path.read_text(encoding="utf-8") for path in DOCS.rglob("*.md"))
    spoken = set(re.findall(r"mancary (?:--book \S+ )?([a-z][a-z-]+)(?=[`\s])", told))
    assert spoken - set(COMMANDS) - {"command"} == set()


def test_every_command_helps() -> None:
    for name, command in commands().items():
        assert command.help, name
        for parameter in command.params:
            if isinstance(parameter, click.Option):
                assert parameter.help, f"{name} {parameter.opts}"


@pytest.mark.parametrize("word", [*SEEN, *CARES, *BANDS])
def test_every_word_the_book_stores_is_in_the_vocabulary(word: str) -> None:
    vocabulary = (DOCS / "vocabulary.md").read_text(encoding="utf-8")
    assert f"| {said(word)} |" in vocabulary


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_of_fact_is_in_the_vocabulary(kind: str) -> None:
    assert f"| `{kind}` |" in (DOCS / "vocabulary.md").read_text(encoding="utf-8")


def test_the_handbook_speaks_of_the_same_cares_as_the_book() -> None:
    spoken = {care for group in handbook.groups() for care in handbook.rhythms(group.slug)}
    assert spoken == set(CARES)


def test_the_page_of_commands_is_as_its_tool_writes_it() -> None:
    from tools.commands_page import page

    assert (DOCS / "commands.md").read_text(encoding="utf-8") == page()
