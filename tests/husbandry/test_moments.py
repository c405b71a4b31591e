"""Moments known to the year, the month, the day or the instant."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.husbandry.moments import (
    checked,
    first_day,
    instant,
    is_exact,
    last_day,
    on_day,
    order_key,
    read_instant,
)
from mancary.husbandry.refusal import Refusal

STOCKHOLM = ZoneInfo("Europe/Stockholm")
NOW = datetime(2026, 11, 1, 12, tzinfo=UTC)


@given(st.datetimes(datetime(1970, 1, 1), datetime(2200, 1, 1), timezones=st.just(UTC)))
def test_an_instant_comes_back_to_the_millisecond(at: datetime) -> None:
    told = instant(at)
    assert is_exact(told)
    assert timedelta(0) <= at - read_instant(told) < timedelta(milliseconds=1)


def test_an_instant_without_a_zone_is_a_bug() -> None:
    with pytest.raises(ValueError, match="zone"):
        instant(datetime(2026, 1, 1))


@pytest.mark.parametrize(
    ("moment", "first", "last"),
    [
        ("2024", date(2024, 1, 1), date(2024, 12, 31)),
        ("2024-02", date(2024, 2, 1), date(2024, 2, 29)),
        ("2023-02", date(2023, 2, 1), date(2023, 2, 28)),
        ("2026-03-01", date(2026, 3, 1), date(2026, 3, 1)),
        # half past eleven in the evening UTC is the next day in Stockholm
        ("2026-03-01T23:30:00.000Z", date(2026, 3, 2), date(2026, 3, 2)),
    ],
)
def test_a_moment_says_no_more_than_it_knows(moment: str, first: date, last: date) -> None:
    assert first_day(moment, STOCKHOLM) == first
    assert last_day(moment, STOCKHOLM) == last


@given(
    st.datetimes(datetime(2020, 1, 1), datetime(2027, 1, 1), timezones=st.just(UTC)),
    st.datetimes(datetime(2020, 1, 1), datetime(2027, 1, 1), timezones=st.just(UTC)),
    st.sampled_from(
        ["Europe/Stockholm", "America/New_York", "Asia/Kolkata", "Australia/Lord_Howe"]
    ),
)
def test_instants_go_by_the_clock_in_every_zone_and_season(
    one: datetime, other: datetime, zone: str
) -> None:
    """The hour that comes twice in autumn must not turn two facts round."""
    keys = [order_key(instant(at), ZoneInfo(zone)) for at in (one, other)]
    moments = [instant(at) for at in (one, other)]
    assert (keys[0] < keys[1]) == (moments[0] < moments[1])


def test_the_hour_that_comes_twice_does_not_turn_facts_round() -> None:
    first, second = "2026-10-25T00:50:00.000Z", "2026-10-25T01:10:00.000Z"  # 02:50, then 02:10
    assert order_key(first, STOCKHOLM) < order_key(second, STOCKHOLM)


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)), st.integers(0, 86_399_999))
def test_a_bare_day_told_later_stands_at_the_end_of_that_day(day: date, ms: int) -> None:
    midnight = datetime(day.year, day.month, day.day, tzinfo=STOCKHOLM)
    at = instant(midnight.astimezone(UTC) + timedelta(milliseconds=ms))
    if first_day(at, STOCKHOLM) != day:  # the short day when clocks go forward
        return
    told_later = order_key(on_day(day), STOCKHOLM, typed="2150-01-01T00:00:00.000Z")
    next_midnight = instant((midnight + timedelta(days=1, hours=2)).astimezone(UTC))
    assert order_key(at, STOCKHOLM) < told_later
    assert told_later < order_key(on_day(day + timedelta(days=1)), STOCKHOLM)
    assert told_later < order_key(next_midnight, STOCKHOLM)


def test_a_bare_day_told_that_day_stands_where_it_was_told() -> None:
    told = order_key("2026-03-01", STOCKHOLM, typed="2026-03-01T12:00:00.000Z")
    assert order_key("2026-03-01T11:59:00.000Z", STOCKHOLM) < told
    assert told < order_key("2026-03-01T12:01:00.000Z", STOCKHOLM)


def test_a_month_goes_before_its_days() -> None:
    assert order_key("2026-03", STOCKHOLM) < order_key("2026-03-01T00:00:00.000Z", STOCKHOLM)


@pytest.mark.parametrize("wrong", ["yesterday", "2026-13-01", "01.02.2026", "2026-3-1", ""])
def test_what_is_no_date_is_refused_in_a_sentence(wrong: str) -> None:
    with pytest.raises(Refusal, match="expected one like"):
        checked(wrong, now=NOW, zone=STOCKHOLM)


def test_a_day_that_never_was_is_refused() -> None:
    with pytest.raises(Refusal, match="calendar"):
        checked("2025-02-30", now=NOW, zone=STOCKHOLM)


def test_the_future_is_refused_and_today_is_not() -> None:
    assert checked("2026-11-01", now=NOW, zone=STOCKHOLM) == "2026-11-01"
    with pytest.raises(Refusal, match="future"):
        checked("2026-11-03", now=NOW, zone=STOCKHOLM)
