"""What taking animals does, drawn: each size without and with it as a bar of its likely range."""

from math import sqrt
from typing import Final

from msgspec import Struct

from mancary.husbandry.colony_going import Taking
from mancary.husbandry.watch_rows import Size
from mancary.web.tongue import _

WIDTH, LEFT = 372.0, 74.0
_ROW: Final = 40.0
_FOOT: Final = 20.0


class Bar(Struct, frozen=True, kw_only=True):
    """A range from ``low`` to ``high`` with its middle, in drawing units."""

    low: float
    mid: float
    high: float
    y: float


class Pair(Struct, frozen=True, kw_only=True):
    """One time: without and with animals taken."""

    words: str
    y: float
    without: Bar
    taken: Bar


class Effect(Struct, frozen=True, kw_only=True):
    """The drawing; lengths go by square roots. ``numbers`` are animals and where they lie."""

    pairs: tuple[Pair, ...]
    numbers: tuple[tuple[str, float], ...]
    height: float
    width: float = WIDTH
    left: float = LEFT


def effect(told: Taking) -> Effect:
    """The drawing of a taking."""
    most = max(1, *(one.animals.high for one in (*told.without, *told.taken)))

    def x(animals: float) -> float:
        return round(LEFT + (WIDTH - LEFT - 12) * sqrt(min(1.0, animals / most)), 1)

    def bar(size: Size, y: float) -> Bar:
        return Bar(low=x(size.low), mid=x(size.mid), high=x(size.high), y=y)

    pairs = []
    for number, (one, other) in enumerate(zip(told.without, told.taken, strict=True)):
        y = number * _ROW + 14
        words = _("now") if one.months == 0 else _("%(months)s months", months=one.months)
        pairs.append(
            Pair(words=words, y=y, without=bar(one.animals, y), taken=bar(other.animals, y + 14))
        )
    shares = (0, most // 16, most // 4, most)
    return Effect(
        pairs=tuple(pairs),
        numbers=tuple((f"{_round(one):,}", x(_round(one))) for one in dict.fromkeys(shares)),
        height=len(pairs) * _ROW + _FOOT,
    )


def _round(animals: int) -> int:
    """Two leading figures, so that the axis reads well."""
    size: int = 10 ** max(0, len(str(animals)) - 2)
    return animals // size * size
