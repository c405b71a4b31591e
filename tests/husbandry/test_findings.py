"""Odd things are told with the keeper's own days."""

from zoneinfo import ZoneInfo

import pytest

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import BoxRetired, Counted, Fact, Founded, ShelfRead
from mancary.husbandry.findings import entry_findings, register_findings
from mancary.husbandry.order import keyed
from mancary.husbandry.register import read_register

LATE = "2026-09-11T22:30:00.000Z"
"""Half past ten at night in UTC: the next day in Auckland, the same day in Los Angeles."""


def sentences(zone: str) -> str:
    own = ZoneInfo(zone)
    facts: list[Fact] = [
        Founded(colony="A01.1", box="A01", line="scaber"),
        Counted(box="A01", low=9, high=3),
        ShelfRead(shelf="S1", lowest_c=50, highest_c=60),
        BoxRetired(box="A01"),
    ]
    entries = [
        Entry(id=f"{n:032x}", happened=LATE, typed=LATE, fact=fact, number=n)
        for n, fact in enumerate(facts, start=1)
    ]
    register, told = read_register(entries, own), keyed(entries, own)
    found = (*register_findings(register, own), *entry_findings(told, register, own))
    return " ".join(one.sentence for one in found)


@pytest.mark.parametrize(
    ("zone", "day"), [("Pacific/Auckland", "2026-09-12"), ("America/Los_Angeles", "2026-09-11")]
)
def test_days_are_those_of_the_keepers_zone(zone: str, day: str) -> None:
    told = sentences(zone)
    assert f"Box A01, {day}: a count" in told
    assert f"Shelf S1, {day}: 50 to 60" in told
    assert f"taken out of use on {day} but still holds colony A01.1" in told
