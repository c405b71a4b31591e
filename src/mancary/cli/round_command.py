"""The command ``mancary round``."""

from datetime import date

import click

from mancary.cli.answer import DAY, NUMBER, answer, json_option, the_book, today
from mancary.husbandry.words import said
from mancary.usecases.pen import Pen
from mancary.usecases.round_plan import Round, Stop, accept_plan, plan_round


@click.command("round")
@click.option("--on", type=DAY, help="The evening, such as 2026-03-01; else the next working one.")
@click.option("--minutes", type=NUMBER, help="Minutes you have that evening; else the weekday's.")
@click.option("--accept", is_flag=True, help="Keep this plan: it changes only where things change.")
@json_option
@click.pass_context
def command(
    ctx: click.Context, on: date | None, minutes: float | None, *, accept: bool, as_json: bool
) -> None:
    """Tonight's round in walking order: what fits into the minutes, and what is put off.

    Four weeks are planned so that one opening serves several cares and harmful lateness goes first.
    Your minutes are chosen with: mancary figure wednesday_minutes 90 (and the other weekdays).
    """
    book = the_book(ctx)
    day = on or today(book)
    if accept:
        told = accept_plan(book, on=day, named=on is not None, minutes=minutes, pen=Pen())
    else:
        told = plan_round(book, on=day, named=on is not None, minutes=minutes)
    answer(told, as_json=as_json, words=lambda: _words(told))


def _words(told: Round) -> str:
    head = (
        f"The round of {told.date:%A} {told.date}: {len(told.stops)} boxes,"
        f" {told.minutes_planned:g} of {told.minutes_offered:g} minutes."
    )
    lines = [head]
    if told.invented:
        lines.append("This book is invented, for demonstration.")
    if not told.stops:
        lines.append("Nothing is left of it, or nothing was due.")
    elif told.minutes_needed > told.minutes_offered:
        lines.append(
            f"All that is due would take {told.minutes_needed:g} minutes; what can wait is put off."
        )
    lines += ["", "On the tray"]
    for item in told.tray:
        sum_said = f"{item.amount:g} {item.unit} in all" if item.amount is not None else "see each"
        lines.append(f"  {said(item.item)} for {item.boxes} boxes: {sum_said} ({item.basis})")
    if told.shelves:
        read = ", ".join(one.shelf for one in told.shelves)
        lines += ["", f"Highest and lowest of shelves {read}; with: mancary shelf SHELF LOW HIGH"]
    shelf = None
    for stop in told.stops:
        if stop.shelf != shelf:
            shelf = stop.shelf
            lines += ["", f"Shelf {shelf or 'not said'}"]
        lines.append(f"  {_stop(stop)}")
    late = [one for one in told.put_off if not one.risk.startswith("none")]
    waiting = len(told.put_off) - len(late)
    lines += ["", f"Put off: {waiting} cares still in their window, {len(late)} others"]
    for one in late:
        until = f"to {one.until}" if one.until else "no evening yet"
        lines.append(f"  {one.box} {said(one.care)}: {until}; {one.risk}")
    gap = "not known" if told.bound_gap is None else f"{told.bound_gap:.1%}"
    lines += ["", f"Planned to {told.planned_until}; from the best there can be at most {gap}."]
    return "\n".join([*lines, told.basis])


def _stop(stop: Stop) -> str:
    apart = f" ({stop.words})" if stop.words else ""
    cares = "; ".join(f"{said(task.care)} {task.said}".strip() for task in stop.tasks)
    return f"{stop.box}  {stop.species}{apart}: {cares}"
