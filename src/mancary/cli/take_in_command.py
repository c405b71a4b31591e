"""The command ``mancary take-in``."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import click

from mancary.book import Book, create_book, open_book
from mancary.book.file import discard
from mancary.cli.answer import DAY, answer, json_option, path_of
from mancary.husbandry.refusal import Refusal
from mancary.settings import local_zone
from mancary.usecases.opening import open_new
from mancary.usecases.pen import Pen, wall_clock
from mancary.usecases.take_hand_out import is_hand_out, take_hand_out
from mancary.usecases.take_in import Reading, read_sheet, take

_LIKELY = 0.9
_SHOWN = 3


@click.command("take-in")
@click.argument("file", type=click.Path(exists=True, path_type=Path))
@click.option("--dry-run", is_flag=True, help="Read and say what would be; write nothing.")
@click.option(
    "--yes", is_flag=True, help="Take the best choice too, where one is at least 90 % likely."
)
@click.option("--as-of", type=DAY, help="The day the sheet's counts are from; else today.")
@click.option(
    "--means",
    multiple=True,
    metavar="HEADING=MEANING",
    help="What a column means, where it was not found.",
)
@click.option(
    "--answer",
    "answers",
    multiple=True,
    metavar="WHERE=TEXT",
    help='A mend: "12:Litres=3" for a cell of line 12, "12=leave out" for the line, or a key.',
)
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    as_of: date | None,
    means: tuple[str, ...],
    answers: tuple[str, ...],
    *,
    dry_run: bool,
    yes: bool,
    as_json: bool,
) -> None:
    """Take in FILE: a sheet of boxes or a journal (CSV, XLSX), or a hand-out folder.

    Every row is understood, refused with the reason, or asked about; the understood ones are
    written in one go, the rest is listed to be mended here or in the page. The same file again adds
    nothing. Where there is no book yet, one is opened.
    """
    with _book(ctx, fresh_name=file.name, dry_run=dry_run, folder=file.is_dir()) as book:
        if file.is_dir():
            _hand_out(book, file, dry_run=dry_run, as_json=as_json)
            return
        reading = read_sheet(
            book,
            file.read_bytes(),
            file.name,
            now=wall_clock(),
            answers=_pairs(answers),
            meanings=_pairs(means),
            as_of=as_of,
        )
        _sheet(book, reading, dry_run=dry_run, yes=yes, as_json=as_json)


@contextmanager
def _book(ctx: click.Context, *, fresh_name: str, dry_run: bool, folder: bool) -> Iterator[Book]:
    path = path_of(ctx)
    if path.exists():
        with open_book(path) as book:
            yield book
        return
    with tempfile.TemporaryDirectory() as aside:
        place = Path(aside) / "dry-run.mancary" if dry_run else path
        if folder:
            fresh = create_book(place)
        else:
            fresh = open_new(place, name="My room", zone=local_zone(), pen=Pen())
        try:
            with fresh as book:
                yield book
        except BaseException:
            # a book that was opened for a file that cannot be taken in is not left behind
            discard(place)
            raise
        if not dry_run:
            click.echo(f"A new book was opened at {path} for {fresh_name}.", err=True)


def _pairs(told: tuple[str, ...]) -> dict[str, str]:
    pairs = {}
    for one in told:
        where, sign, text = one.partition("=")
        if not sign or not where:
            raise Refusal(f"{one!r}: expected WHERE=TEXT.")
        pairs[where] = text
    return pairs


def _hand_out(book: Book, folder: Path, *, dry_run: bool, as_json: bool) -> None:
    if not is_hand_out(folder):
        raise Refusal(f"{folder} is not a hand-out: it has no facts.csv and book.json.")
    taken = take_hand_out(book, folder, now=wall_clock(), dry_run=dry_run)
    answer(
        taken,
        as_json=as_json,
        words=lambda: (
            f"{taken.facts_read} facts read, {taken.facts_new} of them new"
            + (" (nothing written)." if dry_run else ".")
        ),
    )


def _sheet(book: Book, reading: Reading, *, dry_run: bool, yes: bool, as_json: bool) -> None:
    written = 0
    if not dry_run:
        receipt = take(book, reading, now=wall_clock(), accept_best=_LIKELY if yes else None)
        reading, written = receipt.reading, receipt.facts_written
    summary = reading.summary()
    if not dry_run:
        summary["facts_written"] = written
    answer(summary, as_json=as_json, words=lambda: _words(reading, written, dry_run=dry_run))


def _words(reading: Reading, written: int, *, dry_run: bool) -> str:
    counts = (
        f"{reading.rows_read} rows read: {reading.rows_understood} understood,"
        f" {reading.rows_asked} asked about, {reading.rows_refused} refused,"
        f" {reading.rows_repeated} in the book already or twice in the sheet."
    )
    lines = [counts, *reading.notes]
    lines += [
        f"Line {one.row}, {one.column} {one.value!r}: refused; {one.why}" for one in reading.refused
    ]
    for one in reading.asked:
        likely = sorted(one.choices, key=lambda choice: -choice.likelihood)[:_SHOWN]
        choices = "; ".join(
            f"{choice.value!r}: {choice.words} ({choice.likelihood:.0%})" for choice in likely
        )
        more = f"; {len(one.choices) - _SHOWN} more" if len(one.choices) > _SHOWN else ""
        lines.append(f"Line {one.row}, {one.column} {one.value!r}: {one.why}: {choices}{more}")
        lines.append(f"    answer with: --answer '{one.key}=...'")
    lines.append(
        f"{reading.facts} facts would be written." if dry_run else f"{written} facts written."
    )
    return "\n".join(lines)
