"""The rack as a stand-in finds it: each box in its place, and how much it gets on which visit."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import Final

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

    @property
    def alone(self) -> bool:
        """Whether nothing on it is wetted."""
        return not any(one.visits for one in self.boxes)


def rack_to_wet(
    register: Register, poured: Mapping[str, str], visits: Sequence[Visit]
) -> tuple[ShelfToWet, ...]:
    """Every shelf that holds a box, in walking order, also those that are left alone.

    ``poured`` is the amount of each box, in words. Without visits there is nothing to draw.
    """
    when: dict[str, list[int]] = {}
    for number, visit in enumerate(visits, 1):
        for box in visit.boxes:
            when.setdefault(box, []).append(number)
    held = {one.shelf for one in register.boxes.values() if not one.retired_on}
    here = held if when else set()
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


_LEVELS: Final = "0123456789"


def racks_of(shelves: Sequence[ShelfToWet]) -> tuple[tuple[ShelfToWet, ...], ...]:
    """The shelves that stand above each other: those that follow each other and whose codes differ
    by their last number only, as A1 to A6 do.
    """
    apart = groupby(shelves, key=lambda one: one.shelf.rstrip(_LEVELS))
    return tuple(tuple(rack) for _, rack in apart)


def _turn(register: Register, shelf: str) -> tuple[float, object]:
    told = register.shelves.get(shelf)
    turn = told.turn if told else float("inf")
    return turn, natural(shelf)


def _on(shelf: str, boxes: Iterable[Box]) -> list[Box]:
    there = [box for box in boxes if box.shelf == shelf and not box.retired_on]
    return sorted(there, key=lambda box: (box.position or 10**6, natural(box.code)))
