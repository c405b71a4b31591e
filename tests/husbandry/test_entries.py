"""Ids made where a fact is typed."""

import uuid
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.husbandry.entries import derived_id, new_id


def test_new_id_reproduces_the_example_of_the_standard() -> None:
    """RFC 9562 appendix A.6 (from memory): 22 February 2022, 14:22:22 at UTC-5."""
    at = datetime(2022, 2, 22, 14, 22, 22, tzinfo=timezone(timedelta(hours=-5)))
    chance = ((0xCC3 << 68) | 0x18C4DC0C0C07398F).to_bytes(10, "big")
    assert new_id(now=at, chance=chance) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
    # the comparison can fail: a millisecond later is another id
    assert new_id(now=at + timedelta(milliseconds=1), chance=chance)[:13] != "017f22e2-79b0"


@given(
    st.binary(min_size=10, max_size=10),
    st.datetimes(timezones=st.just(UTC), min_value=datetime(1970, 1, 2)),
)
def test_new_ids_are_uuids_of_version_7(chance: bytes, now: datetime) -> None:
    made = uuid.UUID(new_id(now=now, chance=chance))
    assert (made.version, made.variant) == (7, uuid.RFC_4122)


@given(st.text())
def test_derived_ids_are_uuids_of_version_8_and_repeat(text: str) -> None:
    made = uuid.UUID(derived_id(text))
    assert (made.version, made.variant) == (8, uuid.RFC_4122)
    assert derived_id(text) == str(made)
    assert derived_id(text + "x") != str(made)


def test_too_little_chance_is_a_bug() -> None:
    with pytest.raises(ValueError, match="ten random bytes"):
        new_id(now=datetime(2026, 1, 1, tzinfo=UTC), chance=b"few")
