"""The command ``mancary serve``."""

from datetime import date
from pathlib import Path

import click

from mancary.cli.answer import path_of, port_option
from mancary.cli.call import Call


@click.command("serve")
@port_option
@click.pass_context
def command(ctx: click.Context, port: int) -> None:
    """Serve the pages on this machine only, until you stop it with Ctrl-C."""
    from mancary.book import open_book

    path = path_of(ctx)
    open_book(path).close()
    serve_pages(ctx, path, port)


def serve_pages(ctx: click.Context, path: Path, port: int, today: date | None = None) -> None:
    """Serves a book; the pages themselves are handed in by the front door."""
    call: Call = ctx.obj
    if call.serve is None:
        raise click.UsageError("The pages are served by the mancary command itself.")
    call.serve(path, port, today)
