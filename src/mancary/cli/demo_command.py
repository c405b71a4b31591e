"""The command ``mancary demo``."""

import os
from datetime import date
from pathlib import Path
from shlex import quote

import click

from mancary.cli.answer import DAY, answer, json_option, port_option
from mancary.cli.call import Serving
from mancary.settings import demo_path


@click.command("demo")
@click.option("--serve/--no-serve", default=True, help="Serve it, or only make the book.")
@click.option("--on", type=DAY, help="The day the book calls today; else the real one.")
@port_option
@json_option
@click.pass_context
def command(ctx: click.Context, on: date | None, port: int, *, serve: bool, as_json: bool) -> None:
    """Make the bug room of the Fernhollow Field Centre, and serve it. All of it is invented.

    Ninety-six boxes on four racks, sixty weeks of a keeper's facts. A demonstration book that is
    there already is made anew; any other book is left alone. It lies where --book or MANCARY_BOOK
    say, else in a folder of its own.
    """
    from mancary.demo import make_demo
    from mancary.usecases.opening import clear_invented

    path = _place(ctx.obj.book)
    clear_invented(path)
    made = make_demo(path, on=on or date.today())  # noqa: DTZ011  the keeper's own calendar
    answer(
        made,
        as_json=as_json,
        words=lambda: (
            f"{made.book}: {made.boxes} boxes, {made.facts} facts up to {made.on},"
            " all invented for demonstration.\n"
            f"Look into it with: mancary --book {quote(str(path))} round"
        ),
    )
    if serve:
        from mancary.cli.serve_command import serve_pages

        serve_pages(ctx, Serving(path=path, port=port, today=on))


def _place(named: Path | None) -> Path:
    told = os.environ.get("MANCARY_BOOK")
    return named or (Path(told) if told else demo_path())
