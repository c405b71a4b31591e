"""The command ``mancary warmth``."""

from datetime import date

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.usecases.warmth import WEEKS, WHAT_TO_DO, BoxSpell, Warmth, warmth


@click.command("warmth")
@click.option("--on", type=DAY, help="The day to speak of; else today.")
@click.option(
    "--weeks",
    type=click.IntRange(1, 520),
    default=WEEKS,
    show_default=True,
    help="So far back a spell is told.",
)
@json_option
@click.pass_context
def command(ctx: click.Context, on: date | None, weeks: int, *, as_json: bool) -> None:
    """Which boxes left the temperatures their species is kept at, for how long, and what to do."""
    book = the_book(ctx)
    found = warmth(book, on=on or today(book), weeks=weeks)
    answer(found, as_json=as_json, words=lambda: _words(found))


def _words(found: Warmth) -> str:
    if not found.spells:
        lines = [f"No box left its range in the last {found.weeks} weeks, as far as was read."]
    else:
        lines = [f"Out of their range in the last {found.weeks} weeks:"]
    lines += [f"  {_spell(one)}" for one in found.spells]
    for too, words in WHAT_TO_DO.items():
        if any(one.spell.too == too for one in found.spells):
            lines += ["", f"Too {too}: {words}"]
    if found.no_range:
        lines += ["", f"No range is known for: {', '.join(found.no_range)}."]
    if found.never_read:
        lines.append(f"No reading since they came there: {', '.join(found.never_read)}.")
    return "\n".join([*lines, "", found.basis])


def _spell(one: BoxSpell) -> str:
    spell = one.spell
    state = "still" if spell.going_on else f"until the look of {spell.last}"
    days = one.at_most_days
    lasted = (
        f"at most {days} days" if days is not None else "no look before it, so how long is open"
    )
    return (
        f"{one.box} shelf {one.shelf} {one.species}: too {spell.too}, {spell.worst_c:g} °C"
        f" ({spell.past_c:g} past {one.kept_at}); found {spell.found}, {state}"
        f" ({spell.looks} look{'s' if spell.looks != 1 else ''}); {lasted}"
    )
