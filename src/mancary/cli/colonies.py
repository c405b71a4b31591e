"""The commands about whole colonies: found, move, split, join, end, take."""

from typing import get_args

import click

from mancary.book import Book
from mancary.cli.answer import answer, beware, beware_in, json_option, on_option, the_book
from mancary.husbandry.moments import Moment
from mancary.husbandry.telling import told
from mancary.husbandry.words import EndCause
from mancary.usecases import colony_work
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded

_why = click.option("--why", default="", help="Why.")


def say(recorded: Recorded, *, as_json: bool, book: Book | None = None) -> None:
    """Answers with the facts that were written, and what to mind; of more where ``book`` is."""
    if book is None:
        beware(entry.fact for entry in recorded.entries)
    else:
        beware_in(book, recorded.entries)
    answer(
        {"facts": [{"id": entry.id, "kind": entry.fact.kind} for entry in recorded.entries]},
        as_json=as_json,
        words=lambda: "\n".join(
            f"{told(entry.fact)}  [{entry.id[-8:]}]" for entry in recorded.entries
        ),
    )


@click.command("found")
@click.argument("box")
@click.argument("species")
@click.option("--animals", type=click.IntRange(1), help="How many founders.")
@click.option("--morph", default="", help="The morph, as you call it.")
@click.option("--source", default="", help="Where they came from.")
@click.option("--locality", default="", help="Where their ancestors were taken.")
@on_option
@json_option
@click.pass_context
def found(
    ctx: click.Context,
    box: str,
    species: str,
    animals: int | None,
    morph: str,
    source: str,
    locality: str,
    on: Moment | None,
    *,
    as_json: bool,
) -> None:
    """Begin a colony of SPECIES in the empty BOX. The name as you type it is kept."""
    from mancary.usecases.naming import certain_species

    book = the_book(ctx)
    recorded = colony_work.found(
        book,
        box,
        certain_species(book, species),
        as_bought=species,
        morph=morph,
        source=source,
        locality=locality,
        founders=(animals, animals),
        happened=on or None,
        pen=Pen(),
    )
    say(recorded, as_json=as_json)


@click.command("move")
@click.argument("from_box")
@click.argument("to_box")
@_why
@on_option
@json_option
@click.pass_context
def move(
    ctx: click.Context, from_box: str, to_box: str, why: str, on: Moment | None, *, as_json: bool
) -> None:
    """Move the whole colony of FROM_BOX into the empty TO_BOX: a step-up, or a rescue."""
    recorded = colony_work.move(
        the_book(ctx), from_box, to_box, why=why, happened=on or None, pen=Pen()
    )
    say(recorded, as_json=as_json)


@click.command("split")
@click.argument("box")
@click.argument("new_box")
@click.option("--animals", type=click.IntRange(1), help="How many went into the new box.")
@_why
@on_option
@json_option
@click.pass_context
def split(
    ctx: click.Context,
    box: str,
    new_box: str,
    animals: int | None,
    why: str,
    on: Moment | None,
    *,
    as_json: bool,
) -> None:
    """Begin a new colony in the empty NEW_BOX with part of the colony of BOX."""
    recorded = colony_work.split(
        the_book(ctx), box, new_box, taken=animals, why=why, happened=on or None, pen=Pen()
    )
    say(recorded, as_json=as_json)


@click.command("join")
@click.argument("box")
@click.argument("into_box")
@click.option("--mixing", is_flag=True, help="The two are of different lines, and you mean to mix.")
@_why
@on_option
@json_option
@click.pass_context
def join(
    ctx: click.Context,
    box: str,
    into_box: str,
    why: str,
    on: Moment | None,
    *,
    mixing: bool,
    as_json: bool,
) -> None:
    """Put the colony of BOX together with that of INTO_BOX: one species, and one line."""
    recorded = colony_work.join(
        the_book(ctx), box, into_box, mixing=mixing, why=why, happened=on or None, pen=Pen()
    )
    say(recorded, as_json=as_json)


@click.command("end")
@click.argument("box")
@click.option(
    "--cause",
    type=click.Choice(get_args(EndCause)),
    default="not_known",
    show_default=True,
    help="What you think the cause was.",
)
@click.option("--note", default="", help="Words of your own.")
@on_option
@json_option
@click.pass_context
def end(
    ctx: click.Context, box: str, cause: EndCause, note: str, on: Moment | None, *, as_json: bool
) -> None:
    """Say that the colony of BOX is no more.

    An empty-looking box is not dead: keep it damp and lightly fed for at least 8 weeks, 12 for
    cave forms, before you clear it (common practice, from memory).
    """
    recorded = colony_work.end(
        the_book(ctx), box, cause=cause, note=note, happened=on or None, pen=Pen()
    )
    say(recorded, as_json=as_json)


@click.command("take")
@click.argument("box")
@click.argument("animals", type=click.IntRange(1), required=False)
@click.option("--to", default="", help="Who got them, or what for.")
@on_option
@json_option
@click.pass_context
def take(
    ctx: click.Context, box: str, animals: int | None, to: str, on: Moment | None, *, as_json: bool
) -> None:
    """Write down that ANIMALS left the colony of BOX: swapped, sold, given, lent.

    Rules for moving and selling live animals differ by place; ask your authority. Never release.
    """
    recorded = colony_work.take(
        the_book(ctx), box, animals=animals, to=to, happened=on or None, pen=Pen()
    )
    say(recorded, as_json=as_json)


@click.command("rename")
@click.argument("line")
@click.argument("species")
@click.option("--by", required=True, help="Who holds it to be so: you, a keeper, a publication.")
@click.option("--morph", default="", help="The morph, where it changes too.")
@_why
@json_option
@click.pass_context
def rename(
    ctx: click.Context, line: str, species: str, by: str, morph: str, why: str, *, as_json: bool
) -> None:
    """Hold LINE to be of SPECIES from now on. The name it was bought under stays."""
    from mancary.usecases.naming import certain_species

    book = the_book(ctx)
    recorded = colony_work.rename_line(
        book, line, certain_species(book, species), by=by, morph=morph, why=why, pen=Pen()
    )
    say(recorded, as_json=as_json)
