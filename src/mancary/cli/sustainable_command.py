"""The command ``mancary sustainable``."""

from datetime import date

import click

from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book, today
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.words import said
from mancary.usecases.pen import Pen
from mancary.usecases.rhythm_units import Demand, demand
from mancary.usecases.sustainable import (
    Row,
    Sustainable,
    accept,
    chosen_of,
    proposed_of,
)


@click.command("sustainable")
@click.option("--on", type=DAY, help="The day to speak of; else today.")
@click.option(
    "--set",
    "sets",
    multiple=True,
    metavar="CARE:GROUP=DAYS",
    help="Days of your own for one care of a care group. May be said more than once.",
)
@click.option(
    "--without",
    "withouts",
    multiple=True,
    metavar="CARE:GROUP",
    help="Leave this rhythm as it is. May be said more than once.",
)
@click.option("--accept", "accepted", is_flag=True, help="Choose these rhythms as your own.")
@json_option
@click.pass_context
def command(
    ctx: click.Context,
    on: date | None,
    sets: tuple[str, ...],
    withouts: tuple[str, ...],
    *,
    accepted: bool,
    as_json: bool,
) -> None:
    """Whether the rhythms fit into your weeks; if not, which stretched ones would.

    Edit what is proposed with --set and --without: the minutes a week are worked out anew. Nothing
    changes until you --accept; each rhythm can be given back with: mancary figure NAME --back
    """
    book = the_book(ctx)
    found = _edited(demand(book, on=on or today(book)), sets, withouts)
    if accepted and found.proposals:
        accept(book, found.proposals, pen=Pen())
    edited = bool(sets or withouts)
    answer(found, as_json=as_json, words=lambda: _words(found, accepted=accepted, edited=edited))


def _edited(wanted: Demand, sets: tuple[str, ...], withouts: tuple[str, ...]) -> Sustainable:
    found = proposed_of(wanted)
    if not sets and not withouts:
        return found
    days = {(one.care, one.care_group): one.proposed_days for one in found.proposals}
    days |= dict(_set(one) for one in sets)
    for row in (_row(one) for one in withouts):
        if row not in days:
            raise Refusal(f"{row[0]}:{row[1]} is not among the rhythms to change.")
        del days[row]
    return chosen_of(wanted, days)


def _row(text: str) -> Row:
    care, colon, group = text.partition(":")
    if not colon:
        raise Refusal(f"{text!r}: expected CARE:GROUP, such as vegetable:temperate-dry.")
    return care.strip().replace("-", "_"), group.strip()


def _set(text: str) -> tuple[Row, float]:
    named, sign, days = text.rpartition("=")
    if not sign:
        raise Refusal(f"{text!r}: expected CARE:GROUP=DAYS.")
    try:
        return _row(named), NUMBER.convert(days.strip(), None, None)
    except click.BadParameter:
        raise Refusal(f"{text!r}: {days!r} is not a number of days.") from None


def _words(found: Sustainable, *, accepted: bool, edited: bool) -> str:
    wanted, offered = found.minutes_wanted / 60, found.minutes_offered / 60
    lines = [f"Wanted {wanted:.1f} h a week, offered {offered:.1f} h."]
    if not found.proposals:
        left = "It fits as it is." if found.fits_already else "No rhythm is changed."
        return "\n".join([*lines, left, found.basis])
    then = found.minutes_proposed / 60
    fit = "it fits" if found.fits else "even so it does not fit: give more minutes or fewer boxes"
    whose = "your edited rhythms" if edited else "these rhythms"
    lines.append(f"Under {whose} {then:.1f} h a week: {fit}.")
    lines += [
        f"  {said(one.care)} every {one.proposed_days:g} days instead of {one.days:g}, for"
        f" {one.boxes} boxes of {one.care_group}: {one.minutes_saved_a_week:g} minutes less a week"
        for one in found.proposals
    ]
    lines.append("They are yours now." if accepted else "Choose them with: --accept")
    return "\n".join([*lines, found.basis])
