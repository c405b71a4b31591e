"""The command ``mancary figure``."""

import click

from mancary.cli.answer import NUMBER, answer, json_option, the_book
from mancary.husbandry.refusal import Refusal
from mancary.usecases.figures import choose_figure, chosen_figures
from mancary.usecases.naming import certain_species
from mancary.usecases.pen import Pen


@click.command("figure")
@click.argument("name")
@click.argument("low", type=NUMBER, required=False)
@click.argument("high", type=NUMBER, required=False)
@click.option("--box", "box", default="", help="For this box only.")
@click.option("--line", "line", default="", help="For this line.")
@click.option("--species", "species", default="", help="For this species (a page's plain name).")
@click.option("--care-group", "care_group", default="", help="For this care group.")
@click.option("--why", default="", help="Why you chose it.")
@click.option("--back", is_flag=True, help="Give it back: what is further away holds again.")
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
    back: bool,
    as_json: bool,
) -> None:
    """Choose your own figure NAME: a number LOW, or LOW to HIGH; without one it is shown.

    NAME is protein_feeds_per_week, or a care and "_days" for its rhythm, such as vegetable_days;
    air_changes_per_day is the air a box wants, read by vents.
    The nearest choice wins: box, line, species, care group, all.
    """
    from mancary.husbandry.telling import told

    book = the_book(ctx)
    if low is None and not back:
        held = chosen_figures(book, name)
        lines = [f"{told(fact)}, for {fact.scope} {fact.code}".strip() for fact in held]
        answer(held, as_json=as_json, words=lambda: "\n".join(lines) or "None of your own.")
        return
    if low is not None and back:
        raise Refusal("Say a number, or --back; not both.")
    if species:
        species = certain_species(book, species)
    scopes = {"box": box, "line": line, "species": species, "care_group": care_group}
    recorded = choose_figure(book, name, low=low, high=high, why=why, scopes=scopes, pen=Pen())
    fact = recorded.entries[0].fact
    scope = next((f"{key} {code}" for key, code in scopes.items() if code), "all boxes")
    answer(fact, as_json=as_json, words=lambda: f"{told(fact)}, for {scope}.")
