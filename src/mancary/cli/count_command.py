"""The command ``mancary count``."""

import click
import msgspec

from mancary.cli.answer import answer, beware, json_option, on_option, the_book
from mancary.husbandry.count_told import CountTold
from mancary.husbandry.facts import Counted
from mancary.husbandry.moments import Moment
from mancary.husbandry.sentences import plain
from mancary.usecases.counts import (
    CountTyped,
    animals_typed,
    count,
    may_count,
    numbers_typed,
    reckon,
)
from mancary.usecases.pen import Pen


class Number(click.ParamType[tuple[int, int | None]]):
    """A number of animals, or a range: 37, 40-50, or 50+ for at least so many."""

    name = "ANIMALS"

    def convert(
        self,
        value: str | tuple[int, int | None],
        param: click.Parameter | None,
        ctx: click.Context | None,
    ) -> tuple[int, int | None]:
        if isinstance(value, tuple):
            return value
        told = animals_typed(value)
        if told is None:
            self.fail(f"{value!r} is no number of animals; expected 37, 40-50 or 50+.", param, ctx)
        return told


class Numbers(click.ParamType[tuple[int, ...]]):
    """Whole numbers one after the other: 25,12,5."""

    name = "N,N,..."

    def convert(
        self,
        value: str | tuple[int, ...],
        param: click.Parameter | None,
        ctx: click.Context | None,
    ) -> tuple[int, ...]:
        if isinstance(value, tuple):
            return value
        told = numbers_typed(value)
        if told is None:
            self.fail(f"{value!r}: expected whole numbers such as 25,12,5.", param, ctx)
        return told


ANIMALS, LIST = Number(), Numbers()


def _share(_: click.Context, __: click.Parameter, typed: str | None) -> float | None:
    from mancary.sheets.faults import Unclear, Unreadable
    from mancary.sheets.values.measures import read_share

    if typed is None:
        return None
    try:
        return read_share(typed, None, of="of the box")
    except (Unclear, Unreadable) as fault:
        raise click.BadParameter(f"{typed!r}: {fault}.") from None


@click.command("count")
@click.argument("box")
@click.option("--full", type=ANIMALS, help="Animals found when the whole box was searched.")
@click.option("--hide", type=ANIMALS, help="Animals under one hide, the same each time.")
@click.option("--scoops", type=LIST, help="Animals in each of some equal scoops or squares.")
@click.option(
    "--share", callback=_share, metavar="SHARE", help="What one scoop is of the box: 10% or 0.1."
)
@click.option("--passes", type=LIST, help="Animals of each pass, none put back between.")
@click.option(
    "--marks", type=LIST, help="Adults marked, adults caught later, and of these with a mark."
)
@click.option("--band", default="", metavar="BAND", help="none, few, tens, many or crowded.")
@click.option("--guess", type=ANIMALS, help="A guess of all of them.")
@click.option("--text", default="", metavar="WORDS", help="Words of your own beside it.")
@click.option("--dry-run", is_flag=True, help="Only say what it would tell; write nothing.")
@on_option
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    box: str,
    full: tuple[int, int | None] | None,
    hide: tuple[int, int | None] | None,
    scoops: tuple[int, ...] | None,
    share: float | None,
    passes: tuple[int, ...] | None,
    marks: tuple[int, ...] | None,
    band: str,
    guess: tuple[int, int | None] | None,
    text: str,
    on: Moment | None,
    *,
    dry_run: bool,
    as_json: bool,
) -> None:
    """Write a count of BOX down, made in one of several ways, and hear what it tells.

    The whole box is best and disturbs most; the same hide each time shows the trend. A count moves
    what `watch` and `grow` say of the box.
    """
    if marks is not None and len(marks) != 3:
        raise click.BadParameter("expected three numbers: marked, caught, with a mark.")
    typed = CountTyped(
        full=full,
        hide=hide,
        guess=guess,
        scoops=scoops or (),
        share=share,
        passes=passes or (),
        marks=(marks[0], marks[1], marks[2]) if marks else None,
        band=band.strip().lower(),
        note=text,
    )
    if dry_run:
        told = reckon(typed, box=box)
        may_count(the_book(ctx), box, pen=Pen(), happened=on or None)
        answer(told, as_json=as_json, words=lambda: _words(told))
        return
    found = count(the_book(ctx), box, typed, pen=Pen(), happened=on or None)
    beware([Counted(box=found.box, low=round(found.told.low), high=_whole(found.told.high))])
    body = {"box": found.box, "ids": found.ids, **msgspec.to_builtins(found.told, enc_hook=plain)}
    answer(body, as_json=as_json, words=lambda: f"{found.box}: {_words(found.told)}")


def _whole(high: float | None) -> int | None:
    return None if high is None else round(high)


def _words(told: CountTold) -> str:
    lines = [f"counted {told.counted}"]
    if told.estimate is not None:
        high = "no upper bound" if told.high is None else f"{told.high:.0f}"
        lines.append(
            f"In the whole box about {told.estimate:.0f}, {told.low:.0f} to {high}"
            f" ({told.range_is}; {told.basis})"
        )
    elif told.high is None:
        lines.append(f"In the whole box at least {told.low:.0f} ({told.basis})")
    else:
        lines.append(
            f"In the whole box {told.low:.0f} to {told.high:.0f} ({told.range_is}; {told.basis})"
        )
    return "\n".join([*lines, told.said])
