"""The command ``mancary done``."""

from datetime import date

import click

from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book, today
from mancary.husbandry.codes import code
from mancary.husbandry.refusal import Refusal
from mancary.usecases.pen import Pen
from mancary.usecases.round_kept import write_done
from mancary.usecases.round_plan import plan_round
from mancary.usecases.timed import time_round


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

    Each care of the round is written as given; nothing is said of what was seen. What was seen is
    written with: mancary note. Sent twice it is written once.
    """
    book = the_book(ctx)
    day = on or today(book)
    told = plan_round(book, on=day, named=True)
    done = write_done(
        book,
        [(stop.box, [task.care for task in stop.tasks]) for stop in told.stops],
        on=day,
        left_out=[_named(one) for one in exceptions],
        skipped=dict(_skipped(one) for one in skips),
        pen=Pen(),
    )
    if took is not None:
        time_round(book, day, took, pen=Pen())
    answer(
        done,
        as_json=as_json,
        words=lambda: (
            f"The round of {done.date}: {done.given} cares written as given, {done.skipped} as"
            f" skipped, {done.left_out} left out."
        ),
    )


def _named(text: str) -> tuple[str, str]:
    box, _, care = text.partition(":")
    return code(box), care.strip().replace("-", "_")


def _skipped(text: str) -> tuple[tuple[str, str], str]:
    named, sign, why = text.partition("=")
    box, care = _named(named)
    if not sign or not care:
        raise Refusal(f"{text!r}: expected BOX:CARE=WHY.")
    return (box, care), why
