"""The short words written beside a box on paper, piece by piece, to the facts they tell."""

import re
from collections.abc import Iterator

from mancary.husbandry.facts import Fact, SeenInBox
from mancary.husbandry.refusal import Refusal
from mancary.sheets.telling.remarks import read_sight
from mancary.usecases.noting import facts_for

NOT_REACHED = frozenset({"not reached", "not done"})
"""Said of a box whose lid stayed on: nothing of it was done."""

_PARTED = re.compile(r"[;\n]|,(?!\d)|(?<!\d),")
"""A comma between two digits is a decimal one."""
_COUNT = re.compile(r"(?:counted|count)\s+(?P<a>.+)|(?P<b>\S.*?)\s+(?:counted|count|animals)")
_NUMBER = re.compile(r"\d+\s*(?:[-–]\s*\d+|\+)?")
_WEIGHT = re.compile(
    r"(?:(?:weighed|weighs|weigh|weight)\s+)?(?P<g>\d[\d.,\s]*\s*k?g)|weigh\s+(?P<w>.+)"
)
_OWN = re.compile(r"note\b\s*:?\s*(?P<text>.+)|[\"“](?P<quoted>[^\"”]+)[\"”]")


def pieces(text: str) -> list[str]:
    """The pieces of a line, parted by commas and semicolons; what is in quotes stays whole."""
    kept = re.split(r"([\"“][^\"”]*[\"”])", text)
    if len(kept) == 1:
        return [piece for part in _PARTED.split(text) if (piece := " ".join(part.split()))]
    return [
        piece
        for number, part in enumerate(kept)
        for piece in ([part] if number % 2 else pieces(part))
    ]


def facts_on_paper(box: str, text: str) -> list[Fact]:
    """What the pieces tell of a box, such as "dead 2, mould, 37 counted, 1462 g, left over half".

    Words of one's own stand in quotes or after "note".

    Raises:
        Refusal: naming box and piece that is not understood.
    """
    told = [piece for piece in pieces(text) if piece.lower() not in NOT_REACHED]
    return [fact for piece in told for fact in _told(box, piece)]


def is_not_reached(text: str) -> bool:
    """Whether a line says that the box was not opened."""
    return any(piece.lower() in NOT_REACHED for piece in pieces(text))


def _told(box: str, piece: str) -> list[Fact]:
    for word, amount in _readings(piece):
        try:
            return facts_for(box, word, amount)
        except Refusal as fault:
            if amount:
                raise Refusal(f"Box {box}, {piece!r}: {fault}") from None
    sight = read_sight(piece)
    if sight:
        return [
            SeenInBox(
                box=box,
                word=sight.word,  # type: ignore[arg-type]
                animals=sight.animals,
                share=sight.share,
                note=sight.as_written,
            )
        ]
    raise Refusal(
        f"Box {box}, {piece!r} is not understood. Known are words such as dead 2, mould, left over"
        " half, 37 counted, 1462 g; words of your own stand in quotes."
    )


def _readings(piece: str) -> Iterator[tuple[str, str]]:
    """Words and amounts a piece may be read as; one with an amount is no guess."""
    plain = piece.lower()
    if found := _OWN.fullmatch(piece):
        yield "note", found["text"] or found["quoted"]
    elif found := _WEIGHT.fullmatch(plain):
        yield "weigh", found["g"] or found["w"]
    elif found := _COUNT.fullmatch(plain):
        yield "count", found["a"] or found["b"]
    elif not read_sight(piece):
        yield piece, ""
        yield from _with_number(piece)


def _with_number(piece: str) -> Iterator[tuple[str, str]]:
    """The word, then an amount that begins with a digit; of animals a number or a range alone."""
    found = re.fullmatch(r"(\D+?)\s+(\d.*)", piece)
    if found and (not read_sight(found[1]) or _NUMBER.fullmatch(found[2])):
        yield found[1], found[2]
