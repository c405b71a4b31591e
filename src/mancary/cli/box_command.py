"""The command ``mancary box``."""

from collections.abc import Iterator
from datetime import date, tzinfo
from typing import Final

import click

from mancary.book import Book
from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.box_figures import figures_told, vents_told
from mancary.husbandry.moments import clock_said
from mancary.husbandry.out_of_range import lasted_said
from mancary.husbandry.telling import range_said
from mancary.husbandry.wants import SLACK_SAID, Want
from mancary.husbandry.words import said
from mancary.usecases.box_card import BoxCard, box_card
from mancary.usecases.coming import coming_to
from mancary.usecases.warmth import BoxSpell
from mancary.usecases.zone import zone_of

BY_SCALE: Final = "by your scale"
"""Whose a misting is that the box's weighings call for (see ``wants.by_scale``)."""


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
    answer(card, as_json=as_json, words=lambda: _words(book, card, on or today(book)))


def _words(book: Book, card: BoxCard, on: date) -> str:
    zone = zone_of(book)
    lines = [_head(card), *_stands(card, zone), "", "What it wants"]
    for want in card.wants.wants:
        last = f"last {clock_said(want.last, zone)}" if want.last else "no record"
        days = f"{want.late_days} day{'s' if want.late_days != 1 else ''}"
        late = f", {days} late" if want.late_days else ""
        rhythm = _rhythm(book, want, card.box.code, on)
        lines.append(f"  {said(want.care)}: {last}{late}; {rhythm}")
    if not card.wants.wants:
        lines.append("  nothing is known: no colony, or one without a care group")
    else:
        lines.append(f"  {SLACK_SAID}")
    lines += _caused(book, card, on)
    lines += ["", f"Time line, newest first ({len(card.time_line)} of {card.facts})"]
    for one in card.time_line:
        gone = f" [withdrawn: {one.why_withdrawn or 'no reason given'}]" if one.withdrawn else ""
        lines.append(f"  {clock_said(one.happened, zone)}  {one.words}{gone}  {one.id[-8:]}")
    return "\n".join(lines)


def _rhythm(book: Book, want: Want, box: str, on: date) -> str:
    whose = f"({want.whose}, {want.kind})"
    if want.whose == BY_SCALE:
        from mancary.husbandry.water_said import full_said  # numpy is slow to import
        from mancary.usecases.water import water_of

        full = water_of(book, box, on=on).full_days
        lasts = f"; a full reserve lasts {full_said(full)}" if full else ""
        return f"{want.said}{lasts} {whose}"
    every = range_said(round(want.low_days, 1), round(want.high_days, 1), "days")
    return f"{want.said}, taken as {every} {whose}" if want.said else f"every {every} {whose}"


def _caused(book: Book, card: BoxCard, on: date) -> Iterator[str]:
    """What follows from what happened, such as food to be taken out: no rhythm names it."""
    coming = coming_to(book, card.box.code, on=on) if card.colony else ()
    for one in coming:
        if one.caused:
            begins = "now" if one.due <= on else f"from {one.due}"
            yield f"  {said(one.care)}: {begins}, better not after {one.latest} ({one.why})"


def _head(card: BoxCard) -> str:
    name = card.species.name if card.species else "no colony"
    morph = f" '{card.line.morph}'" if card.line and card.line.morph else ""
    return f"Box {card.box.code}: {name}{morph}" + (" (invented)" if card.invented else "")


def _warmth(one: BoxSpell) -> str:
    return (
        f"TOO {one.spell.too.upper()}: shelf {one.shelf} read {one.worst_c:g} °C on {one.worst_on},"
        f" {one.past_c:g} past {one.kept_at}; {lasted_said(one.spell)}. {one.what_to_do}"
    )


def _stands(card: BoxCard, zone: tzinfo) -> list[str]:
    box = card.box
    lines = [f"Shelf {box.shelf}" if box.shelf else "Shelf not said"]
    size = "" if box.litres or box.length_cm else "size not said"
    damp = "" if box.damp_share is not None else "damp share not said"
    vents = "" if vents_told(box) else "vents not said"
    lines.append("; ".join(filter(None, (size, damp, *figures_told(box), vents))))
    lines += [_warmth(one) for one in card.warmth]
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
