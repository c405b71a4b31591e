"""The command ``mancary withdraw``."""

import click

from mancary.cli.answer import answer, json_option, the_book
from mancary.usecases.pen import Pen
from mancary.usecases.record import withdraw


@click.command("withdraw")
@click.argument("fact")
@click.option("--why", default="", help="Why it was a mistake.")
@click.option("--even-so", is_flag=True, help="Even where later facts rest on it.")
@json_option
@click.pass_context
def command(ctx: click.Context, fact: str, why: str, *, even_so: bool, as_json: bool) -> None:
    """Call FACT a mistake: its id, or the last six characters or more of it.

    It stays readable, and no longer counts.
    """
    recorded = withdraw(the_book(ctx), fact, why=why, even_so=even_so, pen=Pen())
    answer(
        {"withdrawn": fact, "by": recorded.entries[0].id},
        as_json=as_json,
        words=lambda: f"Fact {fact} is withdrawn; it stays readable.",
    )
