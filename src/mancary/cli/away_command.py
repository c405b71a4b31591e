"""The command ``mancary away``."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from textwrap import wrap
from typing import Final, Literal

import click

from mancary.book import Book
from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book, today
from mancary.husbandry.absence import RISK, RestsOn, Visit
from mancary.usecases.away import Away, BoxAway, plan_absence
from mancary.usecases.standings import register_of

_SHOWN: Final = 6
_WIDTH: Final = 96
_BY: Final[Mapping[RestsOn, str]] = {
    "weighings": "weighings",
    "model": "the model of its vents and its rhythm",
    "rhythm": "its rhythm",
}


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
@click.option("--boxes", "each", is_flag=True, help="Tell every box at risk, and what it rests on.")
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
    each: bool,
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
    found = plan_absence(book, leaving=leaving, back=back, heat_c=heat, today=today(book))
    if file:
        _print(book, found, file, paper, replace=replace)
    written = f"\n{file}: the sheet of the stand-in." if file else ""
    answer(found, as_json=as_json, words=lambda: _words(found, each=each) + written)


def _print(
    book: Book, found: Away, file: Path, paper: Literal["a4", "us-letter"], *, replace: bool
) -> None:
    from mancary.paper.away_sheet import away_sheet
    from mancary.paper.filing import put_pdf

    opened = register_of(book, until=found.leaving).opened
    sheet = away_sheet(found, room=opened.name if opened else "", paper=paper)
    put_pdf(file, sheet.pdf, replace=replace)


def _words(found: Away, *, each: bool) -> str:
    risky = [one for one in found.boxes if one.chance_dry > RISK]
    head = f"Away {found.leaving} to {found.back}, {found.days} days"
    lines = [f"{head}{f', {found.heat_c:g} °C warmer' if found.heat_c else ''}."]
    if found.invented:
        lines.append("This book is invented, for demonstration.")
    lines += _sure(found, risky)
    if risky:
        lines += ["", "Most likely to run dry", *_at_risk(risky, each=each)]
    lines += ["", "Before you leave", *(f"  {rule}" for rule in found.rules)]
    for words, boxes in found.asked().items():
        lines += _filled(f"{words}: ", _told_boxes(boxes, len(found.boxes)))
    for visit in found.visits:
        lines += ["", f"Visit on {visit.day:%A} {visit.day}", *_visit(found, visit)]
    if found.visits:
        lines += ["", "The stand-in", *(f"  {rule}" for rule in found.stand_in)]
    return "\n".join([*lines, "", found.basis])


def _sure(found: Away, risky: Sequence[BoxAway]) -> Iterator[str]:
    if found.boxes:
        yield (
            f"{len(risky)} of {len(found.boxes)} boxes have more than {RISK:.0%} chance that their"
            " reserve is used up before you are back."
        )
    yield found.rests_on_said
    if found.air:
        yield found.air.said


def _at_risk(risky: Sequence[BoxAway], *, each: bool) -> Iterator[str]:
    shown = risky if each else risky[:_SHOWN]
    for one in shown:
        yield f"  {_box(one)}"
        if each:
            yield f"      {one.reserve.basis}"
    if len(risky) > len(shown):
        yield f"  and {len(risky) - len(shown)} more; --boxes tells each, and what it rests on"


def _told_boxes(boxes: Sequence[BoxAway], all_boxes: int) -> str:
    return "all boxes" if len(boxes) == all_boxes else ", ".join(one.box for one in boxes)


def _filled(first: str, words: str) -> list[str]:
    return wrap(
        first + words, _WIDTH, initial_indent="  ", subsequent_indent="    ",
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip


def _visit(found: Away, visit: Visit) -> Iterator[str]:
    """One line for each amount, with its boxes in walking order."""
    pours = {one.box: one.pour.said for one in found.boxes if one.pour}
    amounts: dict[str, list[str]] = {}
    for box in visit.boxes:
        amounts.setdefault(pours[box], []).append(box)
    for amount, boxes in amounts.items():
        yield from _filled(f"{amount}: ", ", ".join(boxes))


def _box(one: BoxAway) -> str:
    days = f"{one.reserve.low_days:.0f}-{one.reserve.high_days:.0f} days"
    again = f"; {one.reserve.doubt}" if one.reserve.doubt else ""
    lasts = f"lasts {days}, by {_BY[one.rests_on]}{again}"
    return f"{one.box} {one.species}: {one.chance_dry:.0%}; {lasts}"
