"""The ticks of a paper sheet as the form brings them; a fault names the field."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from msgspec import Struct

from mancary.husbandry.codec import encode
from mancary.husbandry.facts import Fact, RoundTimed
from mancary.husbandry.refusal import Refusal
from mancary.usecases.paper_words import facts_on_paper, is_not_reached
from mancary.usecases.round_evening import KeptEvening, Named
from mancary.web.forms import FormError
from mancary.web.measures import num
from mancary.web.round_form import many
from mancary.web.thermometers import readings_typed
from mancary.web.tongue import _, sentence
from mancary.web.typed import day_typed, number_typed

LONGEST_WORDS = 400


class TicksTyped(Struct, frozen=True, kw_only=True):
    """What was on the page, which of it has no tick, what was written beside it, and the day."""

    on: date
    shown: list[Named]
    left_out: list[Named]
    beside: list[Fact]


def ticks_typed(
    data: Mapping[str, Any], kept: KeptEvening, shelves: Iterable[str], *, today: date
) -> TicksTyped:
    """What the form says of a kept plan.

    Raises:
        FormError: naming the field, before anything is written.
    """
    on = _day(data, kept, today)
    shown = [one for one in _named(data, "stop") if one in kept.cares]
    ticked = set(_named(data, "tick"))
    words = {box: text for box, _ in kept.stops if (text := _words(data, box))}
    closed = {box for box, text in words.items() if is_not_reached(text)}
    beside = [fact for box, text in words.items() for fact in _facts(box, text)]
    return TicksTyped(
        on=on,
        shown=shown,
        left_out=[one for one in shown if one not in ticked or one[0] in closed],
        beside=[*beside, *_readings(data, list(shelves)), *_took(data, on)],
    )


def _named(data: Mapping[str, Any], field: str) -> list[Named]:
    return [
        (parts[0], care)
        for text in many(data, field)
        if (parts := text.split("|"))
        for care in parts[1:]
    ]


def _words(data: Mapping[str, Any], box: str) -> str:
    text = str(data.get(f"words|{box}", "")).strip()
    if len(text) > LONGEST_WORDS:
        raise FormError(
            f"words|{box}",
            _(
                "Box %(box)s: more than %(longest_words)s letters.",
                box=box,
                longest_words=LONGEST_WORDS,
            ),
        )
    return text


def _facts(box: str, text: str) -> list[Fact]:
    try:
        facts = facts_on_paper(box, text)
        for fact in facts:
            encode(fact)
    except Refusal as fault:
        raise FormError(f"words|{box}", sentence(fault)) from None
    return facts


def _day(data: Mapping[str, Any], kept: KeptEvening, today: date) -> date:
    on = day_typed(str(data.get("on", "")), "on") or kept.day
    last = min(kept.until, today)
    if not kept.day <= on <= last:
        reach = f"{kept.day} to {last}" if last > kept.day else f"{kept.day}"
        raise FormError(
            "on", _("%(on)s is no day for this sheet; expected %(reach)s.", on=on, reach=reach)
        )
    return on


def _readings(data: Mapping[str, Any], shelves: list[str]) -> list[Fact]:
    typed = [data.get(f"{side}:{shelf}", "") for shelf in shelves for side in ("low", "high")]
    if not any(str(text).strip() for text in typed):
        return []
    return list(readings_typed(data, shelves))


def _took(data: Mapping[str, Any], on: date) -> list[Fact]:
    minutes = number_typed(str(data.get("took", "")), "took")
    if minutes is None:
        return []
    fact = RoundTimed(day=on.isoformat(), minutes=minutes)
    try:
        encode(fact)
    except Refusal:
        raise FormError(
            "took",
            _("%(minutes)s minutes is no evening; expected 1 to 1440.", minutes=num(minutes)),
        ) from None
    return [fact]
