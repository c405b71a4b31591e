"""The commands about boxes, shelves, quarantine, batches and pages of the keeper's own."""

from datetime import date

import click

from mancary.cli.answer import DAY, NUMBER, json_option, on_option, the_book
from mancary.cli.colonies import say
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.usecases import set_up
from mancary.usecases.pen import Pen


@click.command("describe")
@click.argument("box")
@click.option("--litres", type=NUMBER, help="Volume in litres.")
@click.option("--length-cm", type=NUMBER, help="Inside length in centimetres.")
@click.option("--width-cm", type=NUMBER, help="Inside width in centimetres.")
@click.option("--height-cm", type=NUMBER, help="Inside height in centimetres.")
@click.option("--wall-mm", type=NUMBER, help="Wall in millimetres.")
@click.option("--vents", default="", help='As you would write them: "24x3 mm lid", "2 mesh 50".')
@click.option("--damp", default="", help='Damp share of the floor: "1/3", "half", "40%".')
@click.option("--make", default="", help="What sort of box, in your own words.")
@click.option("--shelf", default="", help="The shelf it stands on.")
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
    make: str,
    as_json: bool,
) -> None:
    """Name a new BOX, or tell more of one: size, vents, damp share, and where it stands.

    Drilling: clamp the box, slow drill, tape on the spot, glasses; hot tools only outdoors.
    """
    from mancary.sheets.faults import Unclear, Unreadable
    from mancary.sheets.values.measures import read_share
    from mancary.sheets.values.vents import read_vents

    try:
        share = read_share(damp, None) if damp else None
        drilled = read_vents(vents, None) if vents else None
    except (Unreadable, Unclear) as fault:
        raise Refusal(f"{damp or vents!r}: {fault}.") from None
    recorded = set_up.describe_box(
        the_book(ctx),
        box,
        shelf=shelf,
        position=position,
        happened=on or None,
        pen=Pen(),
        damp_share=share,
        vents=drilled,
        vents_as_written=vents,
        litres=litres,
        length_cm=length_cm,
        width_cm=width_cm,
        height_cm=height_cm,
        wall_mm=wall_mm,
        make=make,
    )
    say(recorded, as_json=as_json)


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


@click.command("shelf")
@click.argument("shelf")
@click.argument("lowest_c", type=NUMBER, required=False)
@click.argument("highest_c", type=NUMBER, required=False)
@click.option("--room", default="", help="The room it stands in.")
@click.option("--turn", type=int, help="Its turn in the walk, lowest first.")
@click.option("--level", type=int, help="Its level, counted from the top.")
@on_option
@json_option
@click.pass_context
def shelf(
    ctx: click.Context,
    shelf: str,
    lowest_c: float | None,
    highest_c: float | None,
    room: str,
    turn: int | None,
    level: int | None,
    on: Moment | None,
    *,
    as_json: bool,
) -> None:
    """Place SHELF, or write down its lowest and highest temperature since the last look (°C)."""
    book = the_book(ctx)
    if lowest_c is not None and highest_c is None:
        raise Refusal("Say both, the lowest and the highest since the last look.")
    if lowest_c is None or highest_c is None:
        recorded = set_up.place_shelf(book, shelf, room=room, turn=turn, level=level, pen=Pen())
    else:
        recorded = set_up.read_shelf(
            book,
            shelf,
            lowest_c=lowest_c,
            highest_c=highest_c,
            happened=on or None,
            pen=Pen(),
        )
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
