"""The command ``mancary grow``."""

from collections.abc import Iterator
from datetime import date

import click

from mancary.cli.answer import DAY, answer, json_option, the_book, today
from mancary.husbandry.colony_curve import Curve, likely_said, lines_of
from mancary.husbandry.colony_room import Room
from mancary.husbandry.shelf_climate import percent
from mancary.usecases.culture import Culture, culture_in
from mancary.usecases.grow import Grow, grow


@click.command("grow")
@click.argument("box")
@click.option("--as-of", "on", type=DAY, help="The day to speak of, of nothing later; else today.")
@json_option
@click.pass_context
def command(ctx: click.Context, box: str, on: date | None, *, as_json: bool) -> None:
    """How the colony of BOX goes: its size now and to come, first young, room, and its curve.

    All from one belief, which every count and sign moves; ranges are 90 % of a model's runs. Of a
    springtail culture, which nobody counts: how fast it doubles, and what share may go each week.
    """
    book = the_book(ctx)
    day = on or today(book)
    culture = culture_in(book, box, on=day)
    if culture is not None:
        answer(culture, as_json=as_json, words=lambda: "\n".join(_culture_words(culture)))
        return
    found = grow(book, box, on=day)
    answer(found, as_json=as_json, words=lambda: "\n".join(_words(found)))


def _culture_words(found: Culture) -> Iterator[str]:
    yield f"{found.box} {found.species}, a culture, on {found.on}"
    yield from (f"  {one}" for one in found.said)
    yield ""
    yield f"At {found.temp_c:g} °C: {found.temp_said}"
    yield f"{found.basis} ({found.kind})"


def _words(found: Grow) -> Iterator[str]:
    size = found.size
    yield f"{found.box} {found.species} on {found.on}, juveniles and adults"
    yield f"  now           {size.mid} ({size.low}-{size.high})"
    for one in found.coming[1:]:
        animals = one.animals
        yield f"  in {one.months:>2} months  {animals.mid} ({animals.low}-{animals.high})"
    yield ""
    if found.first_young:
        yield found.first_young.said
    yield f"Too slow for its temperature? {found.too_slow_said}"
    if found.out_of_range:
        yield (
            f"Mind the {found.out_of_range}. Of heat and cold the sums know only how they change"
            " growth, not the harm."
        )
    if found.warmer:
        yield found.warmer.said
    yield ""
    yield from room_words(found.room)
    yield ""
    surplus = found.surplus
    yield f"May go now: {surplus.animals} (mancary surplus {found.box})"
    yield ""
    yield from _curve(found.curve)
    yield ""
    yield f"At {found.temp_c:g} °C: {found.temp_said}; {found.grown_as}"
    yield found.weights
    yield found.limits


def room_words(room: Room) -> Iterator[str]:
    """How full a box is and what to do, line by line."""
    full = room.full
    low, mid, high = full.g_m2
    yield (
        f"Room: {mid:.0f} g of animals a m² of usable floor ({low:.0f}-{high:.0f}), outgrown from"
        f" 100 on; {room.floor_said}"
    )
    if full.soonest is not None:
        latest = f"{full.latest:.0f}" if full.latest is not None else f"more than {full.weeks}"
        yield (
            f"Outgrown in {full.soonest:.0f} to {latest} weeks;"
            f" {percent(full.chance)} within {full.weeks} weeks"
        )
    yield from room.advice
    for spare in room.spares:
        litres = f"{spare.litres:g} L, " if spare.litres else ""
        times = f"{spare.times_the_floor:.1f} times the floor"
        yield f"  spare {spare.box}: {litres}{times}, {spare.said}"


def _curve(curve: Curve) -> Iterator[str]:
    yield "The curve: day, likely (90 %), what was seen"
    for one in lines_of(curve):
        likely = likely_said(one.point) if one.point else ""
        words = one.seen or (("forecast",) if one.point and one.point.ahead else ())
        yield f"  {one.on}  {likely:<18}  {'; '.join(words)}".rstrip()
