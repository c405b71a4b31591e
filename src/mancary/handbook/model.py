"""What a page of the handbook holds, as frozen records: no number without kind and source."""

from typing import Literal

from msgspec import Struct

from mancary.handbook.words import Basis, How, Kind, Origin, Rank, Seen


class Reference(Struct, frozen=True, kw_only=True):
    """A source and how it was seen. ``said_as`` are the words by which the catalogue names it."""

    key: str
    citation: str
    seen: Seen
    said_as: tuple[str, ...] = ()


class LowEnd(Struct, frozen=True, kw_only=True):
    """Where the low end of a range comes from when it is not the high end's source."""

    kind: Kind
    basis: Basis
    source: str
    note: str = ""


class Figure(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A figure with its unit, its kind and its source.

    A number has ``low`` and ``high`` (the same when one value is given); words have ``text``.
    ``basis`` is the provenance letter, ``source`` a key of the bibliography and ``seen`` the
    citation and how it was seen. ``from_`` says whose page it stands on; ``left_blank`` says that
    the species' own page has no such figure and the care group answers.
    """

    name: str
    unit: str
    kind: Kind
    basis: Basis
    source: str
    low: float | None = None
    high: float | None = None
    text: str = ""
    low_end: LowEnd | None = None
    note: str = ""
    seen: str = ""
    from_: Origin = "species"
    left_blank: bool = False

    @property
    def said(self) -> str:
        """The value as a keeper reads it: "12-17 mm", "medium", "0.35-0.6 share of the floor"."""
        if self.low is None or self.high is None:
            return self.text
        span = f"{self.low:g}" if self.low == self.high else f"{self.low:g}-{self.high:g}"
        return f"{span} {self.unit}"


class FormerName(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A name the form went by, and who changed it. Basis and source say how well that is known."""

    name: str
    changed_by: str
    basis: Basis
    source: str
    kind: Kind
    note: str = ""


class TradeName(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A name or colour the form is sold under; ``note`` is what the catalogue adds in brackets."""

    name: str
    note: str = ""


class Page(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A species, an undescribed form or a morph: only what differs from its care group or parent.

    ``blank`` names the figures the catalogue leaves empty. ``rests_on`` says what the whole
    page, its notes included, rests on; ``cites`` are the works its notes name.
    """

    slug: str
    name: str
    rank: Rank
    family: str
    authority: str = ""
    group: str | None = None
    parent: str | None = None
    trade_names: tuple[TradeName, ...] = ()
    wild_type: str = ""
    appearance: str = ""
    also_spelled: tuple[str, ...] = ()
    formerly: tuple[FormerName, ...] = ()
    notes: str = ""
    rests_on: str = ""
    cites: tuple[str, ...] = ()
    blank: tuple[str, ...] = ()
    figures: dict[str, Figure] = {}


class Group(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A care group: the figures its members share. ``members`` is how many pages stand in it."""

    slug: str
    name: str
    members: int
    figures: dict[str, Figure] = {}


class Rhythm(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How often a care comes round, in days, or how long after something it is due.

    ``said`` is the practice in words. A care with ``after`` is not periodic: it is due ``low_days``
    to ``high_days`` after what ``after`` names. ``instead_of`` names the care this one may replace.
    ``differs`` tells where sources disagree, so that the keeper can choose.
    """

    care: str
    low_days: float
    high_days: float
    said: str
    kind: Kind
    source: str
    note: str = ""
    differs: str = ""
    after: str = ""
    instead_of: str = ""

    @property
    def periodic(self) -> bool:
        """Whether it comes round by itself."""
        return not self.after


class Amount(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How much of a care a box of a size band takes; ``per`` says for how many animals, if any."""

    care: str
    box: Literal["S", "M", "L", "any"]
    said: str
    kind: Kind
    source: str
    low: float | None = None
    high: float | None = None
    unit: str = ""
    per: str = ""


class Proposal(Struct, frozen=True, kw_only=True):
    """A page a name may mean. ``confidence`` is 0..1; ``morph`` is what stood beside the name."""

    slug: str
    name: str
    how: How
    confidence: float
    morph: str = ""
