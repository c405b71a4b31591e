"""The command ``mancary wants``."""

from datetime import date

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.wants import Want
from mancary.husbandry.words import said
from mancary.usecases.wants import BoxWants, WantsList, wants_list


@click.command("wants")
@click.option("--on", type=DAY, help="The day to speak of, such as 2026-03-01; else today.")
@json_option
@click.pass_context
def command(ctx: click.Context, on: date | None, *, as_json: bool) -> None:
    """What each box wants, in walking order. Rhythms are common practice unless you chose yours."""
    book = the_book(ctx)
    found = wants_list(book, on=on or today(book))
    answer(found, as_json=as_json, words=lambda: _words(found))


def _words(found: WantsList) -> str:
    lines = [f"What the boxes want on {found.on}."]
    if found.invented:
        lines.append("This book is invented, for demonstration.")
    shelf = None
    for box in found.boxes:
        if box.shelf != shelf:
            shelf = box.shelf
            lines.append(f"\nShelf {shelf or 'not said'}")
        lines.append(f"  {_box_line(box)}")
    if not found.boxes:
        lines.append("No box holds a colony yet. Take in a sheet with: mancary take-in FILE")
    return "\n".join(lines)


def _box_line(box: BoxWants) -> str:
    name = box.species.name if box.species else "species not said"
    urgent = [_care(want) for want in box.wants if want.state in ("late", "due")]
    unknown = [said(want.care) for want in box.wants if want.state == "no_record"]
    words = "; ".join(urgent) or "nothing due"
    if unknown:
        words += f"; no record of {', '.join(unknown)}"
    return f"{box.box}  {name}: {words}"


def _care(want: Want) -> str:
    if want.state == "late":
        days = "1 day" if want.late_days == 1 else f"{want.late_days} days"
        return f"{said(want.care)}, {days} late"
    return f"{said(want.care)}, by {want.latest}"
