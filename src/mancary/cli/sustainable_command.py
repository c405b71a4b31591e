"""The command ``mancary sustainable``."""

from datetime import date

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.words import said
from mancary.usecases.pen import Pen
from mancary.usecases.sustainable import Sustainable, accept, propose


@click.command("sustainable")
@click.option("--on", type=DAY, help="The day to speak of; else today.")
@click.option("--accept", "accepted", is_flag=True, help="Choose the proposed rhythms as your own.")
@json_option
@click.pass_context
def command(ctx: click.Context, on: date | None, *, accepted: bool, as_json: bool) -> None:
    """Whether the rhythms fit into your weeks; if not, which stretched ones would.

    Nothing changes until you accept; each rhythm can be given back with: mancary figure NAME --back
    """
    book = the_book(ctx)
    found = propose(book, on=on or today(book))
    if accepted and found.proposals:
        accept(book, found.proposals, pen=Pen())
    answer(found, as_json=as_json, words=lambda: _words(found, accepted=accepted))


def _words(found: Sustainable, *, accepted: bool) -> str:
    wanted, offered = found.minutes_wanted / 60, found.minutes_offered / 60
    lines = [f"Wanted {wanted:.1f} h a week, offered {offered:.1f} h."]
    if not found.proposals:
        return "\n".join([*lines, "It fits as it is.", found.basis])
    then = found.minutes_proposed / 60
    fit = "it fits" if found.fits else "even so it does not fit: give more minutes or fewer boxes"
    lines.append(f"Under these rhythms {then:.1f} h a week: {fit}.")
    lines += [
        f"  {said(one.care)} every {one.proposed_days:g} days instead of {one.days:g}, for"
        f" {one.boxes} boxes of {one.care_group}: {one.minutes_saved_a_week:g} minutes less a week"
        for one in found.proposals
    ]
    lines.append("They are yours now." if accepted else "Choose them with: --accept")
    return "\n".join([*lines, found.basis])
