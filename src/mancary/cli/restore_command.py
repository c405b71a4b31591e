"""The command ``mancary restore``."""

from pathlib import Path

import click

from mancary.cli.answer import answer, json_option, path_of
from mancary.usecases.backup import restore
from mancary.usecases.pictures import pictures_said


@click.command("restore")
@click.argument("backup", type=click.Path(dir_okay=False, path_type=Path))
@json_option
@click.pass_context
def command(ctx: click.Context, backup: Path, *, as_json: bool) -> None:
    """Put BACKUP in place as the book. Nothing is overwritten: move an old book away first."""
    restored = restore(backup, path_of(ctx))
    answer(
        {
            "book": restored.file,
            "facts": restored.facts,
            "head": restored.head,
            "pictures": restored.pictures,
            "pictures_missing": restored.pictures_missing,
        },
        as_json=as_json,
        words=lambda: (
            f"{restored.file}: {restored.facts} facts, verified."
            + pictures_said(restored.pictures, restored.pictures_missing)
        ),
    )
