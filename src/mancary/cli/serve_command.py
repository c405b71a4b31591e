"""The command ``mancary serve``."""

import click

from mancary.cli.answer import path_of, port_option
from mancary.cli.call import Call, Serving


@click.command("serve")
@port_option
@click.option("--network", is_flag=True, help="Let phones of your home network in, once paired.")
@click.option("--https", is_flag=True, help="As --network, over HTTPS by its own authority.")
@click.pass_context
def command(ctx: click.Context, port: int, *, network: bool, https: bool) -> None:
    """Serve the pages until you stop it with Ctrl-C: on this machine only, or with --network.

    With --network the pages answer in your home network too, under the name mancary.local, to
    phones that were paired with the code shown here and on the page Phones.

    With --https they do so encrypted, at the next port, and the round opens on the phone without a
    connection too. Each phone is first told to trust this book's own authority; the steps stand
    at /authority.
    """
    from mancary.book import open_book

    path = path_of(ctx)
    open_book(path).close()
    serve_pages(ctx, Serving(path=path, port=port, network=network or https, secure=https))


def serve_pages(ctx: click.Context, serving: Serving) -> None:
    """Serves a book; the pages themselves are handed in by the front door."""
    call: Call = ctx.obj
    if call.serve is None:
        raise click.UsageError("The pages are served by the mancary command itself.")
    call.serve(serving)
