"""Facts to JSON and back, old versions read for ever."""

from collections.abc import Callable, Mapping
from typing import Any

import msgspec

from mancary.husbandry.facts import KINDS, Fact
from mancary.husbandry.refusal import Refusal

Upcaster = Callable[[dict[str, Any]], dict[str, Any]]

UPCASTERS: Mapping[tuple[str, int], Upcaster] = {}
"""(kind, version) to a function that lifts a body to the next version. Never remove one."""

_ENCODER = msgspec.json.Encoder()
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
    body = _ENCODER.encode(fact)
    try:
        _DECODERS[fact.kind].decode(body)
    except msgspec.ValidationError as fault:
        raise Refusal(f"The fact '{fact.kind}' cannot be written: {fault}.") from None
    return body


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
