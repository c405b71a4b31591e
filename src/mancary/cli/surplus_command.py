"""The command ``mancary surplus``."""

from collections.abc import Iterator
from datetime import date

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.cautions import RULES
from mancary.husbandry.colony_surplus import Surplus
from mancary.husbandry.watch_reasons import chance_said
from mancary.usecases.grow import Taking, surplus, taking


@click.command("surplus")
@click.argument("box")
@click.option("--taking", "animals", type=click.IntRange(1), help="Show what taking so many does.")
@click.option("--as-of", "on", type=DAY, help="The day to speak of, of nothing later; else today.")
@json_option
@click.pass_context
def command(
    ctx: click.Context, box: str, animals: int | None, on: date | None, *, as_json: bool
) -> None:
    """How many animals may go from BOX now, and which bound it is; nothing is written.

    With --taking what so many fewer would mean. When they go: mancary take BOX ANIMALS --to WHOM.
    """
    book = the_book(ctx)
    day = on or today(book)
    if animals is None:
        told = surplus(book, box, on=day)
        answer(told, as_json=as_json, words=lambda: "\n".join(_words(told)))
    else:
        effect = taking(book, box, animals, on=day)
        answer(effect, as_json=as_json, words=lambda: "\n".join(_effect(effect)))
    click.echo(f"Mind: {RULES}", err=True)


def _words(told: Surplus) -> Iterator[str]:
    yield f"May go now: {told.animals} animals, bound by {told.bound}"
    yield ""
    for bound in told.bounds:
        yield f"  {bound.animals:>5}  {bound.name}: {bound.said}"
    yield ""
    yield told.sizes
    yield told.basis


def _effect(told: Taking) -> Iterator[str]:
    held = "within" if told.within_surplus else "MORE THAN"
    yield f"Taking {told.animals}: {held} what may go"
    yield "              without             with it taken"
    for before, after in zip(told.without, told.taken, strict=True):
        one, other = before.animals, after.animals
        when = "now" if before.months == 0 else f"in {before.months} months"
        left = f"{one.mid} ({one.low}-{one.high})"
        yield f"  {when:<12}  {left:<18}  {other.mid} ({other.low}-{other.high})"
    yield "Mancas are in no figure; those left in the box grow up within the months shown."
    yield (
        f"Chance to fall below five in 12 weeks: {chance_said(told.p_below_untaken)}, then"
        f" {chance_said(told.p_below)}"
    )
