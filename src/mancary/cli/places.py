"""The commands about boxes, shelves, quarantine, batches and pages of the keeper's own."""

from collections.abc import Callable
from datetime import date
from typing import Any, TypeVar

import click

from mancary.book import Book
from mancary.cli.answer import (
    CENTIMETRES,
    DAY,
    LITRES,
    NUMBER,
    json_option,
    on_option,
    the_book,
)
from mancary.cli.colonies import say
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.usecases import set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded

Value = TypeVar("Value")


@click.command("describe")
@click.argument("box")
@click.option("--litres", type=LITRES, help="Volume in litres.")
@click.option("--length-cm", type=CENTIMETRES, help="Inside length in centimetres.")
@click.option("--width-cm", type=CENTIMETRES, help="Inside width in centimetres.")
@click.option("--height-cm", type=CENTIMETRES, help="Inside height in centimetres.")
@click.option("--wall-mm", type=NUMBER, help="Wall in millimetres.")
@click.option(
    "--vents",
    default="",
    help='As you would write them: "24x3 mm lid", "2 mesh 50", "12x3 low at one end, high at the'
    ' other", "24x3 lid, 10 taped", "none". Numbers are in all, unless you say "each".',
)
@click.option("--damp", default="", help='Damp share of the floor: "1/3", "half", "40%".')
@click.option("--substrate-cm", type=CENTIMETRES, help="Depth of the substrate in centimetres.")
@click.option("--litter-cm", type=CENTIMETRES, help="Depth of the leaf litter in centimetres.")
@click.option("--moss", default="", help='Share of the floor under moss: "1/4", "20%".')
@click.option("--warmer-c", type=NUMBER, help="Degrees the box is warmer than its shelf; 0 undoes.")
@click.option("--make", default="", help="What sort of box, in your own words.")
@click.option("--shelf", default="", help="The shelf it stands on.")
@click.option("--new-shelf", is_flag=True, help="The shelf is a new one, not a slip of the pen.")
@click.option("--position", type=click.IntRange(1, 999), help="Its place from the left.")
@on_option
@json_option
@click.pass_context
def describe(
    ctx: click.Context,
    box: str,
    vents: str,
    damp: str,
    shelf: str,
    position: int | None,
    on: Moment | None,
    *,
    litres: float | None,
    length_cm: float | None,
    width_cm: float | None,
    height_cm: float | None,
    wall_mm: float | None,
    substrate_cm: float | None,
    litter_cm: float | None,
    moss: str,
    warmer_c: float | None,
    make: str,
    new_shelf: bool,
    as_json: bool,
) -> None:
    """Name a new BOX, or tell more of one: size, vents, damp share, and where it stands.

    A mat only with a thermostat, at the side, never below.

    Drilling: clamp the box, slow drill, tape on the spot, glasses; hot tools only outdoors.
    """
    from mancary.sheets.values.measures import read_share
    from mancary.sheets.values.vents import told_vents

    book = the_book(ctx)
    recorded = _described(
        book,
        box,
        shelf=shelf,
        new_shelf=new_shelf,
        position=position,
        happened=on or None,
        pen=Pen(),
        damp_share=_read(damp, read_share),
        vents=_read(vents, told_vents),
        vents_as_written=vents,
        litres=litres,
        length_cm=length_cm,
        width_cm=width_cm,
        height_cm=height_cm,
        wall_mm=wall_mm,
        substrate_cm=substrate_cm,
        litter_cm=litter_cm,
        moss_share=_read(moss, read_share),
        warmer_c=warmer_c,
        make=make,
    )
    say(recorded, as_json=as_json, book=book)


def _described(
    book: Book,
    box: str,
    **told: Any,  # noqa: ANN401  what the use-case takes
) -> Recorded:
    """Describes the box; a shelf that is not in the book is taken for a slip of the pen."""
    try:
        return set_up.describe_box(book, box, **told)
    except UnknownSubject as unknown:
        if unknown.what != "shelf":
            raise
        raise Refusal(f"{unknown} If it is a new shelf, say --new-shelf.") from None


