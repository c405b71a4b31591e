"""The command ``mancary figure``."""

import click

from mancary.cli.answer import answer, json_option, the_book
from mancary.usecases.figures import choose_figure
from mancary.usecases.pen import Pen


@click.command("figure")
@click.argument("name")
@click.argument("low", type=float, required=False)
@click.argument("high", type=float, required=False)
@click.option("--box", "box", default="", help="For this box only.")
@click.option("--line", "line", default="", help="For this line.")
@click.option("--species", "species", default="", help="For this species (a page's plain name).")
@click.option("--care-group", "care_group", default="", help="For this care group.")
@click.option("--why", default="", help="Why you chose it.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    name: str,
    low: float | None,
    high: float | None,
    *,
    box: str,
    line: str,
    species: str,
    care_group: str,
    why: str,
    as_json: bool,
) -> None:
    """Choose your own figure NAME: one number LOW, or a range LOW HIGH; neither gives it back.

    NAME is protein_feeds_per_week, or a care and "_days" for its rhythm, such as vegetable_days.
    The nearest choice wins: box, line, species, care group, all.
    """
    scopes = {"box": box, "line": line, "species": species, "care_group": care_group}
    recorded = choose_figure(
        the_book(ctx), name, low=low, high=high, why=why, scopes=scopes, pen=Pen()
    )
    fact = recorded.entries[0].fact
    from mancary.husbandry.telling import told

    answer(fact, as_json=as_json, words=lambda: f"{told(fact)}.")
