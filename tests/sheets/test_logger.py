"""Files of loggers in many layouts, invented for the bug room of the Fernhollow Field Centre."""

import csv
import io
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mancary.husbandry.refusal import Refusal
from mancary.sheets.logger import Log, read_logger
from mancary.sheets.logger_unsaid import Unsaid
from tests.sheets.logger_layouts import LAYOUTS, ZONE, Reading

TODAY = date(2026, 11, 25)


def read(text: str | bytes, **said: object) -> Log:
    data = text.encode() if isinstance(text, str) else text
    return read_logger(data, zone=ZONE, today=TODAY, **said)  # type: ignore[arg-type]


def shown(log: Log) -> list[tuple[str, float, float | None]]:
    return [
        (
            f"{row.at.astimezone(ZONE):%m-%d %H:%M}",
            round(row.temp_c, 3),
            None if row.rh is None else round(row.rh, 4),
        )
        for row in log.rows
    ]


@st.composite
def series(draw: st.DrawFn) -> list[Reading]:
    """Readings at an even step with holes in it; every figure differs from the one before."""
    start = datetime(2026, 1, 3, tzinfo=UTC) + timedelta(minutes=draw(st.integers(0, 400_000)))
    step = draw(st.sampled_from([1, 5, 10, 15, 30, 60]))
    count = draw(st.integers(3, 40))
    skipped = draw(st.sets(st.integers(1, count - 1), max_size=max(0, count - 3)))
    kept = [n for n in range(count) if n not in skipped]
    temps = draw(st.lists(st.integers(-400, 700), min_size=len(kept), max_size=len(kept)))
    damps = draw(st.lists(st.integers(0, 1000), min_size=len(kept), max_size=len(kept)))
    return [
        (start + timedelta(minutes=n * step), t / 10, rh / 10)
        for n, t, rh in zip(kept, temps, damps, strict=True)
    ]


def near_a_change(told: Sequence[Reading]) -> bool:
    """In the hour told twice a hole in the log hides which of the two it was."""
    return len({at.astimezone(ZONE).utcoffset() for at, _, _ in told}) > 1


@pytest.mark.parametrize("name", LAYOUTS)
@given(told=series())
@settings(max_examples=25, deadline=None)
def test_any_series_in_any_layout_is_read_back(name: str, told: list[Reading]) -> None:
    layout = LAYOUTS[name]
    if near_a_change(told):
        return
    shares = name == "humidity as a share"
    said = dict(layout.said)
    if name in ("day first with slashes", "named months, commas in quotes"):
        said["unit"] = "c"  # neither names one
    if not shares and max(rh for _, _, rh in told) <= 1:
        return  # such a column cannot tell shares from per cent
    log = read(layout.written(told), **said)
    assert log.faults == ()
    assert [row.at for row in log.rows] == [at for at, _, _ in told]
    for row, (_, temp_c, percent) in zip(log.rows, told, strict=True):
        assert row.temp_c == pytest.approx(temp_c, abs=1e-3 if layout.fahrenheit else 1e-9)
        assert row.rh == pytest.approx(percent / 100, abs=1e-9)


TEN_MINUTES = "Time,Temp °C,RH %\n" + "".join(
    f"2026-03-01 10:{m:02},2{m // 10}.5,5{m // 10}\n" for m in range(0, 60, 10)
)


def test_a_fault_names_line_column_and_what_was_expected() -> None:
    log = read(
        "Time,Temp °C,RH %\n2026-03-01 10:00,-999,50\n2026-03-01 10:10,Err,50\n"
        "2026-03-01 10:20,--,\n2026-03-01 10:30,21.5,\n2026-03-01 10:40,21.5,101\n"
        "2026-13-01 10:50,20,50\n2026-03-01 25:00,20,50\n2026-12-24 10:00,20,50\nend of log\n"
        "2026-03-01 10:50,20,50\n"
    )
    assert shown(log) == [
        ("03-01 10:30", 21.5, None), ("03-01 10:40", 21.5, None), ("03-01 10:50", 20, 0.5),
    ]  # fmt: skip
    told = {(one.row, one.column): one.why for one in log.faults}
    assert "expected -40 to 70 °C" in told[2, "Temp °C"]
    assert "expected degrees" in told[3, "Temp °C"]
    assert "expected degrees" in told[4, "Temp °C"]
    assert "expected a humidity" in told[4, "RH %"]
    assert "expected a humidity" in told[5, "RH %"]
    assert "expected 0 to 100 %" in told[6, "RH %"]
    assert "expected a date" in told[7, "Time"]
    assert "expected a day and an hour" in told[8, "Time"]
    assert "lies ahead" in told[9, "Time"]
    assert "expected a day and an hour" in told[10, "Time"]
    assert len(log.faults) == 10
    assert [one.value for one in log.faults if one.row == 3] == ["Err"]


