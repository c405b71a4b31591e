"""Words that know the message they were made from: English to everybody else, copied whole."""

import copy
import pickle

import msgspec
import pytest

from mancary.husbandry.sentences import Told, capital, in_a_row, plain, tell

LEFT = tell("%(n)s of %(of)s left, 10 %%", n=3, of=tell("five"))


class Box(msgspec.Struct):
    code: str = "A01"
    litres: float = 5.5


def test_they_are_the_english_string_to_everybody_else() -> None:
    assert LEFT == "3 of five left, 10 %"
    assert {LEFT: 1}["3 of five left, 10 %"] == 1
    assert f"{LEFT}!" == "3 of five left, 10 %!"
    assert tell("10 % as it stands") == "10 % as it stands"


def test_a_place_is_a_value_or_an_attribute() -> None:
    assert tell("box %(code)s, %(litres)g L, %(n)d", Box(), n=2) == "box A01, 5.5 L, 2"
    with pytest.raises(AttributeError):
        tell("box %(place)s", Box())


def test_put_together_they_are_still_known() -> None:
    for made in (LEFT + "; x", "x; " + LEFT, in_a_row("; ", ["50 %", LEFT]), capital(LEFT)):
        assert isinstance(made, Told)
        assert LEFT in (made, *made.values.values())
    assert in_a_row("; ", ["50 %", LEFT]) == "50 %; 3 of five left, 10 %"
    assert in_a_row(tell(" and "), ["a", "b"]) == "a and b"
    assert capital(tell("hello")) == "Hello"
    assert capital("hello") == "Hello"
    assert not isinstance(in_a_row("; ", ["a", "b"]), Told)


@pytest.mark.parametrize("copied", [copy.deepcopy, lambda one: pickle.loads(pickle.dumps(one))])
def test_a_copy_knows_as_much(copied: object) -> None:
    for made in (LEFT, capital(tell("hello"))):
        again = copied(made)  # type: ignore[operator]
        assert (again, again.message, again.values) == (made, made.message, made.values)  # type: ignore[attr-defined]


def test_an_encoder_writes_the_words_and_refuses_the_rest() -> None:
    assert msgspec.json.encode([LEFT], enc_hook=plain) == b'["3 of five left, 10 %"]'
    with pytest.raises(NotImplementedError):
        msgspec.json.encode([object()], enc_hook=plain)
