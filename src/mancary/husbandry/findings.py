"""What is odd but possible in the book: a list for the keeper to look at, never a refusal."""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import tzinfo

from msgspec import Struct

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, Counted, SeenInBox, ShelfRead, Weighed
from mancary.husbandry.moments import day_said
from mancary.husbandry.register import Register
from mancary.husbandry.states import Box

_ROOM_C = (5.0, 40.0)
"""Ours: a shelf outside this is more likely a slip of the pen than a room with animals."""

_SIZES_AGREE = 1.5
"""Ours: litres and inside measures may differ by rounded walls and lids up to this factor."""


class Finding(Struct, frozen=True, kw_only=True):
    """One odd thing: what it is about, and a sentence."""

    about: str
    sentence: str


def register_findings(register: Register, zone: tzinfo) -> Iterator[Finding]:
    """Odd things in what stands where."""
    places: Counter[tuple[str, int]] = Counter()
    for box in register.boxes.values():
        yield from _box_findings(box, zone)
        if box.colony and box.shelf and box.position:
            places[box.shelf, box.position] += 1
    for (shelf, position), count in places.items():
        if count > 1:
            sentence = f"{count} boxes stand on shelf {shelf}, position {position}."
            yield Finding(about=f"shelf:{shelf}", sentence=sentence)
    for colony in register.colonies.values():
        if colony.line not in register.lines:
            yield Finding(
                about=f"colony:{colony.code}",
                sentence=f"Colony {colony.code} belongs to a line that was never named.",
            )
    yield from _shared_boxes(register)


def _box_findings(box: Box, zone: tzinfo) -> Iterator[Finding]:
    about = f"box:{box.code}"
    if box.colony and not box.shelf:
        yield Finding(about=about, sentence=f"Box {box.code} stands on no shelf.")
    if box.colony and box.retired_on:
        yield Finding(
            about=about,
            sentence=f"Box {box.code} was taken out of use on {day_said(box.retired_on, zone)}"
            f" but still holds colony {box.colony}.",
        )
    if box.litres and box.length_cm and box.width_cm and box.height_cm:
        measured = box.length_cm * box.width_cm * box.height_cm / 1000
        if not 1 / _SIZES_AGREE <= measured / box.litres <= _SIZES_AGREE:
            yield Finding(
                about=about,
                sentence=f"Box {box.code} is said to hold {box.litres:g} L, its measures give"
                f" {measured:.3g} L.",
            )


def _shared_boxes(register: Register) -> Iterator[Finding]:
    living: dict[str, list[str]] = {}
    for colony in register.colonies.values():
        if colony.ended is None:
            living.setdefault(colony.box, []).append(colony.code)
    for box, codes in living.items():
        if len(codes) > 1:
            yield Finding(
                about=f"box:{box}",
                sentence=f"Box {box} holds more than one colony: {', '.join(sorted(codes))}.",
            )


def entry_findings(
    told: Iterable[tuple[str, int, Entry]], register: Register, zone: tzinfo
) -> Iterator[Finding]:
    """Odd things in single entries, handed in with their order keys; one finding a box and sort."""
    strangers: Counter[str] = Counter()
    retired: Counter[str] = Counter()
    for key, _, entry in told:
        fact = entry.fact
        if isinstance(fact, CareGiven | SeenInBox | Counted | Weighed):
            state = register.boxes.get(fact.box)
            if state is None:
                strangers[fact.box] += 1
            elif state.retired_key and key > state.retired_key:
                retired[fact.box] += 1
        yield from _single(entry, zone)
    for box, count in strangers.items():
        words = f"{count} facts are about box {box}, which was never described or settled."
        yield Finding(about=f"box:{box}", sentence=words)
    for box, count in retired.items():
        words = f"{count} facts are about box {box} after it was taken out of use."
        yield Finding(about=f"box:{box}", sentence=words)


def _single(entry: Entry, zone: tzinfo) -> Iterator[Finding]:
    fact, day = entry.fact, day_said(entry.happened, zone)
    if isinstance(fact, Counted) and fact.high is not None and fact.high < fact.low:
        words = f"Box {fact.box}, {day}: a count of at least {fact.low} and at most {fact.high}."
        yield Finding(about=f"box:{fact.box}", sentence=words)
    if isinstance(fact, ShelfRead) and not (
        _ROOM_C[0] <= fact.lowest_c <= fact.highest_c <= _ROOM_C[1]
    ):
        words = f"Shelf {fact.shelf}, {day}: {fact.lowest_c:g} to {fact.highest_c:g} °C."
        yield Finding(about=f"shelf:{fact.shelf}", sentence=words)
