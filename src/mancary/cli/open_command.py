"""The command ``mancary open``."""

import click

from mancary.cli.answer import answer, json_option, path_of
from mancary.settings import local_zone
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen


@click.command("open")
@click.argument("name")
@click.option("--zone", help="Your time zone, such as Europe/Stockholm; else this machine's.")
@json_option
@click.pass_context
def command(ctx: click.Context, name: str, zone: str | None, *, as_json: bool) -> None:
    """Open a new book called NAME."""
    path = path_of(ctx)
    zone = zone or local_zone()
    open_new(path, name=name, zone=zone, pen=Pen()).close()
    answer(
        {"book": str(path), "name": name, "zone": zone},
        as_json=as_json,
        words=lambda: f"{name} is open at {path}; its days are counted in {zone}.",
    )
