"""Accepting a round, finding the one accepted, and writing it down by exception."""

from collections.abc import Mapping, Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from mancary.book import Book
from mancary.husbandry.codec import encode
from mancary.husbandry.entries import Entry, derived_id
from mancary.husbandry.facts import (
    AcceptedEvening,
    AcceptedStop,
    CareGiven,
    CareSkipped,
    Fact,
    RoundAccepted,
)
from mancary.husbandry.order import withdrawn_ids
from mancary.husbandry.planning_evenings import Kept, Planned
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.words import CARES
from mancary.usecases.pen import Pen
from mancary.usecases.record import known_box, past, write, write_entries
from mancary.usecases.standings import standings_of
from mancary.usecases.zone import zone_of

_LOOK_BACK = 3
"""How many accepted rounds back are asked where a care was planned before."""


class Done(Struct, frozen=True, kw_only=True):
    """What was written of a round: cares given, skipped, left out, and those written before.

    ``facts`` are the ids of what was written now, ``known`` of what was in the book already.
    """

    date: date
    given: int
    skipped: int
    left_out: int
    seen: int
    repeated: int
    facts: tuple[str, ...]
    known: tuple[str, ...] = ()


def accept_round(book: Book, planned: Planned, *, pen: Pen) -> RoundAccepted:
    """Keeps a plan as a fact: tonight's answer comes from it, and later plans stay near it."""
    evenings = []
    for evening in planned.evenings:
        cares: dict[str, list[str]] = {}
        for task, day in planned.tasks:
            if day == evening.day:
                cares.setdefault(task.box, []).append(task.care)
        stops = tuple(
            AcceptedStop(box=box, cares=tuple(told))  # type: ignore[arg-type]
            for box, told in cares.items()
        )
        day_said = evening.day.isoformat()
        evenings.append(AcceptedEvening(day=day_said, minutes=evening.minutes, stops=stops))
    fact = RoundAccepted(evenings=tuple(evenings), gap=planned.gap)
    write(book, [fact], pen=pen)
    return fact


def accepted_plans(book: Book, day: date) -> list[tuple[Entry, RoundAccepted]]:
    """The plans accepted for an evening that still stand, with their entries, oldest first."""
    entries = book.entries_about(f"round:{day}")
    gone = withdrawn_ids([e for one in entries for e in book.entries_about(f"fact:{one.id}")])
    return [
        (entry, entry.fact)
        for entry in entries
        if entry.id not in gone and isinstance(entry.fact, RoundAccepted)
    ]


def accepted_round(book: Book, day: date) -> RoundAccepted | None:
    """The plan accepted last for an evening, if it still stands."""
    found = accepted_plans(book, day)
    return found[-1][1] if found else None


def kept_plan(book: Book, on: date) -> RoundAccepted | None:
    """The plan accepted last whose weeks reach a day or beyond."""
    for code in sorted(book.subjects("round"), reverse=True)[:_LOOK_BACK]:
        accepted = accepted_round(book, date.fromisoformat(code))
        if accepted and accepted.evenings[-1].day >= on.isoformat():
            return accepted
    return None


def kept_days(book: Book) -> Kept:
    """On which evenings each care of a box was planned in the rounds accepted last."""
    last = sorted(book.subjects("round"))[-_LOOK_BACK:]
    kept: dict[tuple[str, str], set[date]] = {}
    for code in last:
        accepted = accepted_round(book, date.fromisoformat(code))
        for evening in accepted.evenings if accepted else ():
            for stop in evening.stops:
                for care in stop.cares:
                    kept.setdefault((stop.box, care), set()).add(date.fromisoformat(evening.day))
    return {key: frozenset(days) for key, days in kept.items()}


