"""What every command shares: the book it works on, the day it speaks of, and how it answers."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import click
import msgspec

from mancary.book import Book, open_book
from mancary.cli.call import Call
from mancary.husbandry.refusal import Refusal
from mancary.settings import book_path

json_option = click.option("--json", "as_json", is_flag=True, help="Answer as JSON.")


class Day(click.ParamType[date]):
    """A day such as 2026-03-01."""

    name = "DATE"

    def convert(
        self,
        value: str | date,
        param: click.Parameter | None,
        ctx: click.Context | None,
    ) -> date:
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(value)
        except ValueError:
            self.fail(f"{value!r} is not a date; expected one like 2026-03-01.", param, ctx)


DAY = Day()


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
    from mancary.usecases.standings import zone_of

    now: datetime = wall_clock()
    return now.astimezone(zone_of(book)).date()


def answer(value: object, *, as_json: bool, words: Callable[[], str]) -> None:
    """Prints the value as JSON, or its words."""
    if as_json:
        click.echo(msgspec.json.format(msgspec.json.encode(value), indent=2))
    else:
        click.echo(words())


def happened_on(day: date | None) -> str | None:
    """The moment of a day given on the command line."""
    return day.isoformat() if day else None


def expect(condition: object, sentence: str) -> None:
    """Refuses with a sentence where the condition does not hold."""
    if not condition:
        raise Refusal(sentence)
