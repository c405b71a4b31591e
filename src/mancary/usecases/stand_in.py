"""The rack as a stand-in finds it: each box in its place, and how much it gets on which visit."""

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from mancary.husbandry.absence import Visit
from mancary.husbandry.codes import natural
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box


class BoxToWet(Struct, frozen=True, kw_only=True):
    """A box in its place. ``pour`` is empty where it is left alone; ``visits`` count from 1."""

    box: str
    pour: str
    visits: tuple[int, ...]
    apart: bool


class ShelfToWet(Struct, frozen=True, kw_only=True):
    """All boxes of a shelf from the left; ``shelf`` is empty for boxes that stand on none."""

    shelf: str
    boxes: tuple[BoxToWet, ...]


def rack_to_wet(
    register: Register, poured: Mapping[str, str], visits: Sequence[Visit]
) -> tuple[ShelfToWet, ...]:
    """The shelves with a box on some visit, in walking order; boxes left alone are there too.

    ``poured`` is the amount of each box, in words.
    """
    when: dict[str, list[int]] = {}
    for number, visit in enumerate(visits, 1):
        for box in visit.boxes:
            when.setdefault(box, []).append(number)
    here = {register.boxes[box].shelf for box in when}
    return tuple(
        ShelfToWet(
            shelf=shelf,
            boxes=tuple(
                BoxToWet(
                    box=one.code,
                    pour=poured.get(one.code, "") if one.code in when else "",
                    visits=tuple(when.get(one.code, ())),
                    apart=one.quarantine is not None,
                )
                for one in _on(shelf, register.boxes.values())
            ),
        )
        for shelf in sorted(here, key=lambda shelf: (not shelf, *_turn(register, shelf)))
    )


def _turn(register: Register, shelf: str) -> tuple[float, object]:
    told = register.shelves.get(shelf)
    turn = told.turn if told else float("inf")
    return turn, natural(shelf)


def _on(shelf: str, boxes: Iterable[Box]) -> list[Box]:
    there = [box for box in boxes if box.shelf == shelf and not box.retired_on]
    return sorted(there, key=lambda box: (box.position or 10**6, natural(box.code)))
