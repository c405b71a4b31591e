"""Holes and mesh as people write them: "20x3mm", "12 x 4", "24*3 mm lid", "2 mesh 50"."""

import re
from typing import Final, NamedTuple

from msgspec.structs import replace

from mancary.husbandry.box_figures import vents_said
from mancary.husbandry.facts import Vent
from mancary.sheets.faults import Unreadable
from mancary.sheets.plain import plain
from mancary.sheets.values.numbers import number
from mancary.sheets.values.vent_words import (
    COARSE,
    EACH,
    FINE,
    MESH,
    NUMBER_WORDS,
    OPEN_CLOSED,
    TIMES,
    ends_of,
    places_of,
    strangers,
    words_of,
)

EXPECTED: Final = (
    "write like 24x3 mm lid; 6x3 mm low + 6x3 mm high; 12x3 mm at both ends;"
    " 12x3 mm low at one end, high at the other; 2 mesh 50 mm fine lid; 24x3 mm lid, 10 taped;"
    " none"
)
_PARTS = re.compile(r"\s*(?:\+|;|&|\n|/|[()]|\band\b|\boch\b|\bund\b|\bplus\b|(?<!\d),|,(?!\d))\s*")
_FIGURE = re.compile(r"(?<![\d.,])(\d+(?:[.,]\d+)?|[.,]\d+)\s*(mm|cm)?(?![\d])")
_TURNED_UNIT = re.compile(r"(mm|cm)(?=[x×*]\s*\d)")
_ONE_OF_TWO = re.compile(r"\bone (?=(?:end|side|height|level|of)\b)")
_NUMBER_WORD = re.compile(rf"\b({'|'.join(NUMBER_WORDS)})\b")
_DOUBTS = re.compile(r"[?<>~±%\"]|(?:^|[^\w\s])\s*-\s*\d|\d\s*-\s*\d")
_NONE = frozenset({"none", "no", "no holes", "0", "inga", "keine", "closed", "no vents"})
_MOST_HOLES: Final = 5000
_MOST_MM: Final = 1000


class _Figure(NamedTuple):
    text: str
    unit: str
    at: int


def read_vents(text: str, decimal: str | None) -> tuple[Vent, ...] | None:
    """The vents of a box, count first, then mm; None where only the words can be kept."""
    try:
        return told_vents(text, decimal)
    except Unreadable:
        return None


def told_vents(text: str, decimal: str | None) -> tuple[Vent, ...]:
    """The vents of a box; numbers are in all, unless "each" is said. Taped holes are left out.

    Raises:
        Unreadable: saying what was understood of the text, what was not, and what is expected.
    """
    told = plain(text).strip(" .")
    if told in _NONE:
        return ()
    found: list[tuple[Vent, ...]] = []
    for part in _parts(told):
        try:
            if OPEN_CLOSED.intersection(words_of(part)):
                found[-1:] = [_taped(part, found[-1] if found else None)]
            else:
                found.append(_row(part, decimal))
        except Unreadable as fault:
            raise _refusal(part, fault, found) from None
    if not found:
        raise Unreadable(f"no hole and no mesh in it; {EXPECTED}")
    return tuple(vent for row in found for vent in row)


def _refusal(part: str, fault: Unreadable, found: list[tuple[Vent, ...]]) -> Unreadable:
    known = vents_said(tuple(vent for row in found for vent in row))
    understood = f"understood {known}, but not '{part}'" if known else f"'{part}' not understood"
    return Unreadable(f"{understood}: {fault}. Nothing was written; {EXPECTED}")


def _parts(told: str) -> list[str]:
    """One part a row of vents; words without a figure belong to the row before them."""
    digits = _NUMBER_WORD.sub(
        lambda word: str(NUMBER_WORDS[word[1]]),
        _ONE_OF_TWO.sub("\u00b9 ", _TURNED_UNIT.sub(r"\1 ", told)),
    ).replace("\u00b9", "one")
    parts: list[str] = []
    for part in filter(None, _PARTS.split(digits)):
        words = words_of(part)
        own = (OPEN_CLOSED | MESH).intersection(words) or strangers(words)
        if parts and not own and not any(sign.isdigit() for sign in part):
            parts[-1] += f" {part}"
        else:
            parts.append(part)
    return parts


