"""What sheets told of each box, in turn, so that only a change is written."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet

from msgspec import Struct
from msgspec.structs import replace

from mancary.husbandry.codec import encode
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import BoxDescribed, Fact, Shelved

_VERSION_AT = 14
"""Where the version stands in a UUID as text (RFC 9562 section 4)."""


class Turn(Struct, frozen=True, kw_only=True):
    """A fact as a row tells it: its id, and whether the book has it.

    ``said`` is the fact without what is not the sheet's own word. ``repeats`` is the withdrawn fact
    that the row tells again, ``withdrawn`` all withdrawn ones that sheets told of the same.
    """

    id: str
    fact: Fact
    said: Fact
    has: bool
    repeats: str = ""
    withdrawn: tuple[str, ...] = ()


class _Step(Struct, frozen=True):
    """A fact of a chain, and the texts that its id may have been made from."""

    fact: Fact
    contents: tuple[str, ...]


class Told:
    """The chains of what sheets told, one for each box and topic.

    The id of what a sheet tells now is made from its content and from the id of what a sheet told
    before it; so the same told again is found, and 25 after 30 after 25 is not lost. ``learn``
    takes over what a row adds, so that the next row of the same sheet finds it.
    """

    def __init__(self, entries: Iterable[Entry], mistaken: AbstractSet[str]) -> None:
        self._steps: dict[str, dict[str, _Step]] = defaultdict(dict)
        self._mistaken = mistaken
        self._fresh: set[str] = set()
        self._here: dict[str, list[Fact]] = defaultdict(list)
        for entry in entries:
            if entry.id[_VERSION_AT] == "8":  # no sheet told the others
                self._add(entry.id, entry.fact)

    def _add(self, fact_id: str, fact: Fact) -> None:
        self._steps[_topic(fact)][fact_id] = _Step(fact, tuple(_contents(fact)))

    def turn(self, fact: Fact, *, ours: bool, again: bool) -> Turn:
        """The fact as told now, known or with a new id.

        ``ours`` is True where the position on the shelf is not the sheet's word. ``again`` is True
        for a file taken in before: then anything ever told counts as told.
        """
        said = _said(fact, ours=ours)
        chain = list(self._chain(_topic(fact)))
        stands = [(one, step) for one, step in chain if one not in self._mistaken]
        withdrawn = tuple(one for one, _ in chain if one in self._mistaken)
        for fact_id, step in stands if again else stands[-1:]:
            if _says(step.fact, said):
                return Turn(id=fact_id, fact=fact, said=said, has=True, withdrawn=withdrawn)
        last = stands[-1][0] if stands and not again else ""
        past = [one for one, _ in chain].index(last) + 1 if last else 0
        repeats = [
            one for one, step in chain[past:] if one in self._mistaken and _says(step.fact, said)
        ]
        before = chain[-1][0] if chain else ""
        return Turn(
            id=_link(_topic(fact), _text(said), before),
            fact=fact,
            said=said,
            has=False,
            repeats=repeats[-1] if repeats else "",
            withdrawn=withdrawn,
        )

    def learn(self, turn: Turn) -> None:
        """Takes over what an understood row of the sheet tells."""
        told = self._here[_topic(turn.fact)]
        if not told or told[-1] != turn.said:
            told.append(turn.said)
        if not turn.has:
            self._fresh.add(turn.id)
            self._add(turn.id, turn.fact)

    def told_before(self) -> set[str]:
        """The new ids of boxes told more than once here, whose whole turn the book ends with."""
        found: set[str] = set()
        for topic, here in self._here.items():
            if len(here) < 2:
                continue
            chain = list(self._chain(topic))
            ends = [step.fact for one, step in chain if one not in self._mistaken | self._fresh]
            same = map(_says, ends[-len(here) :], here)
            if len(ends) >= len(here) and all(same):
                found |= {one for one, _ in chain} & self._fresh
        return found

    def _chain(self, topic: str) -> Iterator[tuple[str, _Step]]:
        known, before = self._steps.get(topic, {}), ""
        while found := self._next(topic, known, before):
            yield found, known[found]
            before = found

    @staticmethod
    def _next(topic: str, known: dict[str, _Step], before: str) -> str:
        for fact_id, step in known.items():
            if any(fact_id == _link(topic, text, before) for text in step.contents):
                return fact_id
        return ""


def _link(topic: str, content: str, before: str) -> str:
    return derived_id(f"{topic}\x1f{content}\x1f{before}")


def _topic(fact: Fact) -> str:
    """Kind, subjects that stay, and which fields are told: two sheets may tell different ones."""
    if isinstance(fact, BoxDescribed):
        fields = [name for name in fact.__struct_fields__ if getattr(fact, name) not in (None, "")]
        return f"sheet|{fact.kind}|{fact.box}|{','.join(fields)}"
    if isinstance(fact, Shelved):
        return f"sheet|{fact.kind}|{fact.box}"
    return f"sheet|{fact.kind}|{fact.subjects()[0]}"


def _said(fact: Fact, *, ours: bool) -> Fact:
    """The fact without a position that we counted, and without the words for its vents."""
    if isinstance(fact, Shelved) and ours:
        return replace(fact, position=None)
    if isinstance(fact, BoxDescribed) and fact.vents is not None:
        # the same holes may be typed in more than one way
        return replace(fact, vents_as_written="")
    return fact


def _text(said: Fact) -> str:
    if isinstance(said, Shelved):
        return said.shelf if said.position is None else f"{said.shelf}\x1f{said.position}"
    return encode(said).decode()


def _contents(fact: Fact) -> Iterator[str]:
    """A position may have been told, or counted by us and no part of the id."""
    yield _text(_said(fact, ours=True))
    if isinstance(fact, Shelved) and fact.position is not None:
        yield _text(fact)


def _says(fact: Fact, said: Fact) -> bool:
    """True where a fact of the book says what a row says."""
    return _said(fact, ours=isinstance(said, Shelved) and said.position is None) == said