def _read(text: str, reader: Callable[[str, None], Value]) -> Value | None:
    """What a reader of sheets makes of an option; None where it is not given."""
    from mancary.sheets.faults import Unclear, Unreadable

    try:
        return reader(text, None) if text else None
    except (Unreadable, Unclear) as fault:
        raise Refusal(f"{text!r}: {fault}.") from None


@click.command("retire")
@click.argument("box")
@click.option("--why", default="", help="Why.")
@on_option
@json_option
@click.pass_context
def retire(ctx: click.Context, box: str, why: str, on: Moment | None, *, as_json: bool) -> None:
    """Take the empty BOX out of use for good."""
    recorded = set_up.retire_box(the_book(ctx), box, why=why, happened=on or None, pen=Pen())
    say(recorded, as_json=as_json)


@click.command("quarantine")
@click.argument("box")
@click.option(
    "--why",
    type=click.Choice(["new", "sick", "contaminated", "not_said"]),
    default="not_said",
    help="Why it is set apart.",
)
@click.option("--until", type=DAY, help="Until when; common practice for new animals: 4-8 weeks.")
@click.option("--over", is_flag=True, help="The quarantine is over.")
@on_option
@json_option
@click.pass_context
def quarantine(
    ctx: click.Context,
    box: str,
    why: str,
    until: date | None,
    on: Moment | None,
    *,
    over: bool,
    as_json: bool,
) -> None:
    """Set BOX apart: seen last, with its own tools. With --over, bring it back."""
    book, happened = the_book(ctx), on or None
    if over:
        recorded = set_up.end_quarantine(book, box, happened=happened, pen=Pen())
    else:
        recorded = set_up.quarantine(book, box, why=why, until=until, happened=happened, pen=Pen())
    say(recorded, as_json=as_json)


@click.command("batch")
@click.argument("batch")
@click.argument(
    "what",
    type=click.Choice(["leaves", "wood", "substrate", "feed", "springtails", "calcium", "other"]),
    required=False,
)
@click.option("--name", default="", help="Which leaves, which feed ...")
@click.option("--source", default="", help="Who or what it came from.")
@click.option("--place", default="", help="Where it was gathered.")
@click.option(
    "--treatment",
    type=click.Choice(["as_found", "heat", "boil", "freeze", "aged", "bought_clean", "not_said"]),
    default="not_said",
    help="What was done to it.",
)
@click.option("--note", default="", help="Words of your own.")
@click.option("--over", is_flag=True, help="It is used up or thrown away.")
@on_option
@json_option
@click.pass_context
def batch(
    ctx: click.Context,
    batch: str,
    what: str | None,
    name: str,
    source: str,
    place: str,
    treatment: str,
    note: str,
    on: Moment | None,
    *,
    over: bool,
    as_json: bool,
) -> None:
    """Name a sack of leaves, a mixing of substrate, a tin or a culture; with --over it is gone.

    Damp dry leaves and old substrate before you handle them, and wear a mask: they carry spores.
    When you gather outdoors: landowner's leave, no protected places, no sprayed ones.
    """
    book = the_book(ctx)
    if over:
        recorded = set_up.end_batch(book, batch, why=note, happened=on or None, pen=Pen())
    else:
        if what is None:
            raise Refusal(
                "Say what the batch is of: leaves, wood, substrate, feed, springtails ..."
            )
        recorded = set_up.make_batch(
            book,
            batch,
            what=what,
            name=name,
            source=source,
            place=place,
            treatment=treatment,
            note=note,
            happened=on or None,
            pen=Pen(),
        )
    say(recorded, as_json=as_json)


@click.command("page")
@click.argument("name")
@click.argument("care_group")
@click.option("--note", default="", help="Words of your own.")
@json_option
@click.pass_context
def page(ctx: click.Context, name: str, care_group: str, note: str, *, as_json: bool) -> None:
    """Open a page of your own for the form NAME, answered from CARE_GROUP."""
    recorded = set_up.open_page(the_book(ctx), name, care_group, note=note, pen=Pen())
    say(recorded, as_json=as_json)
