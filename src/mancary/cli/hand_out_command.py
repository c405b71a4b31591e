"""The command ``mancary hand-out``."""

from pathlib import Path

import click

from mancary.cli.answer import answer, json_option, the_book
from mancary.usecases.hand_out import hand_out
from mancary.usecases.pictures import pictures_said


@click.command("hand-out")
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path))
@json_option
@click.pass_context
def command(ctx: click.Context, folder: Path, *, as_json: bool) -> None:
    """Write the whole book into FOLDER (new or empty) as plain CSV and JSON files.

    Taking that folder into an empty book gives the same book again. It holds all you wrote,
    names and places included: look through it before you give it away.
    """
    handed = hand_out(the_book(ctx), folder)
    answer(
        handed,
        as_json=as_json,
        words=lambda: (
            f"{handed.folder}: {handed.facts} facts in {len(handed.files)} files."
            + pictures_said(handed.pictures, handed.pictures_missing)
        ),
    )
