"""Dates as people write them, and the order a whole column decides."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mancary.sheets.faults import Unclear, Unreadable
from mancary.sheets.values.dates import Calendar, DateOrder, date_order, looks_like_date, read_date

TODAY = date(2026, 11, 25)


def calendar(order: str | None = None) -> Calendar:
    return Calendar(order=DateOrder(order=order, why="told"), today=TODAY)


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2025-02-03", "2025-02-03"),
        ("2025/2/3", "2025-02-03"),
        ("20250203", "2025-02-03"),
        ("03.02.2025", "2025-02-03"),
        ("3. 2. 25", "2025-02-03"),
        ("3 Feb 2025", "2025-02-03"),
        ("3rd of", None),
        ("3rd February 2025", "2025-02-03"),
        ("Feb 3, 2025", "2025-02-03"),
        ("3-Feb-25", "2025-02-03"),
        ("3 maj 2025", "2025-05-03"),
        ("3. März 2025", "2025-03-03"),
        ("3 Mrz 2025", "2025-03-03"),
        ("den 3 maj 2025", None),
        ("okt 2025", "2025-10"),
        ("Dezember 2024", "2024-12"),
        ("May 2023", "2023-05"),
        ("2023 May", "2023-05"),
        ("05/2023", "2023-05"),
        ("2023-05", "2023-05"),
        ("2023", "2023"),
        ("13/05/2023", "2023-05-13"),
        ("05/13/2023", "2023-05-13"),
        ("05/05/2023", "2023-05-05"),
        ("13/2 2025", "2025-02-13"),
        ("2026-03-01 18:05", "2026-03-01T18:05:00.000Z"),
        ("1.3.2026 18:05", "2026-03-01T18:05:00.000Z"),
    ],
)
def test_a_date_keeps_the_precision_it_was_written_with(text: str, moment: str | None) -> None:
    if moment is None:
        with pytest.raises(Unreadable, match="expected a date"):
            read_date(text, calendar())
    else:
        assert read_date(text, calendar()) == moment


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("31.02.2025", "no 31.02.2025 in the calendar; expected a date"),
        ("yesterday", "expected a date"),
        ("spring", "expected a date"),
        ("2027-01-01", "lies ahead"),
        ("Dec 2026", "lies ahead"),
        ("2026-13-01", "no month 13"),
        ("00.01.2025", "in the calendar"),
        ("1.1.1850", "from 1950"),
        ("2025-01-01 25:00", "no such day and hour"),
    ],
)
def test_what_is_no_day_that_has_been_is_refused(text: str, words: str) -> None:
    with pytest.raises(Unreadable, match=words):
        read_date(text, calendar())


def test_today_is_not_ahead_but_tomorrow_is() -> None:
    assert read_date("2026-11-25", calendar()) == "2026-11-25"
    with pytest.raises(Unreadable):
        read_date("2026-11-26", calendar())


def test_an_hour_is_read_in_the_keepers_zone() -> None:
    east = Calendar(
        order=DateOrder(order=None, why=""), today=TODAY, zone=timezone(timedelta(hours=2))
    )
    assert read_date("2026-03-01 18:05", east) == "2026-03-01T16:05:00.000Z"


def test_the_whole_column_decides_the_order() -> None:
    assert date_order(["03/02/2023", "26/05/2024"]).order == "day first"
    assert date_order(["03/02/2023", "05/26/2024"]).order == "month first"
    assert date_order(["03/02/2023", "03.02.2023"]).order == "day first"
    assert date_order(["03/02/2023", "2/3/23", "2023-05-26", "word"]).order is None
    both = date_order(["26/05/2024", "05/26/2024"])
    assert both.order is None
    assert both.why == "26/05/2024 has the day first, 05/26/2024 the month"


def test_an_undecided_date_is_asked_with_both_readings() -> None:
    with pytest.raises(Unclear) as asked:
        read_date("03/02/2023", calendar())
    assert [choice.value for choice in asked.value.choices] == ["day first", "month first"]
    assert [choice.words for choice in asked.value.choices] == [
        "day 3 of month 2",
        "day 2 of month 3",
    ]
    assert read_date("03/02/2023", calendar("day first")) == "2023-02-03"
    assert read_date("03/02/2023", calendar("month first")) == "2023-03-02"


def test_two_digits_are_this_century_up_to_69() -> None:
    assert read_date("1.1.99", calendar()) == "1999-01-01"
    assert read_date("1.1.26", calendar()) == "2026-01-01"


@given(day=st.dates(date(1950, 1, 1), TODAY), shape=st.sampled_from(["%Y-%m-%d", "%d.%m.%Y"]))
def test_each_day_of_the_calendar_is_read_back(day: date, shape: str) -> None:
    assert read_date(day.strftime(shape), calendar()) == day.isoformat()
    assert looks_like_date(day.strftime(shape))


@given(text=st.text(max_size=30))
def test_no_text_does_worse_than_be_refused_or_asked(text: str) -> None:
    try:
        moment = read_date(text, calendar())
    except (Unreadable, Unclear):
        return
    assert datetime.fromisoformat(f"{moment}-01-01"[:10]).replace(tzinfo=UTC)
