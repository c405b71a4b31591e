"""What is odd but possible in the book: a list for the keeper to look at, never a refusal."""

from collections.abc import Iterable, Iterator

from msgspec import Struct

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import CareGiven, Counted, Moved, SeenInBox, Weighed
from mancary.husbandry.register import Register


class Finding(Struct, frozen=True, kw_only=True):
    """One odd thing: what it is about, and a sentence."""

    about: str
    sentence: str


def register_findings(register: Register) -> Iterator[Finding]:
    """Odd things in what stands where."""
    for box in register.boxes.values():
        if box.colony and not box.shelf:
            yield Finding(about=f"box:{box.code}", sentence=f"Box {box.code} stands on no shelf.")
        if box.colony and box.retired_on:
            yield Finding(
                about=f"box:{box.code}",
                sentence=f"Box {box.code} was taken out of use on {box.retired_on} but still holds"
                f" colony {box.colony}.",
            )
    for colony in register.colonies.values():
        if colony.line not in register.lines:
            yield Finding(
                about=f"colony:{colony.code}",
                sentence=f"Colony {colony.code} belongs to a line that was never named.",
            )
    yield from _shared_boxes(register)


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


def entry_findings(entries: Iterable[Entry], register: Register) -> Iterator[Finding]:
    """Odd things in single entries."""
    for entry in entries:
        match entry.fact:
            case CareGiven(box=box) | SeenInBox(box=box) | Counted(box=box) | Weighed(box=box):
                state = register.boxes.get(box)
                if state is None:
                    yield Finding(
                        about=f"box:{box}",
                        sentence=f"Fact {entry.number} is about box {box}, which was never"
                        " described, shelved or settled.",
                    )
                elif state.retired_on and entry.happened > state.retired_on:
                    yield Finding(
                        about=f"box:{box}",
                        sentence=f"Fact {entry.number} ({entry.happened}) is about box {box} after"
                        f" it was taken out of use on {state.retired_on}.",
                    )
            case Moved() as fact if fact.from_box == fact.to_box:
                yield Finding(
                    about=f"colony:{fact.colony}",
                    sentence=f"Colony {fact.colony} was moved from box {fact.from_box} to itself.",
                )
        if isinstance(entry.fact, Counted) and _upside_down(entry.fact):
            yield Finding(
                about=f"box:{entry.fact.box}",
                sentence=f"Fact {entry.number}: a count of at least {entry.fact.low} and at most"
                f" {entry.fact.high}.",
            )


def _upside_down(fact: Counted) -> bool:
    return fact.high is not None and fact.high < fact.low
