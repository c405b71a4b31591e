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


@given(st.dates(date(1990, 1, 1), date(2100, 1, 1)), st.integers(0, 86_399_999))
def test_a_bare_day_sorts_before_its_hours_and_after_the_day_before(day: date, ms: int) -> None:
    midnight = datetime(day.year, day.month, day.day, tzinfo=STOCKHOLM)
    at = instant(midnight.astimezone(UTC) + timedelta(milliseconds=ms))
    if first_day(at, STOCKHOLM) != day:  # the short day when clocks go forward
        return
    assert order_key(on_day(day), STOCKHOLM) < order_key(at, STOCKHOLM)
    assert order_key(at, STOCKHOLM) < order_key(on_day(day + timedelta(days=1)), STOCKHOLM)


@pytest.mark.parametrize("wrong", ["yesterday", "2026-13-01", "01.02.2026", "2026-3-1", ""])
def test_what_is_no_date_is_refused_in_a_sentence(wrong: str) -> None:
    with pytest.raises(Refusal, match="expected one like"):
        checked(wrong, now=NOW)


def test_a_day_that_never_was_is_refused() -> None:
    with pytest.raises(Refusal, match="calendar"):
        checked("2025-02-30", now=NOW)


def test_the_future_is_refused_and_today_is_not() -> None:
    assert checked("2026-11-01", now=NOW) == "2026-11-01"
    with pytest.raises(Refusal, match="future"):
        checked("2026-11-03", now=NOW)


@given(
    st.datetimes(datetime(2020, 1, 1), datetime(2027, 1, 1), timezones=st.just(UTC)),
    st.sampled_from(
        ["Europe/Stockholm", "America/New_York", "Asia/Kolkata", "Australia/Lord_Howe"]
    ),
)
def test_an_order_key_is_the_local_time_of_the_keeper(at: datetime, zone: str) -> None:
    local = at.astimezone(ZoneInfo(zone)).replace(tzinfo=None)
    assert order_key(instant(at), ZoneInfo(zone)) == local.isoformat(timespec="milliseconds")
