"""How one box stands: when each care was last given, what was last seen, counted and weighed."""

from collections.abc import Iterable, Sequence
from datetime import tzinfo
from typing import Final

import msgspec
from msgspec import Struct, field

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    CareGiven,
    Counted,
    Founded,
    Moved,
    SeenInBox,
    Split,
    Weighed,
    Withdrawn,
)
from mancary.husbandry.moments import Moment
from mancary.husbandry.order import keyed
from mancary.husbandry.sentences import plain

STANDING_SHAPE: Final = 3
"""Raise this when ``Standing`` changes; cached ones of another shape are thrown away."""


class SeenLast(Struct):
    happened: str
    animals: int | None = None
    share: float | None = None


class CountedLast(Struct):
    happened: str
    low: int
    high: int | None
    how: str
    band: str = ""
    as_written: str = ""


class WeighedLast(Struct):
    happened: str
    gross_g: float


_OF_THE_BOX: Final = frozenset({"substrate_half", "substrate_whole", "label_check"})
"""Cares that stay with the box when its colony moves out."""


class Standing(Struct, array_like=True):
    """One box, folded from the facts about it. Only ``take`` changes it, entry by entry."""

    box: str
    latest: str = ""
    facts: int = 0
    visited: str = ""
    settled: str = ""
    given: dict[str, str] = field(default_factory=dict)
    seen: dict[str, SeenLast] = field(default_factory=dict)
    counted: CountedLast | None = None
    weighed: WeighedLast | None = None
    just_right: str = ""
    """When a weight of the box was last marked as just right."""

    def take(self, entry: Entry, key: str) -> None:
        """Adds one entry; ``key`` is its order key and never lies before ``latest``."""
        self.latest = key
        self.facts += 1
        match entry.fact:
            case CareGiven(care=care):
                self.given[care] = self.visited = entry.happened
            case SeenInBox(word=word, animals=animals, share=share):
                self.seen[word] = SeenLast(entry.happened, animals, share)
                self.visited = entry.happened
            case Counted() as fact:
                self.counted = CountedLast(
                    entry.happened, fact.low, fact.high, fact.how, fact.band or "", fact.as_written
                )
                self.visited = entry.happened
            case Weighed(gross_g=gross_g, mark=mark):
                self.weighed = WeighedLast(entry.happened, gross_g)
                self.just_right = entry.happened if mark == "just_right" else self.just_right
                self.visited = entry.happened
            case Founded():
                self._settle(entry.happened)
            case Moved(to_box=box) if box == self.box:
                self._settle(entry.happened)
            case Split(new_box=box) if box == self.box:
                self._settle(entry.happened)

    def inherit(self, before: "Standing") -> None:
        """Takes over from the box the colony lived in before what goes with the animals."""
        for care, happened in before.given.items():
            if care not in _OF_THE_BOX:
                self.given.setdefault(care, happened)
        for word, seen in before.seen.items():
            self.seen.setdefault(word, seen)
        self.counted = self.counted or before.counted
        self.visited = self.visited or before.visited

    def _settle(self, happened: Moment) -> None:
        """Another colony moves in: what was given and seen before was not for this one."""
        if not self.settled:
            self.settled = happened
            return
        self.settled = happened
        self.given.clear()
        self.seen.clear()
        self.counted = None


def fold(box: str, entries: Iterable[Entry], zone: tzinfo) -> Standing:
    """The standing of a box from all entries about it."""
    standing = Standing(box)
    for key, _, entry in keyed(entries, zone):
        standing.take(entry, key)
    return standing


def advance(standing: Standing, fresh: Sequence[Entry], zone: tzinfo) -> bool:
    """Adds entries written since; False where one came late and the box must be folded anew."""
    if any(isinstance(entry.fact, Withdrawn) for entry in fresh):
        return False
    told = keyed(fresh, zone)
    if told and told[0][0] < standing.latest:
        return False
    for key, _, entry in told:
        standing.take(entry, key)
    return True


_ENCODER = msgspec.msgpack.Encoder(enc_hook=plain)
_DECODER = msgspec.msgpack.Decoder(Standing)


def pack(standing: Standing) -> bytes:
    """For the cache only; the book is the truth."""
    return _ENCODER.encode(standing)


def unpack(body: bytes) -> Standing:
    return _DECODER.decode(body)
