"""How a box was built and stood in the days of its weighings, and what that does to its loss."""

from dataclasses import replace
from datetime import UTC, date

import pytest

from mancary.husbandry.facts import BoxDescribed, Fact, Shelved, Vent, Withdrawn
from mancary.husbandry.water_loss import loss_of, stretches_of
from mancary.husbandry.water_past import Era, era_between, eras_of

from .water_story import entry, ledger, told, water, weighed

UNTIL = date(2027, 1, 1)


def vents(count: int) -> tuple[Vent, ...]:
    return (Vent(count=count, size_mm=3, place="lid"),)


def eras(*facts: tuple[float, Fact]) -> tuple[Era, ...]:
    return eras_of(told(*facts), "A01", UTC, until=UNTIL)


def test_what_is_told_for_the_first_time_was_so_before() -> None:
    (one,) = eras(
        (0, BoxDescribed(box="A01", litres=3)),
        (5, BoxDescribed(box="A01", vents=vents(24))),
        (9, Shelved(box="A01", shelf="S1")),
        (10, Shelved(box="A01", shelf="S1", position=3)),
        (11, BoxDescribed(box="A01", note="by the window", make="Clear box")),
    )
    assert one.box.vents == vents(24)
    assert (one.box.litres, one.box.shelf) == (3, "S1")


@pytest.mark.parametrize(
    "change",
    [
        BoxDescribed(box="A01", vents=vents(120)),
        BoxDescribed(box="A01", litter_cm=4),
        BoxDescribed(box="A01", damp_share=0.7),
        BoxDescribed(box="A01", warmer_c=3),
        BoxDescribed(box="A01", vents_as_written="a few slits"),
        Shelved(box="A01", shelf="S2"),
    ],
)
def test_what_the_model_reads_begins_an_era_and_nothing_else_does(change: Fact) -> None:
    first = BoxDescribed(
        box="A01", litres=3, vents=vents(20), litter_cm=2, damp_share=0.5, warmer_c=1
    )
    found = eras((0, first), (0, Shelved(box="A01", shelf="S1")), (20, change))
    assert [one.since for one in found[1:]] == [date(2026, 9, 21)]
    assert era_between(found, date(2026, 9, 2), date(2026, 9, 21)) is found[0]
    assert era_between(found, date(2026, 9, 21), date(2026, 9, 30)) is found[1]
    assert era_between(found, date(2026, 9, 20), date(2026, 9, 22)) is None


def test_a_withdrawn_description_changed_nothing() -> None:
    wrong = entry(2, 20, BoxDescribed(box="A01", vents=vents(120)))
    gone = entry(3, 21, Withdrawn(mistaken=wrong.id, touches=("box:A01",)))
    first = entry(1, 0, BoxDescribed(box="A01", vents=vents(20)))
    assert len(eras_of([first, wrong, gone], "A01", UTC, until=UNTIL)) == 1
    assert len(eras_of([first, wrong], "A01", UTC, until=UNTIL)) == 2


WEIGHED = told(
    (0, weighed(1000)), (7, weighed(993)), (14, weighed(986)), (14.1, weighed(986)),
    (21, weighed(958)), (28, weighed(930)),
)  # fmt: skip
"""One gram a day, and from the fourteenth day on four."""


def test_each_stretch_is_brought_to_todays_vents_by_the_model_of_its_own_days() -> None:
    plain = ledger(WEIGHED)
    paced = replace(plain, paces=(0.25, 0.25, None, 1.0, 1.0))
    found, mixed = loss_of(paced), loss_of(plain)
    assert found is not None
    assert mixed is not None
    assert found.rate == pytest.approx(4.0, rel=0.03)
    assert mixed.rate < 3  # without the model of its own days the old loss drags it down
    assert found.rate_sd < mixed.rate_sd


def test_days_that_cannot_be_compared_do_not_teach() -> None:
    found = loss_of(replace(ledger(WEIGHED), paces=(None, None, None, 1.0, 1.0)))
    assert found is not None
    assert found.days == pytest.approx(13.9)
    assert found.since == date(2026, 9, 15)
    assert loss_of(replace(ledger(WEIGHED), paces=(None,) * 5)) is None
    assert len(stretches_of(ledger(WEIGHED))) == 5


def test_the_basis_names_the_days_of_the_weighings() -> None:
    found = water(WEIGHED[:3], 20)
    assert any("from 2026-09-01 to 2026-09-15" in one for one in found.basis)
