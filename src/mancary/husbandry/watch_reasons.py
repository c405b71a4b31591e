"""What moved a colony's figure in the last twelve weeks, in words: each sort of sight left out."""

from dataclasses import replace
from datetime import date, timedelta
from math import log
from typing import Final

from mancary.husbandry.colony_belief import FEW_LOOKS, Outlook, p_below_of
from mancary.husbandry.colony_past import Look, Past, without
from mancary.husbandry.count_told import counted_said
from mancary.husbandry.sentences import in_a_row, tell
from mancary.science.belief_model import BeliefModel
from mancary.science.risk import WEEKS

_TELLING: Final = 0.25
"""Ours: a change of the log odds under this is not worth a word."""
_SURE: Final = 0.99
_FAR: Final = 3.0
"""Ours: how many times the middle a full count must be off to be asked about."""


def chance_said(chance: float) -> str:
    """A chance in whole percent, never 0 or 100: "under 1 %", "31 %", "over 99 %"."""
    if chance < 1 - _SURE:
        return tell("under 1 %")
    return tell("over 99 %") if chance > _SURE else f"{chance:.0%}".replace("%", " %")


def reasons(past: Past, model: BeliefModel, on: date, outlook: Outlook) -> tuple[str, ...]:
    """Sentences on what raised or lowered the chance of falling below five, weightiest first."""
    since = past.week_of(on) - WEEKS
    lately = [look for look in past.looks if since <= look.week <= past.week_of(on)]
    told, lowered = [], {}
    for kind in ("counts", "none_seen", "young", "dead", "left", "taken"):
        words = _words(kind, lately)
        if words:
            rest = p_below_of(without(past, kind, since_week=since), model, on)
            moved = _odds(outlook.p_below) - _odds(rest)
            told.append((moved, rest, words))
            lowered[kind] = moved < 0
    told.sort(key=lambda one: -abs(one[0]))
    found = [
        (
            tell(
                "%(words)s raised it from %(rest)s to %(p_below)s.",
                words=words,
                rest=chance_said(rest),
                p_below=chance_said(outlook.p_below),
            )
            if moved > 0
            else tell(
                "%(words)s lowered it from %(rest)s to %(p_below)s.",
                words=words,
                rest=chance_said(rest),
                p_below=chance_said(outlook.p_below),
            )
        )
        for moved, rest, words in told
        if abs(moved) >= _TELLING and chance_said(rest) != chance_said(outlook.p_below)
    ]
    dead = _dead_said(lately) if lowered.get("dead") else []
    odd = _odd_counts(outlook, lately)
    return (*found, *dead, *odd, *_background(past, on, outlook, lately))


def _dead_said(lately: list[Look]) -> list[str]:
    """Dead found are no good news, even where they show that more were there than was thought."""
    dead = [look.day for look in lately if sum(look.dead)]
    if not dead:
        return []
    said = tell(
        "Dead found %(dead)s show that more were there than was thought, not that it"
        " is well: look at them all the same.",
        dead=_days(dead),
    )
    return [said]


def doubts(past: Past, model: BeliefModel, on: date, outlook: Outlook) -> bool:
    """Whether all that was seen of a colony at least doubled the odds of its falling below five."""
    unseen = replace(past, looks=())
    return _odds(outlook.p_below) - _odds(p_below_of(unseen, model, on)) >= log(2)


def _odd_counts(outlook: Outlook, lately: list[Look]) -> list[str]:
    """A last count of the whole box far from what is still believed most."""
    full = [
        (day, fact.low) for look in lately for day, fact, _ in look.counts if fact.how == "full"
    ]
    if not full or any(look.taken or look.taken_unknown for look in lately):
        return []
    day, animals = max(full)
    if (animals + 1) / _FAR <= outlook.mid + 1 <= (animals + 1) * _FAR:
        return []
    below = animals < outlook.mid
    said = (
        tell(
            "The full count of %(animals)s on %(day)s is far below all that was seen"
            " before: a slip, or a sudden loss. Count once more: a second one settles it.",
            animals=animals,
            day=day,
        )
        if below
        else tell(
            "The full count of %(animals)s on %(day)s is far above all that was seen"
            " before: a slip, or young that nobody saw. Count once more: a second one"
            " settles it.",
            animals=animals,
            day=day,
        )
    )
    return [said]


