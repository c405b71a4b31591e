"""The command ``mancary wants``."""

from datetime import date

import click
from msgspec.structs import replace

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.wants import SLACK_SAID, Want
from mancary.husbandry.words import CARES, said
from mancary.usecases.wants import BoxWants, WantsList, wants_list


@click.command("wants")
@click.option("--on", type=DAY, help="The day to speak of, such as 2026-03-01; else today.")
@click.option("--shelf", default="", help="Only the boxes of this shelf.")
@click.option("--care", default="", help="Only this care, such as protein or leaf-litter.")
@click.option("--late", is_flag=True, help="Only what is late.")
@json_option
@click.pass_context
def command(
    ctx: click.Context, on: date | None, shelf: str, care: str, *, late: bool, as_json: bool
) -> None:
    """What each box wants, in walking order. Rhythms are common practice unless you chose yours."""
    book = the_book(ctx)
    found = wants_list(book, on=on or today(book))
    found = _narrowed(found, shelf=shelf.strip().upper(), care=care.replace("-", "_"), late=late)
    answer(found, as_json=as_json, words=lambda: _words(found))


def _narrowed(found: WantsList, *, shelf: str, care: str, late: bool) -> WantsList:
    if care and care not in CARES:
        raise Refusal(f"{care!r} is no care; expected one of {', '.join(CARES)}.")
    boxes = [
        replace(
            box,
            wants=tuple(
                want
                for want in box.wants
                if (not care or want.care == care) and (not late or want.state == "late")
            ),
        )
        for box in found.boxes
        if not shelf or box.shelf == shelf
    ]
    narrow = bool(care or late)
    return replace(found, boxes=tuple(box for box in boxes if box.wants or not narrow))


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
    states = [want.state for box in found.boxes for want in box.wants]
    lines.append(
        f"\n{states.count('late')} late, {states.count('due')} due, {states.count('no_record')}"
        f" without a record, in {len(found.boxes)} boxes. {SLACK_SAID}"
    )
    if not found.boxes:
        lines.append("No box holds a colony yet. Take in a sheet with: mancary take-in FILE")
    return "\n".join(lines)


def _box_line(box: BoxWants) -> str:
    name = box.species.name if box.species else "species not said"
    urgent = [_care(want) for want in box.wants if want.state in ("late", "due")]
    unknown = [said(want.care) for want in box.wants if want.state == "no_record"]
    words = "; ".join(urgent) or "nothing due"
    if unknown:
        told = unknown[0] if len(unknown) == 1 else f"{len(unknown)} cares"
        words += f"; no record yet of {told}"
    apart = " (QUARANTINE, see it last)" if box.quarantined else ""
    return f"{box.box}  {name}{apart}: {words}"


def _care(want: Want) -> str:
    if want.state == "late":
        days = "1 day" if want.late_days == 1 else f"{want.late_days} days"
        return f"{said(want.care)}, {days} late"
    return f"{said(want.care)}, by {want.latest}"
