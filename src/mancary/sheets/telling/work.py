"""What a journal's words say was done or seen."""

import re
from functools import lru_cache

from msgspec import Struct

from mancary.husbandry.words import said
from mancary.sheets.faults import LEAVE_OUT, Choice, Unclear, Unreadable
from mancary.sheets.plain import bare_words, plain, tidy
from mancary.sheets.telling.beside import COLONY_PHRASES, COLONY_WORK, FED, FILLER, NOT, VAGUE
from mancary.sheets.telling.trade_words import Telling, telling_of, tellings

NOTE = "note"
_PARTS = re.compile(r"\s*(?:[,;+&/]|\band\b|\boch\b|\bund\b)\s*")
_NUMBER = r"(?:ca\.?\s*|~\s*)?\d[\d.,]*(?:\s*[-–]\s*\d[\d.,]*)?\+?"
_AMOUNT_LAST = re.compile(rf"(.*?[a-z)])(?:[\s:=]+|\s+[-–—]\s+)({_NUMBER}.*)")
_AMOUNT_FIRST = re.compile(rf"(?:[-–—•*]\s+)?({_NUMBER}\s*(?:ml|l|g|kg|x)?)\s+([a-z].*)")
_BELOW_ZERO = re.compile(r"(?:(.*?[a-z)])[\s:=]+)?[-−–]\d[\d.,]*\s*(.*)")
_NEAR, _SAME_START, _CLOSE = 80, 72, 93
_SHORTEST_CLOSE, _SHORTEST_TOKEN = 5, 4
_CHOICES = 3


class Work(Struct, frozen=True, kw_only=True):
    """What was told, and an amount that stood in the same words."""

    tellings: tuple[Telling, ...]
    amount: str = ""


@lru_cache(maxsize=10_000)
def read_work(text: str) -> Work:
    """The tellings of a cell: one, or several joined by commas or "and".

    Raises:
        Unclear: with the nearest words as choices, where it is not known.
        Unreadable: where a number in it is below 0.
    """
    if found := known_telling(text):
        return Work(tellings=(found,))
    parts = [known_telling(part) for part in _PARTS.split(plain(text)) if part]
    if len(parts) > 1 and all(parts):
        return Work(tellings=tuple(part for part in parts if part))
    if work := _with_amount(plain(text)):
        return work
    _refuse_below_zero(text)
    key = f"word:{bare_words(text)}"
    if bare_words(text) in FED:
        raise Unclear(f"{tidy(text)!r} does not say what was fed", _FOODS, key=key)
    if _is_colony_work(text):
        raise Unclear(
            f"{tidy(text)!r} is work on a whole colony, which has a command of its own; in a sheet"
            " it can only be kept as a note",
            (Choice(value=NOTE, words="keep as a note", likelihood=0.8), _LEFT_OUT),
            key=key,
        )
    raise Unclear(
        f"{tidy(text)!r} is no word for work or sight known here", _choices(text), key=key
    )


_LEFT_OUT = Choice(value=LEAVE_OUT, words="leave this row out", likelihood=0.05)
_FOODS = (
    Choice(value="vegetable", words="vegetable", likelihood=0.5),
    Choice(value="protein", words="protein", likelihood=0.35),
    Choice(value=NOTE, words="keep as a note", likelihood=0.1),
    _LEFT_OUT,
)


def is_fed_alone(text: str) -> bool:
    """True where a text says that something was fed, and not what."""
    return bare_words(text) in FED


def _with_amount(told: str) -> Work | None:
    """A known telling with a number before or after it, or with a word for many."""
    for shape, words_at, amount_at in ((_AMOUNT_LAST, 1, 2), (_AMOUNT_FIRST, 2, 1)):
        split = shape.fullmatch(told)
        if split and (found := known_telling(split[words_at])):
            return Work(tellings=(found,), amount=split[amount_at])
    words = told.split()
    for at in range(1, len(words)):
        for vague, rest in ((words[:at], words[at:]), (words[at:], words[:at])):
            found = known_telling(" ".join(rest))
            if " ".join(vague) in VAGUE and found:
                return Work(tellings=(found,), amount=" ".join(vague))
    return None


def _refuse_below_zero(text: str) -> None:
    found = _BELOW_ZERO.fullmatch(plain(text))
    if found and any(part and known_telling(part) for part in found.groups()):
        raise Unreadable("expected a number of 0 or more; this one is below 0")


def _is_colony_work(text: str) -> bool:
    first, *others = bare_words(text).split() or [""]
    if bare_words(text) in COLONY_PHRASES:
        return True
    return first in COLONY_WORK and not any(map(known_telling, others))


@lru_cache(maxsize=10_000)
def known_telling(text: str) -> Telling | None:
    """What a phrase tells once words like "added" and "some" are left aside."""
    if found := telling_of(text):
        return found
    kept = [word for word in bare_words(text).split() if word not in FILLER]
    return telling_of(" ".join(kept)) if kept else None


def _choices(text: str) -> tuple[Choice, ...]:
    from rapidfuzz import fuzz, process

    words = bare_words(text)
    denied = not NOT.isdisjoint(words.split())
    near: dict[str, float] = {}
    for phrase, score, _ in process.extract(
        words, tellings().keys(), scorer=fuzz.ratio, limit=12, score_cutoff=_SAME_START
    ):
        alike = score >= _NEAR or phrase[:1] == words[:1]
        if alike and tellings()[phrase].kind != "note":
            near.setdefault(_value(tellings()[phrase]), _likelihood(words, score, denied=denied))
    for word in words.split():
        if len(word) >= _SHORTEST_TOKEN and (told := telling_of(word)) and told.kind != "note":
            near.setdefault(_value(told), 0.1 if denied else 0.25)
    best = list(near.items())[:_CHOICES]
    return (
        *(Choice(value=value, words=value, likelihood=score) for value, score in best),
        Choice(value=NOTE, words="keep as a note", likelihood=0.3),
        _LEFT_OUT,
    )


def _value(told: Telling) -> str:
    """A telling as a text that is read as it."""
    if told.kind == "taken":
        return {"sale": "sold", "swap": "swapped", "gift": "gave away"}.get(told.word, "taken out")
    return told.what or (told.word if told.kind in ("count", "weigh", "note") else said(told.word))


def _likelihood(words: str, score: float, *, denied: bool) -> float:
    """Ours: a word five letters long or more, nearly the same, is taken for the known one."""
    if denied:
        return 0.1
    if score >= _CLOSE and len(words) >= _SHORTEST_CLOSE:
        return 0.92
    return round(score / 100 * (0.8 if score >= 80 else 0.4), 2)
