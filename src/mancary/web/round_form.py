"""The round's form: its stops, and the exceptions among them, as the page sends them."""

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from mancary.husbandry.facts import Fact
from mancary.husbandry.refusal import Refusal
from mancary.usecases.noting import facts_for
from mancary.web.forms import FormError


class RoundTyped(Struct, frozen=True, kw_only=True):
    """Stops with their cares, what was left out, what was skipped, and what was met on the way."""

    stops: list[tuple[str, list[str]]]
    left_out: list[tuple[str, str]]
    skipped: dict[tuple[str, str], str]
    beside: list[Fact]


def _many(data: Mapping[str, Any], name: str) -> list[str]:
    told = data.get(name, [])
    return [told] if isinstance(told, str) else [one for one in told if isinstance(one, str)]


def round_typed(data: Mapping[str, Any]) -> RoundTyped:
    """What the form says.

    Raises:
        FormError: naming the box whose field is not understood.
    """
    stops = [(parts[0], parts[1:]) for one in _many(data, "stop") if (parts := one.split("|"))]
    skips = [one.partition("|") for one in _many(data, "skip")]
    return RoundTyped(
        stops=stops,
        left_out=[(box, "") for box in _many(data, "not")],
        skipped={(box, care): "" for box, _, care in skips},
        beside=[fact for box, _ in stops for fact in _met(data, box)],
    )


def _met(data: Mapping[str, Any], box: str) -> list[Fact]:
    words = [(word, "") for word in _many(data, f"seen|{box}")]
    words += [("dead", number) for number in _many(data, f"dead|{box}")]
    words += [("count", text) for text in _many(data, f"count|{box}") if text.strip()]
    words += [("note", text) for text in _many(data, f"note|{box}") if text.strip()]
    found: list[Fact] = []
    for word, amount in words:
        try:
            found += facts_for(box, word, amount)
        except Refusal as fault:
            raise FormError(f"{word}|{box}", f"Box {box}: {fault}") from None
    return found
