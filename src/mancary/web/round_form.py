"""The round's form: its stops, and the exceptions among them, as the page sends them."""

from collections.abc import Mapping
from typing import Any, Final

from msgspec import Struct

from mancary.husbandry.facts import Fact
from mancary.husbandry.refusal import Refusal
from mancary.usecases.noting import facts_for
from mancary.web.forms import FormError
from mancary.web.tongue import N_, _

WHY_NOT: Final = (N_("food still there"), N_("damp enough"), N_("young about"), N_("none at hand"))
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
    left_out = [box for box in many(data, "not") if box in here]
    skipped = _skipped(data, dict(stops))
    return RoundTyped(
        stops=stops,
        left_out=[(box, "") for box in left_out],
        skipped=skipped,
        beside=[fact for box, _ in stops for fact in _told(data, box, left_out, skipped)],
    )


def _skipped(data: Mapping[str, Any], stops: Mapping[str, list[str]]) -> dict[tuple[str, str], str]:
    """The cares left out on purpose with their reasons; a reason alone is of a box's only care."""
    marks = [text.partition("|") for text in many(data, "skip")]
    cares = {(box, care) for box, _bar, care in marks if box in stops}
    for box, told in stops.items():
        reasons = many(data, f"why|{box}")
        if reasons and box not in {one for one, _care in cares}:
            if len(told) != 1:
                raise FormError(
                    f"why|{box}",
                    _(
                        "Box %(box)s: %(reason)s is why what was left out? Mark that too.",
                        box=box,
                        reason=repr(reasons[0]),
                    ),
                )
            cares.add((box, told[0]))
    return {(box, care): _reason(data, box) for box, care in cares}


def _reason(data: Mapping[str, Any], box: str) -> str:
    return ", ".join(many(data, f"why|{box}")) or one(data, f"note|{box}")


def _told(
    data: Mapping[str, Any],
    box: str,
    left_out: list[str],
    skipped: Mapping[tuple[str, str], str],
) -> list[Fact]:
    dead = many(data, f"dead|{box}")
    if len(dead) > 1:
        raise FormError(
            f"dead|{box}",
            _(
                "Box %(box)s: dead %(dead)s are both marked.",
                box=box,
                dead=_(" and dead ").join(dead),
            ),
        )
    facts = _met(data, box, {why for (one_box, _care), why in skipped.items() if one_box == box})
    if facts and box in left_out:
        raise FormError(
            f"not|{box}",
            _("Box %(box)s is marked as not reached, and yet something is told of it.", box=box),
        )
    return facts


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
            raise FormError(f"{word}|{box}", f"Box {box}, {word}: {fault}") from None
    return found
