"""What every command shares: the book it works on, the day it speaks of, and how it answers."""

import math
import re
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path

import click
import msgspec

from mancary.book import Book, open_book
from mancary.cli.call import AS_JSON, Call
from mancary.husbandry.cautions import cautions
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import plain
from mancary.settings import PORT, book_path

_BELOW_ZERO = re.compile(r"-[.,]?\d")
_PLAIN = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?", re.ASCII)


def _note_json(ctx: click.Context, _: click.Parameter, value: bool) -> bool:  # noqa: FBT001  click's own
    ctx.find_root().meta[AS_JSON] = value
    return value


json_option = click.option(
    "--json", "as_json", is_flag=True, callback=_note_json, help="Answer as JSON."
)


class Day(click.ParamType[date]):
    """A day, such as 2026-03-01 or 01.03.2026."""

    name = "DATE"

    def convert(
        self, value: str | date, param: click.Parameter | None, ctx: click.Context | None
    ) -> date:
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(_moment(value))
        except (ValueError, Refusal):
            self.fail(f"{value!r} is not a day; expected one like 2026-03-01.", param, ctx)


class When(click.ParamType[str]):
    """A day, month or year in the past, as exactly as it is known; today means now."""

    name = "DATE"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        try:
            told = _moment(value)
        except Refusal as refusal:
            self.fail(f"{value!r}: {refusal}", param, ctx)
        # a bare day sorts before all that was written in it; what is told today is told now
        return "" if told == local_today().isoformat() else told


class Number(click.ParamType[float]):
    """A number, with a decimal point or a decimal comma."""

    name = "NUMBER"

    def convert(
        self, value: str | float, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        try:
            number = float(str(value).replace(",", ".").replace("\u2212", "-"))
        except ValueError:
            self.fail(f"{value!r} is not a number.", param, ctx)
        if not math.isfinite(number):
            self.fail(f"{value!r} is not a number.", param, ctx)
        return number


class Measure(click.ParamType[float]):
    """A number with or without a unit, as a reader of sheets takes it: "3", "3l", "120 mm"."""

    def __init__(self, name: str, reader: Callable[[str, str | None], float]) -> None:
        self.name = name
        self._reader = reader

    def convert(
        self, value: str | float, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        from mancary.sheets.faults import Unclear, Unreadable

        try:
            return self._reader(str(value), None)
        except (Unreadable, Unclear) as fault:
            self.fail(f"{value!r}: {fault}.", param, ctx)


class Signed(click.Command):
    """A command whose arguments may be numbers below zero: "-5" is no option."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        signed = [f"\u2212{one[1:]}" if _BELOW_ZERO.match(one) else one for one in args]
        return super().parse_args(ctx, signed)


def _litres(text: str, decimal: str | None) -> float:
    from mancary.sheets.values.measures import read_litres

    return read_litres(text, decimal)


def _cm(text: str, decimal: str | None) -> float:
    from mancary.sheets.values.measures import read_cm

    return read_cm(text, decimal)


LITRES = Measure("LITRES", _litres)
CENTIMETRES = Measure("CM", _cm)
DAY = Day()
WHEN = When()
NUMBER = Number()
on_option = click.option(
    "--on", type=WHEN, help="When it was, as exactly as you know: 2026-03-01 or 2026-03; else now."
)
port_option = click.option(
    "--port",
    type=click.IntRange(1, 65535),
    default=PORT,
    show_default=True,
    help="The port to listen on.",
)


def _moment(text: str) -> Moment:
    told = text.strip()
    if told in ("today", "yesterday"):
        return (local_today() - timedelta(days=told == "yesterday")).isoformat()
    if _PLAIN.fullmatch(told):
        return told
    from mancary.sheets.faults import Unclear
    from mancary.sheets.values.dates import DAY_FIRST, Calendar, DateOrder, read_date

    order = DateOrder(order=DAY_FIRST if "." in told else None, why="")
    try:
        return read_date(told, Calendar(order=order, today=date.max))
    except Unclear as unclear:
        raise Refusal(f"{unclear.why}; write it like 2026-03-01") from None


def local_today() -> date:
    """The present day by this machine's calendar."""
    return datetime.now().astimezone().date()


def path_of(ctx: click.Context) -> Path:
    """The file of the book this call is about."""
    call: Call = ctx.obj
    return book_path(call.book)


def the_book(ctx: click.Context) -> Book:
    """The open book of this call, closed when the call ends."""
    book = open_book(path_of(ctx))
    ctx.call_on_close(book.close)
    return book


def today(book: Book) -> date:
    """The present day in the keeper's zone."""
    from mancary.usecases.pen import wall_clock
    from mancary.usecases.zone import zone_of

    return wall_clock().astimezone(zone_of(book)).date()


def beware(facts: Iterable[Fact]) -> None:
    """Prints, beside the answer, the cautions that belong to these facts."""
    for line in cautions(facts):
        click.echo(f"Mind: {line}", err=True)


def beware_in(book: Book, entries: Sequence[Entry]) -> None:
    """Prints what to mind beside these facts, as far as the book tells too."""
    from mancary.usecases.minds import minds

    for line in minds(book, entries):
        click.echo(f"Mind: {line}", err=True)


def answer(value: object, *, as_json: bool, words: Callable[[], str]) -> None:
    """Prints the value as JSON, or its words."""
    if as_json:
        click.echo(msgspec.json.format(msgspec.json.encode(value, enc_hook=plain), indent=2))
    else:
        click.echo(words())
