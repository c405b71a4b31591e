"""The command ``mancary box``."""

from datetime import date, tzinfo

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.moments import clock_said
from mancary.husbandry.telling import range_said, vents_said
from mancary.husbandry.wants import SLACK_SAID
from mancary.husbandry.words import said
from mancary.usecases.box_card import BoxCard, box_card
from mancary.usecases.zone import zone_of


@click.command("box")
@click.argument("box")
@click.option("--on", type=DAY, help="The day to speak of; else today.")
@click.option("--most", default=20, show_default=True, help="How much of the time line to show.")
@json_option
@click.pass_context
def command(ctx: click.Context, box: str, on: date | None, most: int, *, as_json: bool) -> None:
    """A box's card: how it stands, what it wants, and its time line, newest first."""
    book = the_book(ctx)
    card = box_card(book, box, on=on or today(book), most=None if as_json else most)
    answer(card, as_json=as_json, words=lambda: _words(card, zone_of(book)))


def _words(card: BoxCard, zone: tzinfo) -> str:
    lines = [_head(card), *_stands(card, zone), "", "What it wants"]
    for want in card.wants.wants:
        last = f"last {clock_said(want.last, zone)}" if want.last else "no record"
        late = f", {want.late_days} days late" if want.late_days else ""
        every = range_said(round(want.low_days, 1), round(want.high_days, 1), "days")
        rhythm = f"{want.said}, taken as {every}" if want.said else f"every {every}"
        lines.append(f"  {said(want.care)}: {last}{late}; {rhythm} ({want.whose}, {want.kind})")
    if not card.wants.wants:
        lines.append("  nothing is known: no colony, or one without a care group")
    else:
        lines.append(f"  {SLACK_SAID}")
    lines += ["", f"Time line, newest first ({len(card.time_line)} of {card.facts})"]
    for one in card.time_line:
        gone = f" [withdrawn: {one.why_withdrawn or 'no reason given'}]" if one.withdrawn else ""
        lines.append(f"  {clock_said(one.happened, zone)}  {one.words}{gone}  {one.id[-8:]}")
    return "\n".join(lines)


def _head(card: BoxCard) -> str:
    name = card.species.name if card.species else "no colony"
    morph = f" '{card.line.morph}'" if card.line and card.line.morph else ""
    return f"Box {card.box.code}: {name}{morph}" + (" (invented)" if card.invented else "")


def _stands(card: BoxCard, zone: tzinfo) -> list[str]:
    box = card.box
    lines = [f"Shelf {box.shelf}" if box.shelf else "Shelf not said"]
    size = f"{box.litres:g} L" if box.litres else "size not said"
    vents = vents_said(box.vents) if box.vents else box.vents_as_written or "vents not said"
    damp = (
        f"damp share {box.damp_share:.0%}" if box.damp_share is not None else "damp share not said"
    )
    lines.append(f"{size}; {damp}; {vents}")
    if box.quarantine:
        until = f" until {box.quarantine.until}" if box.quarantine.until else ""
        since = clock_said(box.quarantine.since, zone)
        lines.append(f"QUARANTINE since {since}{until}: {said(box.quarantine.why)}. Own tools.")
    if box.retired_on:
        lines.append(f"Out of use since {clock_said(box.retired_on, zone)}")
    if card.colony and card.line:
        founded = clock_said(card.colony.founded, zone)
        visited = clock_said(card.visited, zone) if card.visited else "never"
        lines.append(f"Line {card.line.slug}; founded {founded}; last visited {visited}")
    if card.counted:
        number = range_said(card.counted.low, card.counted.high)
        typed = f" ('{card.counted.as_written}')" if card.counted.as_written else ""
        lines.append(f"Last count {number}{typed} on {clock_said(card.counted.happened, zone)}")
    return lines
