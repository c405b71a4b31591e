"""The command ``mancary sheet``."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book, today
from mancary.usecases.pen import Pen
from mancary.usecases.round_evening import keep_evening

if TYPE_CHECKING:
    from mancary.paper.round_sheet import RoundOnPaper


@click.command("sheet")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--on", type=DAY, help="The evening, such as 2026-03-01; else the next working one.")
@click.option("--minutes", type=NUMBER, help="Minutes you have that evening; else the weekday's.")
@click.option("--only-print", is_flag=True, help="Leave the book alone: the plan is not kept.")
@click.option("--replace", is_flag=True, help="Write over a PDF that stands there already.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    on: date | None,
    minutes: float | None,
    *,
    only_print: bool,
    replace: bool,
    as_json: bool,
) -> None:
    """Write tonight's round into FILE as an A4 sheet (PDF) to print and tick.

    Boxes in walking order, a box to tick for each care, words to circle for what was seen, the
    quarantined ones last. The plan on it is kept unless one is kept for that evening already, so
    that what you type in is the round you ticked. The sheet says how its ticks are typed in.
    """
    from mancary.paper.filing import may_be_written, put_pdf
    from mancary.paper.round_sheet import round_sheet

    may_be_written(file, replace=replace)
    book = the_book(ctx)
    day, named = on or today(book), on is not None
    before = now = False
    if not only_print:
        kept_on, before, now = keep_evening(book, on=day, named=named, minutes=minutes, pen=Pen())
        day, named = kept_on, True
    # a plan kept just now has these minutes already
    made = round_sheet(book, on=day, named=named, minutes=None if now else minutes)
    put_pdf(file, made.sheet.pdf, replace=replace)
    told = made.told
    lines = [f"{file}: the round of {told.date:%A} {told.date}, {len(told.stops)} boxes."]
    lines += _kept_said(made, before=before, now=now, minutes=minutes)
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
            "kept_now": now,
            "accessible": made.sheet.accessible,
        },
        as_json=as_json,
        words=lambda: "\n".join(lines),
    )


def _kept_said(
    made: "RoundOnPaper", *, before: bool, now: bool, minutes: float | None
) -> list[str]:
    from mancary.paper.typing_in import keep_command

    if now:
        return ["This plan is kept: what you type in for that evening is this round."]
    if made.accepted:
        return ["It is the plan that was kept for that evening already."]
    if not made.told.stops:
        return []
    keep = keep_command(made.told, minutes=minutes)
    if before:
        other = "Another plan was kept for that evening already: ticks are typed in for that one."
        return [other, f"To keep the one on this sheet instead: {keep}"]
    return [f"This plan is not kept. To type in what you tick, keep it: {keep}"]
