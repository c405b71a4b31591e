"""The command ``mancary check``."""

from pathlib import Path

import click

from mancary.cli.answer import answer, json_option, the_book
from mancary.usecases.backup import noted_head
from mancary.usecases.check import Checked, check

_FAULTY = 65  # EX_DATAERR, sysexits.h


@click.command("check")
@click.option(
    "--against",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="The JSON file beside a backup, or a hand-out's book.json: its head must be in this book.",
)
@json_option
@click.pass_context
def command(ctx: click.Context, against: Path | None, *, as_json: bool) -> None:
    """Verify every seal, the head and the count, and list what is odd but possible."""
    earlier = noted_head(against) if against else None
    checked = check(the_book(ctx), earlier=earlier)
    answer(checked, as_json=as_json, words=lambda: _words(checked))
    if checked.faults:
        ctx.exit(_FAULTY)


def _words(checked: Checked) -> str:
    lines = [f"{checked.facts} facts; the last seal is {checked.head or 'none yet'}."]
    lines += [f"FAULT: {fault}" for fault in checked.faults]
    if not checked.faults:
        lines.append("Every seal fits; none is missing.")
    if checked.pictures:
        whole = checked.pictures - len(checked.pictures_missing)
        lines.append(f"{whole} of {checked.pictures} pictures stand beside the book as they were.")
    lines += [f"Missing or changed: {name}" for name in checked.pictures_missing]
    lines += [f"Odd: {finding.sentence}" for finding in checked.findings]
    return "\n".join(lines)