def write_done(
    book: Book,
    stops: Sequence[tuple[str, Sequence[str]]],
    *,
    on: date,
    left_out: Sequence[tuple[str, str]] = (),
    skipped: Mapping[tuple[str, str], str] | None = None,
    beside: Sequence[Fact] = (),
    pen: Pen,
) -> Done:
    """Writes the cares of a round as given, all but the exceptions; never that nothing was seen.

    ``stops`` are boxes with their cares. ``left_out`` names what was not reached, a box or a box
    and a care; ``skipped`` a care that was left out on purpose, and why; ``beside`` are facts of
    what was seen, counted or weighed on the way. Sent twice it is written once.

    Raises:
        Refusal: for an exception that is no stop of this round, or an evening to come.
    """
    skipped = dict(skipped or {})
    cares = {(box, care) for box, told in stops for care in told}
    _all_known(book, cares, [*left_out, *skipped])
    out = {key for key in cares if key in set(left_out) or (key[0], "") in set(left_out)}
    moment = past(book, on.isoformat(), pen=pen)
    assert moment is not None
    facts = [
        _fact(box, care, skipped.get((box, care)))
        for box, told in stops
        for care in told
        if (box, care) not in out
    ]
    told = [(_id(book, on, fact), fact) for fact in (*facts, *beside)]
    poured = _poured(book, dict(told[: len(facts)]), on)
    entries = [
        replace(pen.entry(poured.get(made, fact), happened=moment), id=made) for made, fact in told
    ]
    recorded = write_entries(book, entries, pen=pen)
    fresh = dict.fromkeys(entry.id for entry in recorded.entries)
    return Done(
        date=on,
        given=sum(isinstance(entry.fact, CareGiven) for entry in recorded.entries),
        skipped=sum(isinstance(entry.fact, CareSkipped) for entry in recorded.entries),
        left_out=len(out),
        seen=sum(not isinstance(entry.fact, CareGiven | CareSkipped) for entry in recorded.entries),
        repeated=recorded.repeated,
        facts=tuple(fresh),
        known=tuple(entry.id for entry in entries if entry.id not in fresh),
    )


def _poured(book: Book, told: Mapping[str, Fact], on: date) -> dict[str, Fact]:
    """Mistings done as told, by id, with the mL the boxes' scales told; sent again as before."""
    misted = {
        made: fact
        for made, fact in told.items()
        if isinstance(fact, CareGiven) and fact.care == "mist"
    }
    if not misted or not _any_marked(book, on):
        return {}
    from mancary.usecases.water import pours_told  # numpy is slow to import

    pours = pours_told(book, [fact.box for fact in misted.values()], on=on)
    found: dict[str, Fact] = {}
    for made, fact in misted.items():
        if before := book.entry(made):
            found[made] = before.fact
        elif fact.box in pours:
            found[made] = replace(fact, amount=pours[fact.box])
    return found


def _any_marked(book: Book, on: date) -> bool:
    standings = standings_of(book, zone_of(book), until=on)
    return any(one.just_right for one in standings.values())


def _id(book: Book, on: date, fact: Fact) -> str:
    """One id for what is told of a box on an evening, another one where that was withdrawn."""
    said = encode(fact).decode()
    if isinstance(fact, CareGiven | CareSkipped) and fact in (
        CareGiven(box=fact.box, care=fact.care),
        CareSkipped(box=fact.box, care=fact.care, why=getattr(fact, "why", "")),
    ):
        said = f"{fact.box}|{fact.care}"
    made = derived_id(f"round|{on}|{fact.kind}|{said}")
    while book.has([made]) and made in withdrawn_ids(book.entries_about(f"fact:{made}")):
        made = derived_id(f"anew|{made}")
    return made


def _fact(box: str, care: str, why: str | None) -> Fact:
    if why is not None:
        return CareSkipped(box=box, care=care, why=why)  # type: ignore[arg-type]
    return CareGiven(box=box, care=care)  # type: ignore[arg-type]


def _all_known(
    book: Book, cares: set[tuple[str, str]], exceptions: Sequence[tuple[str, str]]
) -> None:
    boxes = {box for box, _ in cares}
    for box, care in exceptions:
        known_box(book, box)
        if care and care not in CARES:
            raise Refusal(
                tell(
                    "%(care)r is no care; expected one of %(all)s.",
                    care=care,
                    all=in_a_row(", ", CARES),
                )
            )
        if box not in boxes or (care and (box, care) not in cares):
            what = (
                tell("%(replace)s of box %(box)s", replace=care.replace("_", " "), box=box)
                if care
                else tell("box %(box)s", box=box)
            )
            raise Refusal(tell("The round has no %(what)s. Nothing was written.", what=what))
