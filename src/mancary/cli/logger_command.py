"""The command ``mancary logger``."""

from pathlib import Path

import click

from mancary.cli.answer import answer, beware_in, json_option, the_book
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.shelf_climate import percent
from mancary.sheets.logger_unsaid import Unsaid
from mancary.usecases.logger import LogTaken, OtherFigures, take_log
from mancary.usecases.logger_beside import Reckoned
from mancary.usecases.pen import Pen

_SHOWN = 20
_STATES = {
    "new": "written",
    "changed": "written anew",
    "same": "in the book already",
    "kept": "left as the book has it",
    "differs": "other figures than the book has",
}
_WOULD = {"new": "to be written", "changed": "to be written anew"}
_OPTIONS = {
    "temperature": "--temperature COLUMN",
    "humidity": "--humidity COLUMN, or --humidity none",
    "unit": "--unit c or --unit f",
    "order": "--day-first or --month-first",
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
@click.option(
    "--replace", is_flag=True, help="Withdraw days with other figures and write these instead."
)
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
    replace: bool,
    dry_run: bool,
    as_json: bool,
) -> None:
    """Take in FILE, a logger's readings (CSV, XLSX) of the air over SHELF, day by day.

    Each local day becomes one reading: lowest, highest, and means weighted by time. The same file
    again writes nothing; a day that the same log has read on since is written anew. Days with
    other figures are asked about.
    """
    book = the_book(ctx)
    try:
        taken = take_log(
            book,
            shelf,
            file.read_bytes(),
            instrument=instrument,
            day_first=day_first,
            temperature=temperature,
            humidity=humidity,
            unit=unit or "",
            replace=replace,
            dry_run=dry_run,
            pen=Pen(),
        )
    except Unsaid as unsaid:
        raise Refusal(f"{unsaid} Say {_OPTIONS[unsaid.what]}.") from None
    except OtherFigures as other:
        raise Refusal(f"{other} Or, to put these in their place, --replace.") from None
    beware_in(book, [entry for one in taken.ids if (entry := book.entry(one)) is not None])
    answer(taken, as_json=as_json, words=lambda: _words(taken))


def _words(taken: LogTaken) -> str:
    damp = f", humidity in {taken.humidity!r}" if taken.humidity else ", no humidity"
    counts = (
        f"{taken.lines} lines ({taken.how}): {taken.readings} readings, {taken.repeated} repeated,"
        f" {len(taken.faults)} faults. Temperature in {taken.temperature!r}{damp}."
    )
    lines = [counts, *(_day(one, dry=taken.dry_run) for one in taken.days), *taken.notes]
    lines += [
        f"Line {one.row}, {one.column} {one.value!r}: {one.why}" for one in taken.faults[:_SHOWN]
    ]
    if len(taken.faults) > _SHOWN:
        lines.append(f"{len(taken.faults) - _SHOWN} more faults; --json lists all.")
    fresh, anew = taken.count("new"), taken.count("changed")
    verb = "would be " if taken.dry_run else ""
    lines.append(f"Shelf {taken.shelf}: {_days(fresh)} {verb}written, {anew} {verb}written anew.")
    return "\n".join(lines)


def _days(number: int) -> str:
    return f"{number} day{'s' if number != 1 else ''}"


def _day(one: Reckoned, *, dry: bool) -> str:
    day = one.day
    words = f"  {day.day}  {day.lowest_c:g} to {day.highest_c:g} °C"
    words += f", mean {day.mean_c:g}" if day.mean_c is not None else ""
    if day.rh_lowest is not None and day.rh_highest is not None:
        words += f", {percent(day.rh_lowest)} to {percent(day.rh_highest)}"
        words += f", mean {percent(day.rh_mean)}" if day.rh_mean is not None else ""
    return f"{words}; {day.readings} readings over {day.hours:g} h: {_state(one, dry=dry)}"


def _state(one: Reckoned, *, dry: bool) -> str:
    return _WOULD.get(one.state, _STATES[one.state]) if dry else _STATES[one.state]
