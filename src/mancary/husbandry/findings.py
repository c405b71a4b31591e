"""What is odd but possible in the book: a list for the keeper to look at, never a refusal."""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import tzinfo

from msgspec import Struct

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, Counted, SeenInBox, ShelfRead, Weighed
from mancary.husbandry.moments import day_said
from mancary.husbandry.register import Register
from mancary.husbandry.sentences import in_a_row, tell
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
            sentence = tell(
                "%(count)s boxes stand on shelf %(shelf)s, position %(position)s.",
                count=count,
                shelf=shelf,
                position=position,
            )
            yield Finding(about=f"shelf:{shelf}", sentence=sentence)
    for colony in register.colonies.values():
        if colony.line not in register.lines:
            yield Finding(
                about=f"colony:{colony.code}",
                sentence=tell("Colony %(code)s belongs to a line that was never named.", colony),
            )
    yield from _shared_boxes(register)


def _box_findings(box: Box, zone: tzinfo) -> Iterator[Finding]:
    about = f"box:{box.code}"
    if box.colony and not box.shelf:
        yield Finding(about=about, sentence=tell("Box %(code)s stands on no shelf.", box))
    if box.colony and box.retired_on:
        yield Finding(
            about=about,
            sentence=tell(
                "Box %(code)s was taken out of use on %(retired_on)s but still holds colony"
                " %(colony)s.",
                box,
                retired_on=day_said(box.retired_on, zone),
            ),
        )
    if box.litres and box.length_cm and box.width_cm and box.height_cm:
        measured = box.length_cm * box.width_cm * box.height_cm / 1000
        if not 1 / _SIZES_AGREE <= measured / box.litres <= _SIZES_AGREE:
            yield Finding(
                about=about,
                sentence=tell(
                    "Box %(code)s is said to hold %(litres)g L,"
                    " its measures give %(measured).3g L.",
                    box,
                    measured=measured,
                ),
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
                sentence=tell(
                    "Box %(box)s holds more than one colony: %(all)s.",
                    box=box,
                    all=in_a_row(", ", sorted(codes)),
                ),
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
        words = tell(
            "%(count)s facts are about box %(box)s, which was never described or settled.",
            count=count,
            box=box,
        )
        yield Finding(about=f"box:{box}", sentence=words)
    for box, count in retired.items():
        words = tell(
            "%(count)s facts are about box %(box)s after it was taken out of use.",
            count=count,
            box=box,
        )
        yield Finding(about=f"box:{box}", sentence=words)


def _single(entry: Entry, zone: tzinfo) -> Iterator[Finding]:
    fact, day = entry.fact, day_said(entry.happened, zone)
    if isinstance(fact, Counted) and fact.high is not None and fact.high < fact.low:
        words = tell(
            "Box %(box)s, %(day)s: a count of at least %(low)s and at most %(high)s.", fact, day=day
        )
        yield Finding(about=f"box:{fact.box}", sentence=words)
    if isinstance(fact, ShelfRead) and not (
        _ROOM_C[0] <= fact.lowest_c <= fact.highest_c <= _ROOM_C[1]
    ):
        words = tell("Shelf %(shelf)s, %(day)s: %(lowest_c)g to %(highest_c)g °C.", fact, day=day)
        yield Finding(about=f"shelf:{fact.shelf}", sentence=words)
