"""How well a figure of the handbook is known, in words."""

from mancary.handbook import Figure
from mancary.husbandry.sentences import Told, tell


def how_well(figure: Figure) -> str:
    """In one line: "published (P); the low end memory (M), of the care group"."""
    words = _kind(figure.kind, figure.basis)
    if figure.low_end is not None:
        words += tell(
            "; the low end %(kind)s", kind=_kind(figure.low_end.kind, figure.low_end.basis)
        )
    if figure.from_ == "parent":
        return words + tell(", of the species it is a morph of")
    if figure.from_ != "care group":
        return words
    if figure.left_blank:
        return tell("not known for this species: %(words)s, of the care group", words=words)
    return words + tell(", of the care group")


def _kind(kind: str, basis: str) -> str:
    return Told(kind, {}) + f" ({basis})"
