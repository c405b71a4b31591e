"""The command ``mancary water``."""

from datetime import date, tzinfo

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.moments import clock_said
from mancary.husbandry.water_state import BoxWater, weight_said
from mancary.usecases.water import water_of
from mancary.usecases.zone import zone_of


@click.command("water")
@click.argument("box")
@click.option("--on", type=DAY, help="The evening to speak of; else today.")
@json_option
@click.pass_context
def command(ctx: click.Context, box: str, on: date | None, *, as_json: bool) -> None:
    """What the scale tells of a box's water: its loss, how long the reserve lasts, mL to pour.

    It counts from a weight you marked: mancary note BOX weigh "1462 just right", and perhaps one
    "too dry". Every pour between two weighings is noted with its mL: mancary note BOX mist "20 mL".
    """
    book = the_book(ctx)
    water = water_of(book, box, on=on or today(book))
    answer(water, as_json=as_json, words=lambda: _words(water, zone_of(book)))


def _words(water: BoxWater, zone: tzinfo) -> str:
    lines = [f"Water of box {water.box} on {water.on}", *water.said]
    if water.newest_g is not None and water.newest_on:
        lines += [
            "",
            f"Last weighed {weight_said(water.newest_g)} g on {clock_said(water.newest_on, zone)}",
        ]
    if water.just_right_g is not None and water.just_right_on:
        when = clock_said(water.just_right_on, zone)
        lines.append(f"Marked just right: {weight_said(water.just_right_g)} g on {when}")
    if water.questions:
        lines += ["", "Asked", *(f"  {question}" for question in water.questions)]
    if water.basis:
        lines += ["", "What it rests on", *(f"  {one}" for one in water.basis)]
    return "\n".join(lines)
