"""Facts to JSON and back; old versions read for ever."""

from typing import Any

import msgspec
import pytest
from hypothesis import given

from mancary.husbandry import codec
from mancary.husbandry.codec import UnknownKind, decode, encode
from mancary.husbandry.facts import KINDS, BoxDescribed, Counted, Fact, Noted, SeenInBox
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.telling import told

from .strategies import facts


@given(facts)
def test_a_fact_comes_back_as_it_was(fact: Fact) -> None:
    assert decode(fact.kind, fact.version, encode(fact)) == fact


@given(facts)
def test_a_fact_can_be_told_and_has_subjects(fact: Fact) -> None:
    assert told(fact)
    assert all(":" in subject for subject in fact.subjects())
    assert fact.subjects()


def test_every_kind_is_named_once_and_in_the_past() -> None:
    assert len({fact.__name__ for fact in KINDS.values()}) == len(KINDS)
    for kind, fact in KINDS.items():
        assert fact.kind == kind
        assert fact.version >= 1


@pytest.mark.parametrize(
    ("fact", "field"),
    [
        (SeenInBox(box="A01", word="sparkles"), "word"),  # type: ignore[arg-type]
        (SeenInBox(box="", word="mould"), "box"),
        (Counted(box="A01", low=-1), "low"),
        (Counted(box="A01", low=1, share=1.5), "share"),
    ],
)
def test_a_fact_that_does_not_fit_is_refused_by_field(fact: Fact, field: str) -> None:
    with pytest.raises(Refusal, match=rf"^{field}: "):
        encode(fact)


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_a_number_without_an_end_is_refused(number: float) -> None:
    with pytest.raises(Refusal):
        encode(BoxDescribed(box="A01", litres=number))


def test_broken_letters_are_refused() -> None:
    with pytest.raises(Refusal, match="letters"):
        encode(Noted(what="box", code="A01", text="caf\udce9"))


def test_a_kind_from_a_newer_program_is_said_so() -> None:
    with pytest.raises(UnknownKind, match="newer"):
        decode("sung_to", 1, b"{}")
    with pytest.raises(UnknownKind, match="newer"):
        decode("seen", SeenInBox.version + 1, b'{"box":"A01","word":"mould"}')


def test_an_old_version_is_lifted_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    class SeenTwice(Fact, frozen=True, kw_only=True):
        kind = "seen_twice"
        version = 3
        box: str
        times: int

    def count_it(body: dict[str, Any]) -> dict[str, Any]:
        return {**body, "often": 2}

    def rename(body: dict[str, Any]) -> dict[str, Any]:
        return {"box": body["box"], "times": body["often"]}

    steps = {("seen_twice", 1): count_it, ("seen_twice", 2): rename}
    monkeypatch.setitem(KINDS, "seen_twice", SeenTwice)
    monkeypatch.setitem(codec._DECODERS, "seen_twice", msgspec.json.Decoder(SeenTwice))
    expected = SeenTwice(box="A01", times=2)
    assert decode("seen_twice", 1, b'{"box":"A01"}', steps) == expected
    assert decode("seen_twice", 2, b'{"box":"A01","often":2}', steps) == expected
    assert decode("seen_twice", 3, b'{"box":"A01","times":2}', steps) == expected
    with pytest.raises(KeyError):
        decode("seen_twice", 1, b'{"box":"A01"}', {})
