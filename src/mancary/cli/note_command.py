"""The command ``mancary note``."""

import click

from mancary.cli.answer import answer, beware, json_option, on_option, the_book
from mancary.husbandry.moments import Moment
from mancary.husbandry.telling import told
from mancary.usecases.noting import facts_for
from mancary.usecases.pen import Pen
from mancary.usecases.record import known_box, write


@click.command("note")
@click.argument("box")
@click.argument("word")
@click.argument("amount", required=False, default="")
@on_option
@json_option
@click.pass_context
def command(
    ctx: click.Context, box: str, word: str, amount: str, on: Moment | None, *, as_json: bool
) -> None:
    """Write down WORD about BOX, with an AMOUNT where there is one.

    WORD is a word of the trade: something seen (young-seen, dead, mould ...), a care (mist,
    protein ...), "count", "weigh", a size band (tens, many ...) or "note" for words of your own.
    Answers only once the fact is on disk.
    """
    book = the_book(ctx)
    code = known_box(book, box)
    facts = facts_for(code, word, amount)
    recorded = write(book, facts, pen=Pen(), happened=on or None)
    beware(facts)
    answer(
        {
            "facts": [
                {"id": entry.id, "kind": entry.fact.kind, "happened": entry.happened}
                for entry in recorded.entries
            ]
        },
        as_json=as_json,
        words=lambda: "\n".join(
            f"{code}: {told(entry.fact)}  [{entry.id[-8:]}]" for entry in recorded.entries
        ),
    )