def _background(past: Past, on: date, outlook: Outlook, lately: list[Look]) -> list[str]:
    said = []
    days = [look.day for look in past.looks if look.evidence]
    if outlook.looks < FEW_LOOKS:
        many = (
            tell("no look so far tells"), tell("one look so far tells"),
            tell("two looks so far tell"), tell("three looks so far tell"),
        )[outlook.looks]  # fmt: skip
        said.append(tell("Mostly what is held of any such colony: %(many)s of it.", many=many))
    elif not any(look.evidence for look in lately):
        said.append(
            tell(
                "No count and no sign since %(days)s: the longer, the less is known.",
                days=max(days),
            )
            if days
            else tell("No count and no sign yet.")
        )
    if any(look.taken_unknown for look in lately):
        said.append(tell("Animals were taken without their number: note how many."))
    if past.founders is None:
        said.append(
            tell("How many it was founded with is not in the book; one full count would tell.")
        )
    if past.joined and (on - past.joined) < timedelta(weeks=26):
        said.append(
            tell("Another colony was put in on %(joined)s; what was known before fell away.", past)
        )
    return said


def _words(kind: str, lately: list[Look]) -> str:
    match kind:
        case "counts":
            return _counts(lately)
        case "none_seen":
            days = [look.day for look in lately if look.none_seen]
            return tell("None seen %(days)s", days=_days(days)) if days else ""
        case "young":
            seen = [look.day for look in lately if look.young]
            looked = [look.day for look in lately if look.young is False]
            if seen:
                return tell("Young seen %(seen)s", seen=_days(seen))
            return (
                tell("No young when looked for %(looked)s", looked=_days(looked)) if looked else ""
            )
        case "dead":
            dead = sum(sum(look.dead) for look in lately)
            days = [look.day for look in lately if look.dead]
            return (
                tell("%(what)s dead found %(days)s", what=dead or "No", days=_days(days))
                if days
                else ""
            )
        case "left":
            return _left(lately)
        case _:
            return _taken(lately)


def _counts(lately: list[Look]) -> str:
    told = sorted(
        ((day, counted_said(fact)) for look in lately for day, fact, _ in look.counts),
        key=lambda one: one[0],
    )
    if not told:
        return ""
    last = [tell("%(said)s on %(day)s", said=said, day=day) for day, said in told[-3:]]
    if not last[1:]:
        return tell("The count of %(last)s", last=last[0])
    more = (
        tell("%(told)s counts, the last ", told=len(told)) if len(told) > 3 else tell("Counts of ")
    )
    return more + in_a_row(", ", last) + ","


def _taken(lately: list[Look]) -> str:
    taken = sum(look.taken for look in lately)
    days = [look.day for look in lately if look.taken or look.taken_unknown]
    if not days:
        return ""
    some = any(look.taken_unknown for look in lately)
    many = tell("%(taken).0f animals", taken=taken) if taken else "Animals"
    return (
        tell("%(many)s and more taken %(days)s", many=many, days=_days(days))
        if taken and some
        else tell("%(many)s taken %(days)s", many=many, days=_days(days))
    )


def _left(lately: list[Look]) -> str:
    shares = [one for look in lately for one in look.left]
    if not shares:
        return ""
    left = sum(one > 0 for one in shares)
    if left == 0:
        return (
            tell("Food all gone each of %(shares)s times noted", shares=len(shares))
            if shares[1:]
            else tell("Food all gone")
        )
    return (
        tell("Food left over %(left)s of %(shares)s times noted", left=left, shares=len(shares))
        if shares[1:]
        else tell("Food left over")
    )


def _days(days: list[date]) -> str:
    if len(days) == 1:
        return tell("on %(days)s", days=days[0])
    return tell(
        "%(days)s times from %(days2)s to %(days3)s",
        days=len(days),
        days2=min(days),
        days3=max(days),
    )


def _odds(chance: float) -> float:
    held = min(max(chance, 1e-4), 1 - 1e-4)
    return log(held / (1 - held))
