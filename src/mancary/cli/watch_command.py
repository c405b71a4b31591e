"""The command ``mancary watch``."""

from datetime import date

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.watch_reasons import chance_said
from mancary.husbandry.watch_rows import WatchRow
from mancary.usecases.watch import TOLD, Watch, watch, watch_of


@click.command("watch")
@click.argument("box", required=False)
@click.option("--as-of", "on", type=DAY, help="The day to speak of, of nothing later; else today.")
@click.option("--all", "every", is_flag=True, help="Every colony, not only the foremost.")
@json_option
@click.pass_context
def command(
    ctx: click.Context, box: str | None, on: date | None, *, every: bool, as_json: bool
) -> None:
    """Which colonies may be failing: the chance to fall below five in 12 weeks, why, and what for.

    By falling chance; starters of fewer than ten, without young yet, lie apart. With BOX one alone.
    A count or a look changes the figure: mancary count BOX --hide 12.
    """
    book = the_book(ctx)
    day = on or today(book)
    if box:
        row = watch_of(book, box, on=day)
        answer((row,), as_json=as_json, words=lambda: "\n".join(_told(row)))
        return
    found = watch(book, on=day)
    answer(found.rows, as_json=as_json, words=lambda: _words(found, every=every))


def _words(found: Watch, *, every: bool) -> str:
    colonies = [row for row in found.rows if row.apart != "starter"]
    starters = [row for row in found.rows if row.apart == "starter"]
    if not found.rows:
        return f"No colony on {found.on}."
    shown = colonies if every else colonies[:TOLD]
    lines = [f"On watch {found.on}, chance to fall below five animals within 12 weeks", ""]
    for row in shown:
        lines += [*_told(row), ""]
    rest = len(colonies) - len(shown)
    if rest:
        most = chance_said(colonies[len(shown)].p_below_5_in_12_weeks)
        lines += [f"{rest} more, none above {most} (mancary watch --all)", ""]
    if starters:
        lines.append("Starters, fewer than ten and no young yet")
        lines += [
            f"  {row.box} {row.species}: {chance_said(row.p_below_5_in_12_weeks)}. {row.wait}"
            for row in starters
        ]
        lines.append("")
    return "\n".join([*lines, found.weights, found.basis])


def _told(row: WatchRow) -> list[str]:
    size = row.size
    fell = ""
    if row.p_fell_last_12_weeks is not None:
        fell = f"; perhaps fewer than 12 weeks ago ({chance_said(row.p_fell_last_12_weeks)}, weak)"
    seen = f", last seen {row.last_seen}" if row.last_seen else ""
    chance = chance_said(row.p_below_5_in_12_weeks)
    animals = f"{size.mid} animals ({size.low}-{size.high})"
    lines = [f"{chance:>10}  {row.box}  {row.species}, {animals}{seen}{fell}"]
    lines += [f"            {row.wait}"] if row.wait else []
    lines += [f"            Why: {one}" for one in row.reasons]
    lines += [f"            Look: {one}" for one in row.look_for]
    return lines
