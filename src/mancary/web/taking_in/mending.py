"""What the keeper answers about a sheet: read from the form, and grouped for the page."""

import re
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any, Final

from msgspec import Struct

from mancary.sheets.faults import LEAVE_OUT, Choice, Question
from mancary.usecases.take_in import Reading, Row
from mancary.web.forms import FormError
from mancary.web.tongue import _

SURE: Final = 0.9
"""A choice at least so likely is set beforehand; the keeper sees it and may set another."""

_CELLS: Final = re.compile(r"(\d+(?: \d+)*):(.*)", re.DOTALL)
_LINES: Final = re.compile(r"\d+(?: \d+)*")


class Told(Struct, frozen=True, kw_only=True):
    """What a form told: answers by key, meanings by heading, and the day the figures hold for."""

    answers: dict[str, str]
    meanings: dict[str, str]
    as_of: date | None


class Mend(Struct, frozen=True, kw_only=True):
    """One thing to mend: the same cell text at fault for the same reason, in one row or many."""

    key: str
    lines: tuple[int, ...]
    column: str
    value: str
    why: str
    row: Row
    answer: str = ""


class Ask(Struct, frozen=True, kw_only=True):
    """One question, in one row or many; ``chosen`` is the choice that is set."""

    key: str
    lines: tuple[int, ...]
    column: str
    value: str
    why: str
    choices: tuple[Choice, ...]
    chosen: str
    row: Row


def told(form: Mapping[str, Any]) -> Told:
    """The answers in a form: "a:KEY" chosen, "t:KEY" typed, "m:HEADING" a column's meaning.

    "l:LINES" leaves rows out; its value is the key of the question that no longer stands.

    Raises:
        FormError: when the day is no date.
    """
    answers: dict[str, str] = {}
    for mark in ("a:", "t:"):
        for name, value in form.items():
            text = _text(value)
            if name.startswith(mark) and text:
                answers.update(_spread(name[2:], text))
    for name, value in form.items():
        if name.startswith("l:") and _LINES.fullmatch(name[2:]) and _text(value):
            answers.pop(_text(value), None)
            answers.update(dict.fromkeys(name[2:].split(), LEAVE_OUT))
    meanings = {
        name[2:]: _text(value)
        for name, value in form.items()
        if name.startswith("m:") and _text(value)
    }
    return Told(answers=answers, meanings=meanings, as_of=_day(_text(form.get("as_of", ""))))


def _text(value: object) -> str:
    last = value[-1] if isinstance(value, list) and value else value
    return last.strip() if isinstance(last, str) else ""


def _spread(key: str, text: str) -> dict[str, str]:
    """An answer for the same cell in many rows is an answer for each of them."""
    many = _CELLS.fullmatch(key)
    if many is None:
        return {key: text}
    return {f"{line}:{many.group(2)}": text for line in many.group(1).split()}


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise FormError(
            "as_of", _("%(text)s is not a date; expected one like 2026-03-01.", text=repr(text))
        ) from None


def mends(reading: Reading) -> list[Mend]:
    """The faults of the refused rows, the same one said once; rows left out have none to mend."""
    groups: dict[tuple[str, str, str], list[Row]] = {}
    for row in reading.rows:
        for fault in () if row.left_out else row.refused:
            groups.setdefault((fault.column, fault.value, fault.why), []).append(row)
    return [
        _mend(column, value, why, rows, reading.source.answers)
        for (column, value, why), rows in groups.items()
    ]


def _mend(column: str, value: str, why: str, rows: list[Row], answers: Mapping[str, str]) -> Mend:
    lines = tuple(dict.fromkeys(row.line for row in rows))
    return Mend(
        key=f"{' '.join(map(str, lines))}:{column}",
        lines=lines,
        column=column,
        value=value,
        why=why,
        row=rows[0],
        answer=answers.get(f"{lines[0]}:{column}", ""),
    )


def asks(reading: Reading) -> list[Ask]:
    """The questions of the asked rows, one for each key."""
    groups: dict[str, list[tuple[Row, Question]]] = {}
    for row in reading.rows:
        for question in row.asked:
            groups.setdefault(question.key, []).append((row, question))
    good = _good_answers(reading)
    return [_ask(key, held, good) for key, held in groups.items()]


def left_out(reading: Reading) -> list[Row]:
    """The rows the keeper left out."""
    return [row for row in reading.rows if row.left_out]


def _good_answers(reading: Reading) -> dict[str, str]:
    """The answers that fit something; one that does not is shown once and dropped."""
    unused = set(reading.unused_keys)
    return {key: text for key, text in reading.source.answers.items() if key not in unused}


def _ask(key: str, held: list[tuple[Row, Question]], answers: Mapping[str, str]) -> Ask:
    row, question = held[0]
    best = question.best
    return Ask(
        key=key,
        lines=tuple(dict.fromkeys(row.line for row, _ in held)),
        column=question.column,
        value=question.value,
        why=question.why,
        choices=question.choices,
        chosen=answers.get(key) or (best.value if best.likelihood >= SURE else ""),
        row=row,
    )


def carried(reading: Reading, shown: Iterable[str]) -> dict[str, str]:
    """The answers given before that the page doesn't ask for again, those of no use left out."""
    here: set[str] = set()
    for key in shown:
        here.update(_spread(key, "-"))
    return {key: text for key, text in _good_answers(reading).items() if key not in here}
