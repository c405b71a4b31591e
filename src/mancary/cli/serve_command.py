"""The command ``mancary serve``."""

import click

from mancary.cli.answer import path_of, port_option
from mancary.cli.call import Call, Serving


@click.command("serve")
@port_option
@click.option("--network", is_flag=True, help="Let phones of your home network in, once paired.")
@click.pass_context
def command(ctx: click.Context, port: int, *, network: bool) -> None:
    """Serve the pages until you stop it with Ctrl-C: on this machine only, or with --network.

    With --network the pages answer in your home network too, under the name mancary.local, to
    phones that were paired with the code shown here and on the page Phones.
    """
    from mancary.book import open_book

    path = path_of(ctx)
    open_book(path).close()
    serve_pages(ctx, Serving(path=path, port=port, network=network))


def serve_pages(ctx: click.Context, serving: Serving) -> None:
    """Serves a book; the pages themselves are handed in by the front door."""
    call: Call = ctx.obj
    if call.serve is None:
        raise click.UsageError("The pages are served by the mancary command itself.")
    call.serve(serving)
