"""Stretched rhythms: only as far as needed, the least harm first."""

from hypothesis import given
from hypothesis import strategies as st

from mancary.husbandry.stretching import Unit, stretch, weekly_minutes

units = st.builds(
    Unit,
    care=st.sampled_from(["mist", "protein", "wood", "algae"]),
    group=st.sampled_from(["a", "b"]),
    boxes=st.integers(1, 60),
    minutes=st.floats(0.1, 5),
    days=st.floats(2, 90),
    forgiven_days=st.floats(3, 120),
    harm=st.floats(0.01, 2),
)


@given(st.lists(units, min_size=1, max_size=8), st.floats(1, 600))
def test_it_fits_or_nothing_more_can_be_stretched(told: list[Unit], offered: float) -> None:
    found = stretch(told, offered=offered, opening_minutes=0.3)
    assert found.minutes_after <= found.minutes_before + 1e-9
    if found.minutes_before <= offered:
        assert found.units == ()
    for unit in found.units:
        assert unit.days < unit.stretched_days <= unit.days * 3 + 1e-6
    if not found.fits:
        assert len(found.units) == len(told)


def test_what_harms_less_is_stretched_first() -> None:
    mist = Unit(care="mist", group="a", boxes=40, minutes=0.3, days=6, forgiven_days=6, harm=1.0)
    wood = Unit(care="wood", group="a", boxes=40, minutes=1.0, days=60, forgiven_days=90, harm=0.05)
    now = weekly_minutes([mist, wood], opening_minutes=0.0)
    found = stretch([mist, wood], offered=now - 0.5, opening_minutes=0.0)
    assert [unit.care for unit in found.units] == ["wood"]
    assert found.units[0].weekly_harm == 0  # still within what wood forgives


def test_openings_are_counted_by_the_most_frequent_care_of_a_group() -> None:
    """Ten boxes opened once a week for 0.3 minutes, with two cares of a minute: arithmetic."""
    look = Unit(care="look", group="a", boxes=10, minutes=1, days=7, forgiven_days=8, harm=1)
    wood = Unit(care="wood", group="a", boxes=10, minutes=1, days=70, forgiven_days=90, harm=1)
    assert abs(weekly_minutes([look, wood], opening_minutes=0.3) - (10 + 1 + 3)) < 1e-9
