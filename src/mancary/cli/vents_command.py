"""The command ``mancary vents``."""

from itertools import groupby
from typing import get_args

import click

from mancary.book import Book
from mancary.cli.answer import NUMBER, answer, json_option, path_of, the_book
from mancary.husbandry.facts.places import Air
from mancary.husbandry.vent_choices import LAYOUTS, Choice, Holes
from mancary.husbandry.vent_said import share_said, span_said
from mancary.usecases.vent_targets import Wanted
from mancary.usecases.vents import VentsAnswer, Wish, vents_for


@click.command("vents")
@click.argument("box", required=False, default="")
@click.option("--litres", type=NUMBER, help="How large the box is, in litres.")
@click.option("--length-cm", type=NUMBER, help="Its inner length.")
@click.option("--width-cm", type=NUMBER, help="Its inner width.")
@click.option("--height-cm", type=NUMBER, help="Its inner height.")
@click.option("--species", default="", help="For which species; else the one that lives in BOX.")
@click.option(
    "--class",
    "ventilation",
    default="",
    help="A ventilation class: low, medium, high; or closed, airy.",
)
@click.option(
    "--mm",
    "drills",
    type=NUMBER,
    multiple=True,
    help="A drill you have. May be said more than once.",
)
@click.option(
    "--room",
    "air",
    type=click.Choice(get_args(Air)),
    default=None,
    help="How the air moves where the box stands; else as its shelf is told, else room.",
)
@click.option("--temp", type=NUMBER, help="Degrees Celsius there; else of its shelf, else 22.")
@click.option(
    "--humidity", type=NUMBER, help="Humidity there in percent; else of its shelf, else 40."
)
@click.option(
    "--wanted-mL-a-week", "ml_a_week", type=NUMBER, help="The water you want it to take a week."
)
@click.option("--air-changes", type=NUMBER, help="The air changes a day you want.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    box: str,
    litres: float | None,
    length_cm: float | None,
    width_cm: float | None,
    height_cm: float | None,
    species: str,
    ventilation: str,
    drills: tuple[float, ...],
    air: Air | None,
    temp: float | None,
    humidity: float | None,
    ml_a_week: float | None,
    air_changes: float | None,
    *,
    as_json: bool,
) -> None:
    """Which drills and how many holes for BOX, or for a box you describe.

    Several choices side by side, each with the water it takes, the humidity of both ends and the
    air changes, as ranges, and what one more row of holes would do. Nothing is written.
    """
    wish = Wish(
        box=box,
        litres=litres,
        length_cm=length_cm,
        width_cm=width_cm,
        height_cm=height_cm,
        drills_mm=drills,
        air=air or "",
        temp_c=temp,
        humidity=None if humidity is None else humidity / 100,
        wanted=Wanted(
            ml_a_week=ml_a_week,
            air_changes=air_changes,
            ventilation=ventilation,
            species=species,
        ),
    )
    found = vents_for(_book(ctx), wish)
    answer(found, as_json=as_json, words=lambda: _words(found))


def _book(ctx: click.Context) -> Book | None:
    return the_book(ctx) if path_of(ctx).exists() else None


def _words(found: VentsAnswer) -> str:
    box, *rest = _head(found)
    lines = [box, *_take(found), "", *rest, "", "All choices, side by side"]
    for layout, made in groupby(found.choices, key=lambda one: one.layout):
        lines.append(LAYOUTS[layout].capitalize())
        for one in made:
            lines += _choice(one)
    lines += [f"Left out: {one}" for one in found.left_out]
    lines += ["", "Assumed: " + "; ".join(found.assumed) + "."] if found.assumed else []
    lines += [f"Mind: {one}" for one in found.limits]
    lines += ["", *found.to_know, "", *(f"Mind: {one}" for one in found.cautions)]
    return "\n".join(lines)


def _head(found: VentsAnswer) -> list[str]:
    box = found.box
    sides = f"{box.length_cm:g} by {box.width_cm:g} by {box.height_cm:g} cm"
    name = f"Box {box.code}: " if box.code else ""
    lines = [
        f"{name}{box.litres:.3g} L, {sides}, {box.air_litres:.2g} L of air over the floor",
        f"At {found.temp_c:g} °C and {found.humidity * 100:.0f} % humidity, place: {found.air}",
        f"Wanted: {found.target.said}",
        f"  [{found.target.basis}]",
    ]
    if found.as_it_is:
        lines.append(f"As it is, {found.as_it_is.holes} vents: {_gives(found.as_it_is)}")
    elif box.code:
        lines.append(f"As it is: {found.as_it_is_not}")
    return lines


def _take(found: VentsAnswer) -> list[str]:
    if found.take is None:
        return ["", "None of these drills does it; what was tried is under Left out."]
    take = found.take
    stays = found.as_it_is_meets
    first = f"Its vents give what is wanted: drill nothing. In a new one: {take.said}."
    lines = ["", first if stays else f"Take this: {take.said}."]
    lines += [f"  {_gives(take.choice.gives)}", f"  Why: {take.why}."]
    if found.box.code and not stays:
        told = f'mancary describe {found.box.code} --vents "{take.as_told}"'
        lines.append(f"  Once it is drilled: {told}")
    return lines


def _choice(one: Choice) -> list[str]:
    mark = "" if one.meets else "  (not quite what is wanted: the nearest number of holes)"
    window, hole = ("window", "hole") if one.gives.holes == 1 else ("windows", "holes")
    sort = f"{window} of {one.mesh} mesh," if one.mesh else f"{hole} of"
    lines = [f"  {one.gives.holes} {sort} {one.mm:g} mm{mark}", f"    {_gives(one.gives)}"]
    if more := one.one_row_more:
        ml = span_said(more.ml_a_week_low, more.ml_a_week_high)
        air = span_said(more.air_changes_low, more.air_changes_high)
        lines.append(
            f"    one more row, of {one.row_holes}: {ml} mL a week, {air} air changes a day"
        )
    return lines


def _gives(holes: Holes) -> str:
    ml = span_said(holes.ml_a_week_low, holes.ml_a_week_high)
    grams = span_said(holes.g_a_day_low, holes.g_a_day_high)
    damp = share_said(holes.damp_end_rh_low, holes.damp_end_rh_high)
    dry = share_said(holes.dry_end_rh_low, holes.dry_end_rh_high)
    air = span_said(holes.air_changes_low, holes.air_changes_high)
    return (
        f"{ml} mL a week ({grams} g a day), air over the damp end {damp} %, over the dry end"
        f" {dry} %, {air} air changes a day"
    )
