"""The command line: the book before the command, each command imported only when it is called."""

import json
from importlib import import_module
from pathlib import Path
from typing import Any, Final

import click

from mancary import __version__
from mancary.cli.call import AS_JSON, Call
from mancary.husbandry.refusal import Refusal

COMMANDS: Final[dict[str, tuple[str, str]]] = {
    "away": ("away_command", "Before an absence: what to do, and a stand-in's sheet."),
    "backup": ("backup_command", "Write a verified copy of the book into a folder."),
    "batch": ("places", "Name a sack of leaves, a mixing, a tin, a culture; or end one."),
    "box": ("box_command", "A box's card: how it stands, what it wants, its time line."),
    "check": ("check_command", "Verify seals, head and count; list what is odd."),
    "correct": ("correct_command", "Withdraw a fact and write another in its place."),
    "count": ("count_command", "Count a colony, and hear what the count tells of the whole."),
    "demo": ("demo_command", "Make the invented bug room of the Fernhollow Field Centre."),
    "describe": ("places", "Name a new box, or tell more of one."),
    "done": ("done_command", "Write down an evening's round, all but the exceptions."),
    "end": ("colonies", "Say that a colony is no more, and why."),
    "figure": ("figure_command", "Choose a figure of your own."),
    "found": ("colonies", "Begin a colony in an empty box."),
    "grow": ("grow_command", "How a colony goes: its size to come, first young, room."),
    "hand-out": ("hand_out_command", "Write the whole book as plain CSV and JSON files."),
    "hygrometer": ("hygrometer_command", "A hygrometer's salt test, and how far off it is."),
    "join": ("colonies", "Put two colonies of one species together."),
    "labels": ("labels_command", "Print labels with QR codes for boxes, lids and spares."),
    "logger": ("logger_command", "Take in a logger's file of a shelf, day by day."),
    "move": ("colonies", "Move a whole colony into another box."),
    "note": ("note_command", "Write down what was done or seen in a box."),
    "open": ("open_command", "Open a new book."),
    "page": ("places", "Open a page of your own for a form the handbook lacks."),
    "quarantine": ("places", "Set a box apart, or bring it back."),
    "rename": ("colonies", "Hold a line to be another species, and say who says so."),
    "restore": ("restore_command", "Put a backup back in place."),
    "retire": ("places", "Take an empty box out of use."),
    "round": ("round_command", "Tonight's round in walking order, within your minutes."),
    "serve": ("serve_command", "Serve the pages on this machine."),
    "sheet": ("sheet_command", "Tonight's round on paper: an A4 sheet to tick."),
    "shelf": ("shelf_command", "Look at a shelf, place it, or write down its warmth."),
    "species": ("species_command", "What is known of a species, and how well."),
    "split": ("colonies", "Begin a new colony with part of another."),
    "surplus": ("surplus_command", "How many animals may go from a box now."),
    "sustainable": ("sustainable_command", "Whether the rhythms fit your weeks, or which would."),
    "take": ("colonies", "Write down animals that left a colony."),
    "take-in": ("take_in_command", "Take in a sheet (CSV, XLSX) or a hand-out folder."),
    "vents": ("vents_command", "Which holes to drill, and what they do to air and water."),
    "wants": ("wants_command", "What each box wants, shelf by shelf."),
    "warmth": ("warmth_command", "Which boxes left their species' range, and what to do."),
    "watch": ("watch_command", "Which colonies may be failing, why, and where to look."),
    "water": ("water_command", "What the scale tells of a box's water, and mL to pour."),
    "withdraw": ("withdraw_command", "Call an earlier fact a mistake; it stays readable."),
}
"""Each command, the module it is imported from when it is called, and its line in the help."""

REFUSED: Final = 1
"""Exit code of a refusal; a book that cannot be read or written has its own (see trouble.py)."""


class _Lazy(click.Group):
    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in COMMANDS:
            return None
        home, _ = COMMANDS[cmd_name]
        module = import_module(f"mancary.cli.{home}")
        name = "command" if home.endswith("_command") else cmd_name
        command: click.Command = getattr(module, name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        with formatter.section("Commands"):
            formatter.write_dl([(name, words) for name, (_, words) in sorted(COMMANDS.items())])

    def invoke(self, ctx: click.Context) -> Any:  # noqa: ANN401
        try:
            return super().invoke(ctx)
        except Refusal as refusal:
            _say(ctx, str(refusal), REFUSED)
        except Exception as trouble:
            from mancary.book.trouble import BookTrouble
            from mancary.handbook import HandbookTrouble

            if isinstance(trouble, HandbookTrouble):
                _say(ctx, str(trouble), REFUSED)
            if not isinstance(trouble, BookTrouble):
                raise
            _say(ctx, str(trouble), trouble.exit_code)


def _say(ctx: click.Context, sentence: str, code: int) -> None:
    if ctx.find_root().meta.get(AS_JSON):
        click.echo(json.dumps({"refused": sentence, "exit_code": code}, ensure_ascii=False))
    click.echo(sentence, err=True)
    ctx.exit(code)


@click.group(cls=_Lazy, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--book",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The book file; else MANCARY_BOOK, else the platform's data folder.",
)
@click.version_option(__version__, prog_name="mancary")
@click.pass_context
def front(ctx: click.Context, book: Path | None) -> None:
    """The stock book and the bench of a keeper of many isopod colonies."""
    ctx.obj = Call(book, ctx.obj)
