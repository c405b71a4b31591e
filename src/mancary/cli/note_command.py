"""The command ``mancary note``."""

import click

from mancary.book import Book
from mancary.cli.answer import Signed, answer, beware_in, json_option, on_option, the_book, today
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment, last_day
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.telling import told
from mancary.husbandry.words import CARES
from mancary.usecases.noting import facts_for
from mancary.usecases.pen import Pen
from mancary.usecases.record import known_box, write
from mancary.usecases.zone import zone_of


@click.command("note", cls=Signed)
@click.argument("box")
@click.argument("word")
@click.argument("amount", required=False, default="")
@click.option("--shelf", is_flag=True, help="BOX is a shelf: the care is of all its colonies.")
@on_option
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    box: str,
    word: str,
    amount: str,
    on: Moment | None,
    *,
    shelf: bool,
    as_json: bool,
) -> None:
    """Write down WORD about BOX, with an AMOUNT where there is one.

    WORD is a word of the trade: something seen (young-seen, dead, mould ...), a care (mist,
    protein ...), "count", "weigh", a size band (tens, many ...) or "note" for words of your own.
    Answers only once the fact is on disk. A whole shelf: mancary note B mist --shelf (the boxes in
    quarantine stand apart and are not meant).
    """
    book = the_book(ctx)
    codes = _on_shelf(book, box, word, on) if shelf else [known_box(book, box)]
    facts = [fact for code in codes for fact in facts_for(code, word, amount)]
    recorded = write(book, facts, pen=Pen(), happened=on or None)
    beware_in(book, recorded.entries)
    answer(
        {
            "facts": [
                {"id": entry.id, "kind": entry.fact.kind, "happened": entry.happened}
                for entry in recorded.entries
            ]
        },
        as_json=as_json,
        words=lambda: "\n".join(
            f"{box_of(entry.fact)}: {told(entry.fact)}  [{entry.id[-8:]}]"
            for entry in recorded.entries
        ),
    )


def box_of(fact: Fact) -> str:
    """The code of the box a note is about."""
    return fact.subjects()[0].partition(":")[2]


def _on_shelf(book: Book, shelf: str, word: str, on: Moment | None) -> list[str]:
    from mancary.usecases.shelf_care import boxes_on

    if word.strip().lower().replace("-", "_") not in CARES:
        raise Refusal(f"{word!r} cannot be said of a whole shelf, only a care given to all of it.")
    return boxes_on(book, shelf, on=last_day(on, zone_of(book)) if on else today(book))
