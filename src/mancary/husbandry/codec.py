"""Facts to JSON and back, old versions read for ever."""

import re
from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from mancary.husbandry.facts import KINDS, Fact
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import plain

Upcaster = Callable[[dict[str, Any]], dict[str, Any]]

UPCASTERS: Mapping[tuple[str, int], Upcaster] = {}
"""(kind, version) to a function that lifts a body to the next version. Never remove one."""

_ENCODER = msgspec.json.Encoder(enc_hook=plain)
_DECODERS: dict[str, msgspec.json.Decoder[Fact]] = {
    kind: msgspec.json.Decoder(fact) for kind, fact in KINDS.items()
}


class UnknownKind(Refusal):
    """A fact written by a newer Mancary."""

    def __init__(self, kind: str, version: int) -> None:
        super().__init__(
            f"This book holds a fact of the kind '{kind}' version {version}, which this Mancary"
            " does not know. A newer one wrote it; please use that."
        )


def encode(fact: Fact) -> bytes:
    """The body of a fact as JSON, checked against its own declaration.

    Raises:
        Refusal: naming the field that does not fit.
    """
    try:
        body = _ENCODER.encode(fact)
        kept = _DECODERS[fact.kind].decode(body)
    except UnicodeEncodeError:
        raise Refusal("Some letters of the text are broken; please type it again.") from None
    except msgspec.ValidationError as fault:
        raise Refusal(plainly(str(fault))) from None
    if kept != fact:
        raise Refusal("A number is missing or has no end; expected a plain number.")
    return body


_SHAPES = (
    (r"Expected `(?:float|int)` (<=?|>=?) ([\d.]+)", "expected a number {0} {1}"),
    (r"Expected `str` of length <= (\d+)", "expected at most {0} characters"),
    (r"Expected `str` of length >= (\d+)", "expected some words"),
    (r"Expected `str` matching regex", "expected a plain name or date"),
    (r"Invalid enum value '(.*?)'", "{0!r} is no word the book knows"),
    (r"Expected `(float|int|str|array)[^`]*`, got `(\w+)`", "expected {0}, not {1}"),
)
_PLAIN = {
    ">": "above", ">=": "from", "<": "below", "<=": "up to", "float": "a number",
    "int": "a whole number", "str": "words", "array": "a list", "null": "nothing",
}  # fmt: skip


def plainly(fault: str) -> str:
    """A validation fault as a sentence: "litres: expected a number above 0."."""
    reason, _, place = fault.partition(" - at `$.")
    field = place.rstrip("`").replace("_", " ") or "the fact"
    for shape, words in _SHAPES:
        if found := re.match(shape, reason):
            told = (_PLAIN.get(part, part.removesuffix(".0")) for part in found.groups())
            return f"{field}: {words.format(*told)}."
    return f"{field}: {reason}."


def decode(
    kind: str,
    version: int,
    body: bytes | str,
    upcasters: Mapping[tuple[str, int], Upcaster] = UPCASTERS,
) -> Fact:
    """The fact of a stored body, lifted step by step where it was written by an older version.

    Raises:
        UnknownKind: when the kind or its version is newer than this program.
    """
    known = KINDS.get(kind)
    if known is None or version > known.version:
        raise UnknownKind(kind, version)
    if version == known.version:
        return _DECODERS[kind].decode(body)
    told = msgspec.json.decode(body)
    for step in range(version, known.version):
        told = upcasters[kind, step](told)
    return msgspec.convert(told, known)
