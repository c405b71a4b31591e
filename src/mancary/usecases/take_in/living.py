"""Who lives in each box, and who did: from the register, and what a sheet adds to it."""

from collections import defaultdict
from datetime import tzinfo

from msgspec import Struct

from mancary.husbandry.moments import Moment, clock_said, first_day, last_day, order_key
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box, Colony


class Stay(Struct, frozen=True, kw_only=True):
    """A colony's time in one box; ``left`` is None while it lives there.

    ``why_left`` says why and when, as in "ended, cause heat, 2026-06-01".
    """

    colony: str
    box: str
    line: str
    came: Moment
    left: Moment | None = None
    why_left: str = ""


class Living:
    """The stays of all colonies, box by box, the last one last."""

    def __init__(self, register: Register, zone: tzinfo) -> None:
        self.register, self._zone = register, zone
        self._stays: dict[str, list[Stay]] = defaultdict(list)
        for colony in register.colonies.values():
            for stay in _stays(colony, zone):
                self._stays[stay.box].append(stay)
        for stays in self._stays.values():
            stays.sort(key=lambda stay: order_key(stay.came, zone))

    def now(self, box: str) -> Stay | None:
        """The colony that lives in a box; of several in an odd book, the register's."""
        living = [stay for stay in self._stays.get(box, []) if not stay.left]
        state = self.register.boxes.get(box)
        held = [stay for stay in living if state and stay.colony == state.colony]
        return (held or living)[-1] if living else None

    def last(self, box: str) -> Stay | None:
        """The stay that began last in a box, over or not."""
        stays = self._stays.get(box)
        return stays[-1] if stays else None

    def on(self, box: str, moment: Moment) -> Stay | None:
        """The colony that can have lived in a box at a moment, the later one of two."""
        for stay in reversed(self._stays.get(box, [])):
            came = first_day(stay.came, self._zone) <= last_day(moment, self._zone)
            there = not stay.left or first_day(moment, self._zone) <= last_day(
                stay.left, self._zone
            )
            if came and there:
                return stay
        return None

    def before(self, box: str, moment: Moment) -> Stay | None:
        """The stay that was over last before a moment, where nobody came after it by then."""
        told = last_day(moment, self._zone)
        past = [
            stay for stay in self._stays.get(box, []) if first_day(stay.came, self._zone) <= told
        ]
        return past[-1] if past and not self.on(box, moment) else None

    def home(self, colony: str) -> Stay | None:
        """Where a colony of the book lives now, if it does."""
        state = self.register.colonies.get(colony)
        stay = self.now(state.box) if state else None
        return stay if stay and stay.colony == colony else None

    def retired(self, box: str) -> Moment | None:
        """When a box was taken out of use, if it was."""
        state: Box | None = self.register.boxes.get(box)
        return state.retired_on if state else None

    def begin(self, colony: str, box: str, line: str, came: Moment) -> None:
        """Learns of a colony that the sheet founds."""
        self._stays[box].append(Stay(colony=colony, box=box, line=line, came=came))

    def end(self, stay: Stay, left: Moment) -> None:
        """Learns of a colony that the sheet ends."""
        self._stays[stay.box] = [
            Stay(
                colony=one.colony,
                box=one.box,
                line=one.line,
                came=one.came,
                left=left,
                why_left=f"ended, cause not known, {left}",
            )
            if one == stay
            else one
            for one in self._stays[stay.box]
        ]


def _stays(colony: Colony, zone: tzinfo) -> list[Stay]:
    told = [(box, _day(key)) for box, key in colony.stays]
    told[:1] = [(told[0][0] if told else colony.box, colony.founded)]
    found = []
    for number, (box, came) in enumerate(told):
        left, why = colony.ended, f"ended, cause {colony.cause.replace('_', ' ')}"
        if number + 1 < len(told):
            left, why = told[number + 1][1], f"was moved to {told[number + 1][0]}"
        found.append(
            Stay(
                colony=colony.code,
                box=box,
                line=colony.line,
                came=came,
                left=left,
                why_left=f"{why}, {clock_said(left, zone)}" if left else "",
            )
        )
    return found


def _day(key: str) -> Moment:
    """The day, month or year of an order key."""
    return key.partition("T")[0].removesuffix("U")
