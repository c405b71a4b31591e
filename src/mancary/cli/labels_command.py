"""The command ``mancary labels``."""

from pathlib import Path

import click

from mancary.cli.answer import answer, json_option, the_book, today
from mancary.settings import network_address
from mancary.usecases.labels import KINDS, LabelKind, labels


@click.command("labels")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.argument("boxes", nargs=-1)
@click.option("--shelf", default="", metavar="SHELF", help="The boxes of one shelf.")
@click.option(
    "--for", "kinds", type=click.Choice(KINDS), multiple=True,
    help="For the box (the usual), its lid, or spare boxes; may be said several times.",
)  # fmt: skip
@click.option(
    "--size", default="63.5x38.1", show_default=True, metavar="MM",
    help="One label in millimetres, across and down.",
)  # fmt: skip
@click.option("--grid", default="", metavar="NxN", help="Labels across and down, if not known.")
@click.option("--gap", default="", metavar="MM", help="Millimetres between labels: 2.5x0.")
@click.option("--paper", type=click.Choice(["a4", "us-letter"]), help="Paper of such a sheet.")
@click.option("--first", default=1, show_default=True, help="First free place of a sheet.")
@click.option("--outline", is_flag=True, help="A hairline round each label, to cut along.")
@click.option(
    "--shift", default="0,0", show_default=True, metavar="MM,MM",
    help="Right and down, for a printer that sets too far left or too high.",
)  # fmt: skip
@click.option("--address", default="", metavar="URL", help="Where your pages are, if elsewhere.")
@click.option("--replace", is_flag=True, help="Write over a PDF that stands there already.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    boxes: tuple[str, ...],
    shelf: str,
    kinds: tuple[LabelKind, ...],
    size: str,
    grid: str,
    gap: str,
    paper: str | None,
    first: int,
    *,
    outline: bool,
    shift: str,
    address: str,
    replace: bool,
    as_json: bool,
) -> None:
    """Write labels into FILE (PDF): of all boxes, of some BOXES, or of a shelf.

    Each has the box's code in large type, who lives there, how damp, since when, and a QR code that
    opens its card where your phone reaches the pages. Print at full size, not fitted to the page.
    """
    from mancary.paper.filing import may_be_written, put_pdf
    from mancary.paper.label_sheet import label_sheet
    from mancary.paper.label_sizes import label_sheet_of

    may_be_written(file, replace=replace)
    sheet = label_sheet_of(size, grid=grid, gap=gap, paper=paper)  # type: ignore[arg-type]
    moved = _shift(shift)
    book = the_book(ctx)
    found = labels(book, on=today(book), kinds=kinds or ("box",), boxes=boxes, shelf=shelf)
    at = address or network_address()
    made = label_sheet(
        found, sheet, address=at, day=today(book), first=first, outline=outline, shift_mm=moved
    )
    put_pdf(file, made.pdf, replace=replace)
    number = len(found.labels)
    told = {"file": str(file), "labels": number, "size": sheet.name, "address": at}
    words = f"{file}: {number} label{'s' if number != 1 else ''} of {sheet.name} mm for {at}."
    answer(told, as_json=as_json, words=lambda: words)


def _shift(typed: str) -> tuple[float, float]:
    try:
        right, down = (float(part) for part in typed.split(","))
    except ValueError:
        raise click.BadParameter(
            f"{typed!r}: expected millimetres right and down, such as 0.5,-1.", param_hint="--shift"
        ) from None
    return right, down
