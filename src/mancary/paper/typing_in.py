"""How the ticks of a sheet are typed into the book: the commands, with boxes of this round."""

import re

from mancary.husbandry.words import said
from mancary.paper.sheet_words import Step
from mancary.usecases.round_plan import Round, Stop

_PLAIN = re.compile(r"[\w.\-/+:=]+")


def steps(told: Round, *, accepted: bool, minutes: float | None) -> tuple[Step, ...]:
    """What to type after the round, in order."""
    on = f"--on {told.date}"
    return (
        *(_keeping(told, minutes=minutes) if told.stops and not accepted else ()),
        *(_done_and_seen(told, on) if told.stops else ()),
        *(_thermometers(told, on) if told.shelves else ()),
    )


def _done_and_seen(told: Round, on: str) -> tuple[Step, Step]:
    first = _word(told.stops[0].box)
    seen = (
        f"mancary note {first} dead 2 {on}",
        f"mancary note {first} left-over half {on}",
        f"mancary note {first} note {_quoted('words of your own')} {on}",
    )
    words = (
        "First what was done, in one line: all of it; or all but the boxes and cares without a"
        " tick, each after an --except, and what you left out on purpose after a --skip. If you"
        " timed the evening, add --took and the minutes. In a browser it is quicker: Type in the"
        f" ticks of a paper sheet, on the round's page (/round/ticks?on={told.date})."
    )
    done = (f"mancary done {on}", f"mancary done {on} {_exceptions(told)}")
    return (
        Step(words=words, commands=done),
        Step(words="Then what was seen: a line for each word circled or written.", commands=seen),
    )


def _exceptions(told: Round) -> str:
    """A box of this round, a care of another, and a care of a third left out on purpose."""
    first, middle, last = told.stops[0], told.stops[len(told.stops) // 2], told.stops[-1]
    parts = [f"--except {_word(first.box)}"]
    if last is not first:
        parts.append(f"--except {_word(_shortest(last))}")
    if middle not in (first, last):
        parts.append(f"--skip {_quoted(f'{_shortest(middle)}=too wet')}")
    return " ".join(parts)


def _shortest(stop: Stop) -> str:
    return f"{stop.box}:{min((_typed(task.care) for task in stop.tasks), key=len)}"


def _thermometers(told: Round, on: str) -> tuple[Step]:
    command = f"mancary shelf {_word(told.shelves[0].shelf)} 18.5 23 {on}"
    return (Step(words="The thermometers: lowest, then highest.", commands=(command,)),)


def keep_command(told: Round, *, minutes: float | None) -> str:
    """The command that accepts the plan on the sheet."""
    offered = f" --minutes {minutes:g}" if minutes is not None else ""
    return f"mancary round --on {told.date}{offered} --accept"


def _keeping(told: Round, *, minutes: float | None) -> tuple[Step]:
    words = (
        "This plan was not yet accepted when it was printed. Accept it before anything else is"
        " written, or the round typed in may not be the one ticked here."
    )
    return (Step(words=words, commands=(keep_command(told, minutes=minutes),)),)


def spelling(told: Round) -> str:
    """How the cares of a round are typed where that is not how they are said."""
    cares = sorted({task.care for stop in told.stops for task in stop.tasks})
    own = [f"{said(one)} as {_typed(one)}" for one in cares if said(one) != one.replace("_", " ")]
    others = f" Type {', '.join(own)}." if own else ""
    return f"In a care's name a hyphen stands for each space.{others}"


def _typed(care: str) -> str:
    return care.replace("_", "-")


def _word(text: str) -> str:
    return text if _PLAIN.fullmatch(text) else _quoted(text)


def _quoted(text: str) -> str:
    return f'"{text}"'
