"""The command ``mancary correct``."""

from datetime import date

import click

from mancary.cli.answer import DAY, answer, happened_on, json_option, the_book
from mancary.husbandry.telling import told
from mancary.usecases.noting import correct_noted
from mancary.usecases.pen import Pen


@click.command("correct")
@click.argument("fact")
@click.argument("word")
@click.argument("amount", required=False, default="")
@click.option("--on", type=DAY, help="The day it happened; else as the fact said.")
@click.option("--why", default="", help="What was wrong.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    fact: str,
    word: str,
    amount: str,
    on: date | None,
    why: str,
    *,
    as_json: bool,
) -> None:
    """Withdraw FACT (its id) and write WORD and AMOUNT in its place, in one step."""
    recorded = correct_noted(
        the_book(ctx), fact, word, amount, why=why, pen=Pen(), happened=happened_on(on)
    )
    instead = recorded.entries[0]
    answer(
        {"withdrawn": fact, "instead": instead.id},
        as_json=as_json,
        words=lambda: f"Fact {fact} is withdrawn; instead: {told(instead.fact)}  [{instead.id}]",
    )
