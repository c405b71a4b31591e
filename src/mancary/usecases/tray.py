"""What to cut, weigh and mix before the round, from the amounts of the handbook."""

from collections.abc import Iterable

from msgspec import Struct

from mancary import handbook
from mancary.husbandry.sentences import Told, tell
from mancary.husbandry.tasks import Task

BY_SCALE = tell("by its scale")
_HANDBOOK_BASIS = tell("the middle of the handbook's range for each box")
_MIST_BASIS = tell(
    "the middle of each box's range: by its scale where weighed, else the handbook's"
)

_S_UP_TO, _M_UP_TO = 4.0, 10.0
"""Ours: the size bands S (1-3 L), M (5-8 L) and L (15 L and more) of the trade meet half-way."""


class CareAmount(Struct, frozen=True, kw_only=True):
    """How much of a care a box takes: a range's middle, its words, and what it rests on."""

    middle: float | None
    unit: str
    said: str
    kind: str


class TrayItem(Struct, frozen=True, kw_only=True):
    """One thing on the tray, for so many boxes; ``amount`` is None where only words are known."""

    item: str
    boxes: int
    amount: float | None
    unit: str
    basis: str


def size_band(litres: float | None) -> str:
    """S, M or L; M where the size is not told."""
    if litres is None:
        return "M"
    return "S" if litres <= _S_UP_TO else "M" if litres <= _M_UP_TO else "L"


def amount_for(care: str, litres: float | None) -> CareAmount | None:
    """The handbook's amount of a care for a box of so many litres, if it has one."""
    band = size_band(litres)
    for one in handbook.amounts():
        if one.care == care and one.box in (band, "any"):
            middle = (one.low + one.high) / 2 if one.low is not None and one.high else None
            said: str = Told(one.said, {})
            if one.per:
                said = tell("%(said)s per %(per)s", said=said, per=Told(one.per, {}))
            return CareAmount(middle=middle, unit=one.unit, said=said, kind=one.kind)
    return None


def amount_of(task: Task, litres: float | None) -> CareAmount | None:
    """How much a task takes: the box's own scale says it, or else the handbook."""
    if task.amount_ml is None:
        return amount_for(task.care, litres)
    return CareAmount(middle=task.amount_ml, unit="mL", said=task.said, kind=BY_SCALE)


def tray_of(tasks: Iterable[tuple[str, float | None, str]]) -> tuple[TrayItem, ...]:
    """Sums over the stops: care, amount and unit of each task."""
    sums: dict[str, list[tuple[float | None, str]]] = {}
    for care, amount, unit in tasks:
        sums.setdefault(care, []).append((amount, unit))
    return tuple(
        TrayItem(
            item=care,
            boxes=len(told),
            amount=_sum(told),
            unit=next((unit for _, unit in told if unit), "boxes"),
            basis=(_MIST_BASIS if care == "mist" else _HANDBOOK_BASIS)
            if _sum(told) is not None
            else tell("the handbook gives words, no weight"),
        )
        for care, told in sorted(sums.items())
        if care not in ("look", "label_check", "springtail_check", "leftovers_out")
    )


def _sum(told: list[tuple[float | None, str]]) -> float | None:
    amounts = [amount for amount, _ in told if amount is not None]
    return round(sum(amounts), 2) if amounts else None
