"""The command ``mancary away``."""

from datetime import date

import click

from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book
from mancary.husbandry.absence import RISK
from mancary.usecases.away import Away, BoxAway, plan_absence


@click.command("away")
@click.option("--from", "leaving", type=DAY, required=True, help="The day of leaving.")
@click.option("--to", "back", type=DAY, required=True, help="The day of coming back.")
@click.option(
    "--heat", type=NUMBER, default=0.0, help="Assume so many degrees more than usual, such as 6."
)
@json_option
@click.pass_context
def command(ctx: click.Context, leaving: date, back: date, heat: float, *, as_json: bool) -> None:
    """Before an absence: how sure each box is, what to do, and the sheet of a stand-in.

    On paper: the same as a page, served with: mancary serve, under Prepare an absence.
    """
    found = plan_absence(the_book(ctx), leaving=leaving, back=back, heat_c=heat)
    answer(found, as_json=as_json, words=lambda: _words(found))


def _words(found: Away) -> str:
    risky = [one for one in found.boxes if one.chance_dry > RISK]
    head = f"Away {found.leaving} to {found.back}, {found.days} days"
    lines = [f"{head}{f', {found.heat_c:g} °C warmer' if found.heat_c else ''}."]
    if found.invented:
        lines.append("This book is invented, for demonstration.")
    lines.append(
        f"{len(risky)} of {len(found.boxes)} boxes have more than {RISK:.0%} chance that their"
        " reserve is used up before you are back."
    )
    lines += [f"  {_box(one)}" for one in risky]
    lines += ["", "Before you leave", *(f"  {rule}" for rule in found.rules)]
    for words, boxes in found.asked().items():
        lines.append(f"  {words}: {', '.join(one.box for one in boxes)}")
    told = {one.box: one for one in found.boxes}
    for visit in found.visits:
        lines += ["", f"Visit on {visit.day:%A} {visit.day}"]
        lines += [f"  {box}  {told[box].water_said}" for box in visit.boxes]
    if found.visits:
        lines += ["", "The stand-in", *(f"  {rule}" for rule in found.stand_in)]
    return "\n".join([*lines, "", found.basis])


def _box(one: BoxAway) -> str:
    days = f"{one.reserve.low_days:.0f}-{one.reserve.high_days:.0f} days"
    return f"{one.box} {one.species}: {one.chance_dry:.0%}; lasts {days} ({one.reserve.basis})"
