"""The command ``mancary away``."""

from datetime import date
from pathlib import Path
from typing import Literal

import click

from mancary.book import Book
from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book
from mancary.husbandry.absence import RISK
from mancary.usecases.away import Away, BoxAway, plan_absence
from mancary.usecases.standings import register_of


@click.command("away")
@click.option("--from", "leaving", type=DAY, required=True, help="The day of leaving.")
@click.option("--to", "back", type=DAY, required=True, help="The day of coming back.")
@click.option(
    "--heat", type=NUMBER, default=0.0, help="Assume so many degrees more than usual, such as 6."
)
@click.option(
    "--print",
    "file",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write the stand-in's sheet into this PDF, one page where it can be.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "us-letter"]),
    default="a4",
    show_default=True,
    help="The paper of the sheet.",
)
@click.option("--replace", is_flag=True, help="Write over a PDF that stands there already.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    leaving: date,
    back: date,
    heat: float,
    file: Path | None,
    paper: Literal["a4", "us-letter"],
    *,
    replace: bool,
    as_json: bool,
) -> None:
    """Before an absence: how sure each box is, what to do, and the sheet of a stand-in.

    With --print the sheet of the stand-in is written too: the visits, what not to do, and the
    rack with what goes into which box.
    """
    book = the_book(ctx)
    if file:
        from mancary.paper.filing import may_be_written

        may_be_written(file, replace=replace)
    found = plan_absence(book, leaving=leaving, back=back, heat_c=heat)
    if file:
        _print(book, found, file, paper, replace=replace)
    written = f"\n{file}: the sheet of the stand-in." if file else ""
    answer(found, as_json=as_json, words=lambda: _words(found) + written)


def _print(
    book: Book, found: Away, file: Path, paper: Literal["a4", "us-letter"], *, replace: bool
) -> None:
    from mancary.paper.away_sheet import away_sheet
    from mancary.paper.filing import put_pdf

    opened = register_of(book, until=found.leaving).opened
    sheet = away_sheet(found, room=opened.name if opened else "", paper=paper)
    put_pdf(file, sheet.pdf, replace=replace)


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
    lines.append(found.rests_on_said)
    if found.air:
        lines.append(found.air.said)
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