def test_lines_told_twice_are_counted_and_one_that_differs_is_a_fault() -> None:
    log = read(TEN_MINUTES + "2026-03-01 10:50,25.5,55\n2026-03-01 10:10,9,9\n")
    assert len(log.rows) == 6
    assert log.repeated == 1
    assert [(one.row, one.why[:6]) for one in log.faults] == [(9, "line 3")]


def test_the_newest_first_is_read_as_well() -> None:
    head, *lines = TEN_MINUTES.splitlines()
    turned = "\n".join([head, *reversed(lines)])
    assert shown(read(turned)) == shown(read(TEN_MINUTES))


def clocks_back(minutes: int) -> list[Reading]:
    start = datetime(2026, 10, 24, 22, 30, tzinfo=UTC)
    return [
        (start + timedelta(minutes=minutes * n), 15 + n / 10, 50.0)
        for n in range(240 // minutes + 1)
    ]


@pytest.mark.parametrize("minutes", [10, 15, 20, 30, 60])
def test_the_hour_that_comes_twice_is_told_apart(minutes: int) -> None:
    told = clocks_back(minutes)
    log = read(LAYOUTS["iso, one column"].written(told))
    assert [row.at for row in log.rows] == [at for at, _, _ in told]
    assert log.faults == ()
    turned = LAYOUTS["iso, one column"].written(told).decode().strip().split("\r\n")
    back = read("\n".join([turned[0], *reversed(turned[1:])]))
    assert [row.at for row in back.rows] == [at for at, _, _ in told]


def test_read_without_a_change_of_clocks_that_hour_would_be_lost() -> None:
    told = clocks_back(10)
    data = LAYOUTS["iso, one column"].written(told)
    log = read_logger(data, zone=UTC, today=TODAY)
    assert len(log.rows) < len(told)
    assert log.faults


def test_an_hour_the_clocks_jumped_over_is_a_fault() -> None:
    log = read("Time,Temp °C\n2026-03-29 01:50,20\n2026-03-29 02:10,20\n2026-03-29 03:00,20\n")
    assert [row.at.minute for row in log.rows] == [50, 0]
    assert "went forward" in log.faults[0].why


@pytest.mark.parametrize(
    ("days", "march"),
    [
        (("13/03/2026", "14/03/2026"), True),
        (("03/13/2026", "03/14/2026"), True),
        (("01/03/2026", "02/03/2026", "03/03/2026"), True),
        (("03/01/2026", "03/02/2026", "03/03/2026"), True),
        (("12/03/2026",), True),
        (("01.03.2026",), True),
    ],
)
def test_the_whole_column_decides_day_or_month_first(days: tuple[str, ...], *, march: bool) -> None:
    text = "Time,Temp °C\n" + "".join(f"{day} 10:00,20\n{day} 22:00,20\n" for day in days)
    assert {row.at.month == 3 for row in read(text).rows} == {march}


def test_an_order_that_nothing_tells_is_asked_for() -> None:
    text = "Time,Temp °C\n03/04/2026 10:00,20\n03/04/2026 10:10,20\n"
    with pytest.raises(Unsaid, match=r"the day or the month first"):
        read(text)
    assert {row.at.month for row in read(text, day_first=True).rows} == {4}
    assert {row.at.month for row in read(text, day_first=False).rows} == {3}
    both = "Time,Temp °C\n13/04/2026 10:00,20\n04/13/2026 10:10,20\n03/04/2026 10:00,20\n"
    with pytest.raises(Unsaid, match=r"the day or the month first"):
        read(both)
    log = read("Time,Temp °C\n03/13/2026 10:00,20\n03/14/2026 10:00,21\n", day_first=True)
    assert len(log.rows) == 2  # a part above 12 is a day, whatever was said


def test_the_dew_point_is_never_taken_for_the_temperature() -> None:
    rows = "2026-03-01 10:00,9.5,21.5,55\n"
    for dew in ("Dew point (°C)", "DewPt temp C", "Taupunkt [°C]", "Wet bulb temperature"):
        log = read(f"Time,{dew},Temperature (°C),RH (%)\n{rows}")
        assert shown(log) == [("03-01 10:00", 21.5, 0.55)]


def test_two_temperatures_are_asked_about_by_name() -> None:
    text = "Time,Probe temp °C,Room temp °C,Probe RH %,Room RH %\n2026-03-01 10:00,1,2,3,4\n"
    with pytest.raises(Refusal, match=r"'Probe temp °C', 'Room temp °C'"):
        read(text)
    assert shown(read(text, temperature="room temp")) == [("03-01 10:00", 2, 0.04)]
    assert shown(read(text, temperature="2")) == [("03-01 10:00", 1, 0.03)]
    assert shown(read(text, temperature="2", humidity="none")) == [("03-01 10:00", 1, None)]
    assert shown(read(text, temperature="2", humidity="Room RH %")) == [("03-01 10:00", 1, 0.04)]
    with pytest.raises(Refusal, match=r"No one column is called 'cellar'"):
        read(text, temperature="cellar")
    lone = "Time,Temp °C,RH 1,RH 2\n2026-03-01 10:00,1,3,4\n"
    with pytest.raises(Refusal, match=r"may be the humidity: 'RH 1', 'RH 2'"):
        read(lone)


def test_of_one_sensor_in_two_units_celsius_is_read() -> None:
    log = read("Time,Temp (°F),Temp (°C)\n2026-03-01 10:00,68,20\n")
    assert shown(log) == [("03-01 10:00", 20, None)]
    assert (log.temperature, log.humidity) == ("Temp (°C)", "")


def test_a_unit_not_told_is_assumed_and_said_or_asked_for() -> None:
    log = read("Time,Temp\n2026-03-01 10:00,20\n")
    assert "°C, assumed" in log.notes[0]
    warm = "Time,Temp\n2026-03-01 10:00,68\n"
    with pytest.raises(Refusal, match=r"does not say °C or °F"):
        read(warm)
    assert shown(read(warm, unit="f"))[0][1] == 20
    assert shown(read("Temperature unit: °F\n" + warm))[0][1] == 20


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "empty"),
        (b"a,b\n1,2\n", "No line of this file"),
        (b"Time,RH\n2026-03-01 10:00,55\n", "No heading tells"),
        (b"Date,Temp C\n2026-03-01,20\n", "tells day and hour"),
        (b"Time,Temp\n2026-03-01 10:00,20,5\n2026-03-01 10:10,20,6\n", "save it with semicolons"),
        (bytes(range(1, 9)) * 50, "not text"),
        (b"x" * 20_000_001, "larger than"),
    ],
)
def test_what_is_no_log_is_refused_in_a_sentence(data: bytes, why: str) -> None:
    with pytest.raises(Refusal, match=why):
        read(data)


@given(st.binary(max_size=300) | st.text(max_size=300).map(str.encode))
@settings(max_examples=150, deadline=None)
def test_whatever_comes_is_read_or_refused(data: bytes) -> None:
    for text in (data, b"Time,Temp C,RH\n2026-03-01 10:00,20,50\n" + data):
        log = read_or_none(text)
        if log is not None:
            assert all(-40 <= row.temp_c <= 70 for row in log.rows)
            assert all(row.rh is None or 0 <= row.rh <= 1 for row in log.rows)


def read_or_none(data: bytes) -> Log | None:
    with suppress(Refusal):
        return read(data)
    return None


def test_a_quoted_table_of_the_csv_module_is_read() -> None:
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL)
    writer.writerows([["Time", "Temp °C", "RH %"], ["2026-03-01T10:00Z", "21,5", "55,0"]])
    assert shown(read(out.getvalue())) == [("03-01 11:00", 21.5, 0.55)]
