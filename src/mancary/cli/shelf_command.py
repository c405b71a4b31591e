"""The command ``mancary shelf``: a shelf looked at, placed, or its thermometer written down."""

from typing import get_args

import click

from mancary.book import Book
from mancary.cli.answer import NUMBER, Signed, answer, json_option, on_option, the_book, today
from mancary.cli.colonies import say
from mancary.husbandry.codes import code
from mancary.husbandry.facts.places import Air
from mancary.husbandry.moments import Moment, last_day
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.shelf_climate import AIR_SAID
from mancary.usecases import set_up
from mancary.usecases.pen import Pen
from mancary.usecases.record import near_codes
from mancary.usecases.shelf_card import ShelfCard, shelf_card
from mancary.usecases.zone import zone_of


@click.command("shelf", cls=Signed)
@click.argument("shelf")
@click.argument("lowest_c", type=NUMBER, required=False)
@click.argument("highest_c", type=NUMBER, required=False)
@click.option("--room", default="", help="The room it stands in.")
@click.option("--turn", type=int, help="Its turn in the walk, lowest first.")
@click.option("--level", type=int, help="Its level, counted from the top.")
@click.option("--air", type=click.Choice(get_args(Air)), help="How the air moves there.")
@click.option("--humidity", default="", help='As shown, in percent, beside °C: "45", "40-55".')
@click.option("--instrument", default="", help="The code of the hygrometer that showed it.")
@on_option
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    shelf: str,
    lowest_c: float | None,
    highest_c: float | None,
    room: str,
    turn: int | None,
    level: int | None,
    on: Moment | None,
    *,
    air: Air | None,
    humidity: str,
    instrument: str,
    as_json: bool,
) -> None:
    """Write down SHELF's lowest and highest temperature since the last look (°C), or place it.

    With the code alone of a shelf in the book it shows it and its readings, and writes nothing.
    With a hygrometer also what it showed of the air's humidity; a salt test corrects it later.
    """
    book = the_book(ctx)
    if lowest_c is None and (humidity or instrument):
        raise Refusal("Say the lowest and the highest °C beside the humidity.")
    if lowest_c is not None and (room or air or turn is not None or level is not None):
        raise Refusal("Place the shelf and write down its reading one after the other.")
    if lowest_c is not None and highest_c is None:
        raise Refusal("Say both, the lowest and the highest since the last look.")
    placing = room or air or turn is not None or level is not None
    if lowest_c is None and not placing and not _is_new(book, shelf):
        found = shelf_card(book, shelf, on=last_day(on, zone_of(book)) if on else today(book))
        answer(found, as_json=as_json, words=lambda: _shelf_words(found))
        return
    if lowest_c is None or highest_c is None:
        recorded = set_up.place_shelf(
            book, shelf, room=room, turn=turn, level=level, air=air, pen=Pen()
        )
    else:
        recorded = set_up.read_shelf(
            book,
            shelf,
            lowest_c=lowest_c,
            highest_c=highest_c,
            humidity=_humidity(humidity),
            instrument=instrument,
            happened=on or None,
            pen=Pen(),
        )
    say(recorded, as_json=as_json, book=book)


def _is_new(book: Book, shelf: str) -> bool:
    """Whether a shelf is to be placed by its code alone: not in the book, and like none there."""
    named, known = code(shelf, what="shelf"), book.subjects("shelf")
    return named not in known and not near_codes(named, known)


def _shelf_words(found: ShelfCard) -> str:
    placed = [
        f"room {found.room}" if found.room else "",
        f"level {found.level} from the top" if found.level is not None else "",
        f"turn {found.turn} in the walk",
        AIR_SAID[found.air] if found.air else "how its air moves is not told",
    ]
    lines = [f"Shelf {found.shelf}: {', '.join(filter(None, placed))}"]
    lines += [f"Boxes: {', '.join(found.boxes) or 'none'}"]
    lines += [f"Too {one.too}: {', '.join(one.boxes)} at the last look" for one in found.left]
    shown = len(found.readings)
    lines += ["", f"Readings, newest first ({shown} of {found.readings_in_all})"]
    lines += [f"  {one.happened}  {one.words}" for one in found.readings]
    return "\n".join(lines if shown else [*lines[:-1], "No reading yet."])


def _humidity(text: str) -> tuple[float, float] | None:
    """Lowest and highest 0..1 of "45" or "40-55", in percent."""
    if not text.strip():
        return None
    ends = [end.strip() for end in text.replace("%", " ").replace("–", "-").split("-")]
    try:
        percents = [float(end.replace(",", ".")) for end in ends]
    except ValueError:
        percents = []
    if len(percents) not in (1, 2) or not all(1 < one <= 100 for one in percents):
        raise Refusal(f"{text!r}: expected the humidity in percent, like 45 or 40-55.")
    return percents[0] / 100, percents[-1] / 100
