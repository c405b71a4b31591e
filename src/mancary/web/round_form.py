"""The round's form: its stops, and the exceptions among them, as the page sends them."""

from collections.abc import Mapping
from typing import Any, Final

from msgspec import Struct

from mancary.husbandry.facts import Fact
from mancary.husbandry.refusal import Refusal
from mancary.usecases.noting import facts_for
from mancary.web.forms import FormError

WHY_NOT: Final = ("food still there", "damp enough", "young about", "none at hand")
"""Reasons offered for a care left out on purpose; others go into the words."""

_TYPED: Final = {"count": "count", "weight": "weigh", "note": "note"}


class RoundTyped(Struct, frozen=True, kw_only=True):
    """Stops with their cares, what was left out, what was skipped, and what was met on the way."""

    stops: list[tuple[str, list[str]]]
    left_out: list[tuple[str, str]]
    skipped: dict[tuple[str, str], str]
    beside: list[Fact]


def many(data: Mapping[str, Any], name: str) -> list[str]:
    """All that a form says under one name."""
    told = data.get(name, [])
    return [told] if isinstance(told, str) else [one for one in told if isinstance(one, str)]


def one(data: Mapping[str, Any], name: str) -> str:
    """The first that a form says under a name, on one line; empty where it says nothing."""
    return " ".join(next(iter(many(data, name)), "").split())


def marked(data: Mapping[str, Any]) -> set[tuple[str, str]]:
    """Every name with each of its values, so that a page can show again what was marked."""
    return {(name, value) for name in data for value in many(data, name)}


def touched(data: Mapping[str, Any]) -> set[str]:
    """The boxes of which anything is marked or typed, so that they are shown open again."""
    boxes = {name.partition("|")[2] for name in data if "|" in name and one(data, name)}
    boxes |= {value.partition("|")[0] for value in many(data, "skip")}
    return boxes | set(many(data, "not"))


def round_typed(data: Mapping[str, Any]) -> RoundTyped:
    """What the form says; where a part is named under ``only``, of that part's stops alone.

    Raises:
        FormError: naming the box whose field is not understood.
    """
    part = one(data, "only")
    names = [f"stop.{part}"] if part else [name for name in data if name.startswith("stop.")]
    told = [parts for name in names for text in many(data, name) if (parts := text.split("|"))]
    stops = [(parts[0], parts[1:]) for parts in told]
    here = {box for box, _ in stops}
    skips = [text.partition("|") for text in many(data, "skip")]
    skipped = {
        (box, care): one(data, f"why|{box}") or one(data, f"note|{box}")
        for box, _, care in skips
        if box in here
    }
    return RoundTyped(
        stops=stops,
        left_out=[(box, "") for box in many(data, "not") if box in here],
        skipped=skipped,
        beside=[fact for box, _ in stops for fact in _met(data, box, set(skipped.values()))],
    )


def _met(data: Mapping[str, Any], box: str, reasons: set[str]) -> list[Fact]:
    words = [(word, "") for word in many(data, f"seen|{box}")]
    words += [("dead", number) for number in many(data, f"dead|{box}")]
    words += [
        (word, text)
        for name, word in _TYPED.items()
        if (text := one(data, f"{name}|{box}")) and not (name == "note" and text in reasons)
    ]
    found: list[Fact] = []
    for word, amount in words:
        try:
            found += facts_for(box, word, amount)
        except Refusal as fault:
            raise FormError(f"{word}|{box}", f"Box {box}: {fault}") from None
    return found
