"""What a journal's words say was done or seen."""

import re
from functools import lru_cache

from msgspec import Struct

from mancary.husbandry.words import said
from mancary.sheets.faults import LEAVE_OUT, Choice, Unclear
from mancary.sheets.plain import bare_words, plain, tidy
from mancary.sheets.telling.trade_words import Telling, telling_of, tellings

NOTE = "note"
_PARTS = re.compile(r"\s*(?:[,;+&/]|\band\b|\boch\b|\bund\b)\s*")
_FILLER = frozenset(
    [
        "added",
        "add",
        "given",
        "gave",
        "give",
        "got",
        "some",
        "a",
        "an",
        "the",
        "of",
        "new",
        "fresh",
        "fed",
        "feed",
        "feeding",
        "with",
        "in",
        "put",
        "again",
        "bit",
        "more",
        "today",
        "box",
        "gav",
        "matade",
        "mat",
        "med",
        "lite",
        "ny",
        "nya",
        "fick",
        "och",
        "gefuttert",
        "gegeben",
        "futter",
        "mit",
        "etwas",
        "neue",
        "frische",
        "zugegeben",
        "tillsatt",
        "tillsatte",
        "done",
        "piece",
        "pieces",
        "slice",
        "slices",
    ]
)
_NOT = frozenset(
    [
        "no",
        "not",
        "without",
        "never",
        "inga",
        "ingen",
        "inte",
        "ej",
        "utan",
        "kein",
        "keine",
        "nicht",
        "ohne",
    ]
)
_AMOUNT_LAST = re.compile(r"(.*?[a-z)])[\s:=]+((?:ca\.?\s*|~\s*)?\d.*)")
_AMOUNT_FIRST = re.compile(r"((?:ca\.?\s*|~\s*)?\d[\d.,]*\s*(?:ml|l|g|kg|x)?)\s+([a-z].*)")
_NEAR, _CLOSE = 50, 93
_SHORTEST_CLOSE = 5
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
    """
    if found := known_telling(text):
        return Work(tellings=(found,))
    parts = [known_telling(part) for part in _PARTS.split(plain(text)) if part]
    if len(parts) > 1 and all(parts):
        return Work(tellings=tuple(part for part in parts if part))
    for shape, words_at, amount_at in ((_AMOUNT_LAST, 1, 2), (_AMOUNT_FIRST, 2, 1)):
        split = shape.fullmatch(plain(text))
        if split and (found := known_telling(split[words_at])):
            return Work(tellings=(found,), amount=split[amount_at])
    raise Unclear(
        f"{tidy(text)!r} is no word for work or sight known here",
        _choices(text),
        key=f"word:{bare_words(text)}",
    )


@lru_cache(maxsize=10_000)
def known_telling(text: str) -> Telling | None:
    """What a phrase tells once words like "added" and "some" are left aside."""
    if found := telling_of(text):
        return found
    kept = [word for word in bare_words(text).split() if word not in _FILLER]
    return telling_of(" ".join(kept)) if kept else None


def _choices(text: str) -> tuple[Choice, ...]:
    from rapidfuzz import fuzz, process

    words = bare_words(text)
    denied = not _NOT.isdisjoint(words.split())
    near: dict[str, float] = {}
    for phrase, score, _ in process.extract(
        words, tellings().keys(), scorer=fuzz.ratio, limit=12, score_cutoff=_NEAR
    ):
        told = tellings()[phrase]
        value = told.what or (
            told.word if told.kind in ("count", "weigh", "note") else said(told.word)
        )
        near.setdefault(value, _likelihood(words, score, denied=denied))
    best = list(near.items())[:_CHOICES]
    return (
        *(Choice(value=value, words=value, likelihood=score) for value, score in best),
        Choice(value=NOTE, words="keep as a note", likelihood=0.3),
        Choice(value=LEAVE_OUT, words="leave this row out", likelihood=0.05),
    )


def _likelihood(words: str, score: float, *, denied: bool) -> float:
    """Ours: a word five letters long or more, nearly the same, is taken for the known one."""
    if denied:
        return 0.1
    if score >= _CLOSE and len(words) >= _SHORTEST_CLOSE:
        return 0.92
    return round(score / 100 * (0.8 if score >= 80 else 0.4), 2)
