"""The command ``mancary correct``."""

import click

from mancary.cli.answer import WHEN, answer, json_option, the_book
from mancary.husbandry.moments import Moment
from mancary.husbandry.telling import told
from mancary.usecases.noting import correct_noted
from mancary.usecases.pen import Pen


@click.command("correct")
@click.argument("fact")
@click.argument("word")
@click.argument("amount", required=False, default="")
@click.option("--on", type=WHEN, help="The day it happened; else as the fact said.")
@click.option("--box", "box", default="", help="The box it was about; else as the fact said.")
@click.option("--why", default="", help="What was wrong.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    fact: str,
    word: str,
    amount: str,
    on: Moment | None,
    box: str,
    why: str,
    *,
    as_json: bool,
) -> None:
    """Withdraw FACT (its id) and write WORD and AMOUNT in its place, in one step."""
    recorded = correct_noted(
        the_book(ctx), fact, word, amount, box=box, why=why, pen=Pen(), happened=on or None
    )
    instead = recorded.entries[0]
    answer(
        {"withdrawn": fact, "instead": instead.id},
        as_json=as_json,
        words=lambda: (
            f"Fact {fact} is withdrawn; instead: {told(instead.fact)}  [{instead.id[-8:]}]"
        ),
    )
