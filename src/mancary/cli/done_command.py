"""The command ``mancary done``."""

from datetime import date

import click
from msgspec.structs import asdict

from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book, today
from mancary.husbandry.codes import code
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import said
from mancary.usecases.evening_done import EveningDone, done_evening
from mancary.usecases.pen import Pen
from mancary.usecases.timed import time_round

_TOLD = 12
"""Ours: so many cares that were in the book already are named."""


@click.command("done")
@click.option("--on", type=DAY, help="The evening of the round; else today.")
@click.option(
    "--except",
    "exceptions",
    multiple=True,
    metavar="BOX[:CARE]",
    help="Not reached: a box, or one care of it. May be said more than once.",
)
@click.option(
    "--skip",
    "skips",
    multiple=True,
    metavar="BOX:CARE=WHY",
    help="Left out on purpose, and why. May be said more than once.",
)
@click.option("--took", type=NUMBER, help="How many minutes the evening took; the plan learns.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    on: date | None,
    exceptions: tuple[str, ...],
    skips: tuple[str, ...],
    took: float | None,
    *,
    as_json: bool,
) -> None:
    """Write down the round of an evening as done, all but the exceptions.

    The round is the one kept for that evening, by: mancary sheet or mancary round --accept. Where
    none was kept it is planned now, and kept. Each care is written as given; nothing is said of
    what was seen, which is written with: mancary note. What is in the book already is not written
    again, so two people can each write their half.
    """
    book = the_book(ctx)
    day = on or today(book)
    made = done_evening(
        book,
        on=day,
        left_out=[_named(one) for one in exceptions],
        skipped=dict(_skipped(one) for one in skips),
        pen=Pen(),
    )
    if took is not None:
        time_round(book, day, took, pen=Pen())
    answer(
        {**asdict(made.done), "plan_was_kept": made.plan_was_kept, "already": made.already},
        as_json=as_json,
        words=lambda: _words(made),
    )


def _words(made: EveningDone) -> str:
    done = made.done
    first = (
        f"The round of {done.date}: {done.given} cares written as given, {done.skipped} as"
        f" skipped, {done.left_out} left out."
    )
    lines = [first]
    if not made.plan_was_kept:
        kept = ", and kept" if done.facts or done.left_out or done.repeated else ""
        lines.append(
            f"No plan was kept for that evening: this is the round as planned now{kept}. A sheet"
            " printed before may show another."
        )
    if made.already:
        named = "; ".join(f"{box} {said(care)}" for box, care in made.already[:_TOLD])
        more = f"; and {len(made.already) - _TOLD} more" if len(made.already) > _TOLD else ""
        lines.append(f"Already written, and not again: {named}{more}.")
    return "\n".join(lines)


def _named(text: str) -> tuple[str, str]:
    box, _, care = text.partition(":")
    return code(box), care.strip().replace("-", "_")


def _skipped(text: str) -> tuple[tuple[str, str], str]:
    named, sign, why = text.partition("=")
    box, care = _named(named)
    if not sign or not care:
        raise Refusal(f"{text!r}: expected BOX:CARE=WHY.")
    return (box, care), why
