"""The command ``mancary logger``."""

from pathlib import Path

import click

from mancary.cli.answer import answer, json_option, the_book
from mancary.husbandry.shelf_climate import percent
from mancary.usecases.logger import LogTaken, Reckoned, take_log
from mancary.usecases.pen import Pen

_SHOWN = 20
_STATES = {
    "new": "written",
    "changed": "written anew",
    "same": "in the book already",
    "kept": "left as the book has it",
}


@click.command("logger")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.argument("shelf")
@click.option("--instrument", default="", help="The logger's code, as its salt test is written.")
@click.option(
    "--day-first/--month-first",
    "day_first",
    default=None,
    help="How 03/04/2026 is meant, where the file does not tell.",
)
@click.option("--temperature", default="", metavar="COLUMN", help="The temperature's column.")
@click.option(
    "--humidity", default="", metavar="COLUMN", help="The humidity's column; none for none."
)
@click.option("--unit", type=click.Choice(["c", "f"]), help="°C or °F, where no heading says it.")
@click.option("--dry-run", is_flag=True, help="Read and say what would be; write nothing.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    shelf: str,
    instrument: str,
    temperature: str,
    humidity: str,
    unit: str | None,
    *,
    day_first: bool | None,
    dry_run: bool,
    as_json: bool,
) -> None:
    """Take in FILE, a logger's readings (CSV, XLSX) of the air over SHELF, day by day.

    Each local day becomes one reading: lowest, highest, and means weighted by time. The same file
    again writes nothing; a day that has more readings by now is written anew.
    """
    taken = take_log(
        the_book(ctx),
        shelf,
        file.read_bytes(),
        instrument=instrument,
        day_first=day_first,
        temperature=temperature,
        humidity=humidity,
        unit=unit or "",
        dry_run=dry_run,
        pen=Pen(),
    )
    answer(taken, as_json=as_json, words=lambda: _words(taken))


def _words(taken: LogTaken) -> str:
    damp = f", humidity in {taken.humidity!r}" if taken.humidity else ", no humidity"
    counts = (
        f"{taken.lines} lines ({taken.how}): {taken.readings} readings, {taken.repeated} repeated,"
        f" {len(taken.faults)} faults. Temperature in {taken.temperature!r}{damp}."
    )
    lines = [counts, *(_day(one) for one in taken.days), *taken.notes]
    lines += [
        f"Line {one.row}, {one.column} {one.value!r}: {one.why}" for one in taken.faults[:_SHOWN]
    ]
    if len(taken.faults) > _SHOWN:
        lines.append(f"{len(taken.faults) - _SHOWN} more faults; --json lists all.")
    fresh, anew = taken.count("new"), taken.count("changed")
    verb = "would be " if taken.dry_run else ""
    lines.append(f"Shelf {taken.shelf}: {fresh} days {verb}written, {anew} {verb}written anew.")
    return "\n".join(lines)


def _day(one: Reckoned) -> str:
    day = one.day
    words = f"  {day.day}  {day.lowest_c:g} to {day.highest_c:g} °C"
    words += f", mean {day.mean_c:g}" if day.mean_c is not None else ""
    if day.rh_lowest is not None and day.rh_highest is not None:
        words += f", {percent(day.rh_lowest)} to {percent(day.rh_highest)}"
        words += f", mean {percent(day.rh_mean)}" if day.rh_mean is not None else ""
    return f"{words}; {day.readings} readings over {day.hours:g} h: {_STATES[one.state]}"
