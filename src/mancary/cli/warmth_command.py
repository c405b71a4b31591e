"""The command ``mancary warmth``."""

from datetime import date

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.out_of_range import lasted_said
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
    lines: list[str] = []
    for too, what_to_do in WHAT_TO_DO.items():
        told = [one for one in found.spells if one.spell.too == too]
        still = [one for one in told if one.spell.going_on]
        past = [one for one in told if not one.spell.going_on]
        if not told:
            continue
        lines += [f"Too {too}: {what_to_do}"] if lines == [] else ["", f"Too {too}: {what_to_do}"]
        if still:
            lines += [f"Too {too} at the last look, worst first:", *(_spell(one) for one in still)]
        if past:
            weeks = f"Too {too} in the last {found.weeks} weeks, no longer at the last look:"
            lines += [weeks, *(_spell(one) for one in past)]
    if not found.spells:
        lines = [f"No box left its range in the last {found.weeks} weeks, as far as was read."]
    if found.no_range:
        lines += ["", f"No range is known for: {', '.join(found.no_range)}."]
    if found.never_read:
        lines.append(f"No reading since they came there: {', '.join(found.never_read)}.")
    return "\n".join([*lines, "", found.basis])


def _spell(one: BoxSpell) -> str:
    spell = one.spell
    looks = f"{spell.looks} look{'s' if spell.looks != 1 else ''}"
    ended = "" if spell.going_on else f", until the look of {spell.last}"
    return (
        f"  {one.box} shelf {one.shelf} {one.species}: too {spell.too}, {one.worst_c:g} °C"
        f" on {one.worst_on} ({one.past_c:g} past {one.kept_at}); since the look of"
        f" {spell.found}{ended} ({looks}); {lasted_said(spell)}"
    )
