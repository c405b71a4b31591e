"""The whole handbook as one file that loads in a few milliseconds.

``binding`` makes it from the TOML pages; a test holds the two in step.
"""

from pathlib import Path
from typing import Final

import msgspec
from msgspec import Struct

from mancary.handbook.model import Amount, Figure, Group, Page, Reference, Rhythm
from mancary.handbook.words import Kind

BOUND: Final = Path(__file__).with_name("bound.json")


class Turn(Rhythm, frozen=True, kw_only=True, omit_defaults=True):
    """A rhythm and whom it is for: ``who``, narrowed by ``groups`` or a class of ``moisture``."""

    who: str
    groups: tuple[str, ...] = ()
    moisture: str = ""
    never: bool = False


class ProteinPractice(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What practice says of protein beside the page's figure, in feeds a week."""

    groups: tuple[str, ...]
    said: str
    kind: Kind
    source: str
    low_per_week: float | None = None
    high_per_week: float | None = None
    note: str = ""


class Moisture(Struct, frozen=True, kw_only=True):
    """Which class of moisture a page is in (ours): by species, by group, else by damp share."""

    dry_up_to: float
    groups: dict[str, str]
    species: dict[str, str]


class Rhythms(Struct, frozen=True, kw_only=True):
    """All of ``rhythms.toml``."""

    care: tuple[Turn, ...]
    protein: tuple[ProteinPractice, ...]
    amount: tuple[Amount, ...]
    moisture: Moisture
    practice: dict[str, Figure]


class Bound(Struct, frozen=True, kw_only=True):
    """The whole handbook."""

    references: dict[str, Reference]
    groups: dict[str, Group]
    pages: dict[str, Page]
    rhythms: Rhythms


def load(path: Path = BOUND) -> Bound:
    """The bound handbook; its pages were checked when it was bound."""
    return msgspec.json.decode(path.read_bytes(), type=Bound)
