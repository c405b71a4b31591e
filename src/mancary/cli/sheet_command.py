"""The command ``mancary sheet``."""

from datetime import date
from pathlib import Path

import click

from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book, today


@click.command("sheet")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--on", type=DAY, help="The evening, such as 2026-03-01; else the next working one.")
@click.option("--minutes", type=NUMBER, help="Minutes you have that evening; else the weekday's.")
@click.option("--replace", is_flag=True, help="Write over a PDF that stands there already.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    on: date | None,
    minutes: float | None,
    *,
    replace: bool,
    as_json: bool,
) -> None:
    """Write tonight's round into FILE as an A4 sheet (PDF) to print and tick.

    Boxes in walking order, a box to tick for each care, words to circle for what was seen, the
    quarantined ones last. The sheet says how its ticks are typed in; accept the plan first, so that
    what you type is the round you ticked.
    """
    from mancary.paper.filing import may_be_written, put_pdf
    from mancary.paper.round_sheet import round_sheet
    from mancary.paper.typing_in import keep_command

    may_be_written(file, replace=replace)
    book = the_book(ctx)
    made = round_sheet(book, on=on or today(book), named=on is not None, minutes=minutes)
    put_pdf(file, made.sheet.pdf, replace=replace)
    told = made.told
    lines = [f"{file}: the round of {told.date:%A} {told.date}, {len(told.stops)} boxes."]
    if not made.accepted and told.stops:
        keep = keep_command(told, minutes=minutes)
        lines.append(f"This plan is not accepted yet. To type in what you tick, keep it: {keep}")
    if not made.sheet.accessible:
        lines.append(
            "Some letters are in no font of this machine: they are printed as empty frames, and a"
            " screen reader may not read them."
        )
    answer(
        {
            "file": str(file),
            "date": told.date,
            "boxes": len(told.stops),
            "cares": sum(len(stop.tasks) for stop in told.stops),
            "accepted": made.accepted,
            "accessible": made.sheet.accessible,
        },
        as_json=as_json,
        words=lambda: "\n".join(lines),
    )
