"""Writing down what is left of an evening's round, by halves, late or again, and never twice."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.facts import CareGiven, Fact
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell
from mancary.usecases.pen import Pen
from mancary.usecases.record import past
from mancary.usecases.round_ahead import look_ahead
from mancary.usecases.round_evening import KeptEvening, Named, kept_evening
from mancary.usecases.round_kept import Done, accept_round, kept_days, write_done
from mancary.usecases.round_plan import planned_anew, told_round


class EveningDone(Struct, frozen=True, kw_only=True):
    """What was written, whether the evening's plan had been kept, and what was written before.

    ``before`` are the ids of what was ``already`` in the book.
    """

    done: Done
    plan_was_kept: bool
    already: tuple[Named, ...] = ()
    before: tuple[str, ...] = ()


def done_evening(
    book: Book,
    *,
    on: date,
    left_out: Sequence[Named] = (),
    skipped: Mapping[Named, str] | None = None,
    beside: Sequence[Fact] = (),
    pen: Pen,
) -> EveningDone:
    """Writes what is left of an evening's round as given, all but the exceptions.

    Where no plan was kept for the evening it is planned now, and that plan is kept: said again,
    nothing is written twice. An exception that is in the book already is told and not refused.

    Raises:
        Refusal: for an exception that never was in the round, or an evening to come.
    """
    kept = kept_evening(book, on)
    if kept:
        return write_kept(book, kept, left_out=left_out, skipped=skipped, beside=beside, pen=pen)
    past(book, on.isoformat(), pen=pen)
    ahead = look_ahead(book, on=on, named=True, minutes=None)
    planned = planned_anew(ahead, kept_days(book))
    stops = [
        (stop.box, [task.care for task in stop.tasks]) for stop in told_round(ahead, planned).stops
    ]
    if stops and not _strangers(stops, [*left_out, *(skipped or {})]):
        accept_round(book, planned, pen=pen)
    done = write_done(
        book, stops, on=on, left_out=left_out, skipped=skipped, beside=beside, pen=pen
    )
    return EveningDone(done=done, plan_was_kept=False)


def write_kept(
    book: Book,
    kept: KeptEvening,
    *,
    only: Iterable[Named] | None = None,
    left_out: Sequence[Named] = (),
    skipped: Mapping[Named, str] | None = None,
    beside: Sequence[Fact] = (),
    dated: date | None = None,
    pen: Pen,
) -> EveningDone:
    """Writes what is left of a kept plan, or ``only`` some of it; ``dated`` if it was done later.

    A care of ``beside`` stands in place of the plan's own, which says no amount.

    Raises:
        Refusal: for an exception that never was in the plan, or a day it does not reach to.
    """
    day = _reached(kept, dated or kept.day)
    told = {(one.box, one.care) for one in beside if isinstance(one, CareGiven)}
    wanted = kept.cares if only is None else kept.cares & frozenset(only)
    stops = [
        (box, [care for care in cares if (box, care) in wanted - told]) for box, cares in kept.left
    ]
    exceptions = {one: _in_the_book(kept, one) for one in (*left_out, *(skipped or {}))}
    open_ones = {one for one, before in exceptions.items() if not before and one not in told}
    done = write_done(
        book,
        [(box, cares) for box, cares in stops if cares],
        on=day,
        left_out=[one for one in left_out if one in open_ones],
        skipped={one: why for one, why in (skipped or {}).items() if one in open_ones},
        beside=[one for one in beside if not _is_recorded(kept, one)],
        pen=pen,
    )
    before = {one for named in exceptions.values() for one in named}
    before |= ((wanted | told) & kept.recorded.keys()) - set(left_out)
    already = tuple(sorted(before))
    return EveningDone(
        done=done,
        plan_was_kept=True,
        already=already,
        before=tuple(kept.recorded[one] for one in already),
    )


def _reached(kept: KeptEvening, day: date) -> date:
    if not kept.day <= day <= kept.until:
        reach = (
            tell("%(day)s to %(until)s", kept)
            if kept.until > kept.day
            else tell("%(day)s only", kept)
        )
        raise Refusal(
            tell(
                "The round of %(day)s can be written for %(reach)s, not for %(day2)s.",
                kept,
                reach=reach,
                day2=day,
            )
        )
    return day


def _is_recorded(kept: KeptEvening, fact: Fact) -> bool:
    return isinstance(fact, CareGiven) and (fact.box, fact.care) in kept.recorded


def _in_the_book(kept: KeptEvening, exception: Named) -> list[Named]:
    """What an exception names of the plan, where all of that is in the book already."""
    box, care = exception
    named = {one for one in kept.cares if one == exception or (not care and one[0] == box)}
    return sorted(named) if named and named <= kept.recorded.keys() else []


def _strangers(stops: Sequence[tuple[str, Sequence[str]]], exceptions: Sequence[Named]) -> bool:
    known = {(box, care) for box, told in stops for care in (*told, "")}
    return not known.issuperset(exceptions)