def _row(part: str, decimal: str | None) -> tuple[Vent, ...]:
    if _DOUBTS.search(part):
        raise Unreadable("a range, a guess or a share is no number of holes")
    words = words_of(part)
    if unknown := strangers(words):
        raise Unreadable(f"the word '{unknown[0]}' says nothing of a vent here")
    mesh = bool(MESH.intersection(words))
    count, size_mm = _figures(part, decimal, mesh=mesh)
    if count == 0:
        return ()
    count *= 2 if EACH.intersection(words) else 1
    vent = Vent(count=count, size_mm=size_mm)
    if mesh:
        fineness = "fine" if FINE & {*words} else "coarse" if COARSE & {*words} else "not_said"
        vent = replace(vent, make="mesh", mesh=fineness)
    elif (FINE | COARSE).intersection(words):
        raise Unreadable("fine or coarse is said of mesh only")
    return _checked(_placed(vent, words))


def _figures(part: str, decimal: str | None, *, mesh: bool) -> tuple[int, float | None]:
    """The count and the size in mm; the size of mesh may be left untold, its count is then 1."""
    found = [_Figure(one[1], one[2] or "", one.start()) for one in _FIGURE.finditer(part)]
    units = [bool(one.unit) for one in found]
    size: _Figure | None = None
    count: _Figure | None = None
    if len(found) == 2 and units != [True, True]:
        size, count = found if units == [True, False] else found[::-1]
    elif mesh and len(found) == 1:
        first_word = min(part.find(word) for word in MESH.intersection(words_of(part)))
        is_size = units[0] or found[0].at > first_word
        size, count = (found[0] if is_size else None), (None if is_size else found[0])
    elif len(found) == 1:
        raise Unreadable("how many holes?" if units[0] else "how wide are they, in mm?")
    elif found or not mesh:
        raise Unreadable("expected how many and how wide, two figures a row")
    if count and not count.text.isdigit():
        raise Unreadable(f"{count.text} is no number of holes")
    return int(count.text) if count else 1, _mm(size, decimal) if size else None


def _mm(size: _Figure, decimal: str | None) -> float:
    return round(number(size.text, decimal or ".") * (10 if size.unit == "cm" else 1), 4)


def _placed(vent: Vent, words: list[str]) -> tuple[Vent, ...]:
    """The row where the words put it: low and high are half of it each."""
    places, ends = places_of(words), ends_of(words)
    if sorted(places) == ["high", "low"] and len(ends) in (0, 2):
        first = vent.count // 2
        counts = (first, vent.count - first)
        told = zip(places, ends or ("not_said", "not_said"), counts, strict=True)
        return tuple(replace(vent, count=n, place=at, end=end) for at, end, n in told if n)
    if len(places) > 1 or len(ends) > 1:
        raise Unreadable("one row, but two places: say how many are at each")
    return (
        replace(
            vent,
            place=places[0] if places else "not_said",
            end=ends[0] if ends else "not_said",
        ),
    )


def _checked(row: tuple[Vent, ...]) -> tuple[Vent, ...]:
    for vent in row:
        if not 1 <= vent.count <= _MOST_HOLES:
            raise Unreadable(f"{vent.count} holes are more than a box has")
        if vent.size_mm is not None and not 0 < vent.size_mm <= _MOST_MM:
            raise Unreadable(f"no vent is {vent.size_mm:g} mm wide")
    return row


def _taped(part: str, row: tuple[Vent, ...] | None) -> tuple[Vent, ...]:
    """What stays open of the row before: "10 taped over", "half taped", "taped shut"."""
    words = [word for word in words_of(part) if word not in OPEN_CLOSED]
    if unknown := [word for word in strangers(words) if word not in ("over", "half")]:
        raise Unreadable(f"the word '{unknown[0]}' says nothing of taped holes")
    figures = _FIGURE.findall(part)
    if any(unit for _, unit in figures) or len(figures) > 1 or TIMES.intersection(words):
        raise Unreadable("say the row first and then, after a comma, how many of it are taped")
    if row is None or len(row) != 1:
        if figures or "half" in words or row:
            raise Unreadable("which holes are taped is not clear; say the open ones alone")
        return ()
    open_holes = row[0].count
    closed = open_holes
    if figures:
        if not figures[0][0].isdigit():
            raise Unreadable(f"{figures[0][0]} is no number of holes")
        closed = int(figures[0][0])
    elif "half" in words:
        closed = open_holes // 2
    if closed > open_holes:
        raise Unreadable(f"{closed} of {open_holes} holes cannot be taped")
    return (replace(row[0], count=open_holes - closed),) if closed < open_holes else ()
