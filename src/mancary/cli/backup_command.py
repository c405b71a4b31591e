"""The command ``mancary backup``."""

from pathlib import Path

import click

from mancary.cli.answer import answer, json_option, the_book
from mancary.usecases.backup import back_up
from mancary.usecases.pen import wall_clock
from mancary.usecases.pictures import pictures_said


@click.command("backup")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@click.option("--keep", default=10, show_default=True, help="How many backups to keep there.")
@json_option
@click.pass_context
def command(ctx: click.Context, folder: Path, keep: int, *, as_json: bool) -> None:
    """Write a verified copy of the book into FOLDER; older ones beyond --keep are cleared away."""
    backup = back_up(the_book(ctx), folder, keep=keep, now=wall_clock())
    cleared = f" {len(backup.removed)} older ones were cleared away." if backup.removed else ""
    answer(
        backup,
        as_json=as_json,
        words=lambda: (
            f"{backup.file}: {backup.facts} facts, verified.{cleared}"
            + pictures_said(backup.pictures, backup.pictures_missing)
        ),
    )
