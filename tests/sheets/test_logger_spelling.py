"""Offsets of a clock, humidities as shares and a workbook's midnight, in invented loggers' files."""

import io
from datetime import UTC, datetime, timedelta

import pytest
import xlsxwriter  # type: ignore[import-untyped]

from mancary.husbandry.refusal import Refusal
from tests.sheets.logger_layouts import ZONE
from tests.sheets.test_logger import read


@pytest.mark.parametrize(
    ("zone", "minutes"),
    [
        ("UTC+1:00", 60), ("UTC+2:00", 120), ("GMT+5:30", 330), ("UTC-3:30", -210), ("GMT+0100", 60),
        ("UTC+10", 600), ("GMT-5", -300), ("UTC+530", 330), ("UTC \u22123:30", -210), ("UTC", 0),
    ],
)  # fmt: skip
def test_an_offset_is_parted_at_its_colon(zone: str, minutes: int) -> None:
    at = datetime(2026, 3, 1, 12, 0, tzinfo=UTC) - timedelta(minutes=minutes)
    assert read(f"Date Time ({zone}),Temp °C\n2026-03-01 12:00,20\n").rows[0].at == at
    if "\u2212" not in zone and zone != "UTC+530":
        assert read(f"Time,Temp °C\n2026-03-01 12:00 {zone},20\n").rows[0].at == at


@pytest.mark.parametrize(
    "zone", ["GMT+99", "UTC+15:00", "UTC+5.5", "UTC+1:75", "GMT+1h", "UTC\u00b11"]
)
def test_an_offset_that_cannot_be_read_is_refused(zone: str) -> None:
    with pytest.raises(Refusal, match="no offset of a clock"):
        read(f"Date Time ({zone}),Temp °C\n2026-03-01 12:00,20\n")


def test_an_offset_that_no_place_has_is_a_fault_of_its_line() -> None:
    log = read("Time,Temp °C\n2026-03-01 12:00 UTC+99,20\n2026-03-01 12:00 UTC+1:00,20\n")
    assert [(one.row, "no offset" in one.why) for one in log.faults] == [(2, True)]
    assert [row.at.hour for row in log.rows] == [11]


def test_shares_under_a_heading_of_per_cent_are_read_as_shares_and_it_is_said() -> None:
    log = read("Time,Temp °C,RH %\n2026-03-01 10:00,20,0.45\n2026-03-01 11:00,20,0.5\n")
    assert [row.rh for row in log.rows] == [0.45, 0.5]
    assert "though it is headed with %" in log.notes[0]
    whole = read("Time,Temp °C,RH %\n2026-03-01 10:00,20,0.45\n2026-03-01 11:00,20,45\n")
    assert [row.rh for row in whole.rows] == pytest.approx([0.0045, 0.45])
    assert whole.notes == ()


def test_one_figure_above_1_anywhere_makes_them_per_cent() -> None:
    start = datetime(2026, 1, 3)
    lines = [f"{start + timedelta(minutes=n)},20,{50 if n == 701 else 0.5}" for n in range(1000)]
    assert read("\n".join(["Time,Temp °C,RH %", *lines])).rows[0].rh == 0.005


def workbook(*rows: tuple[object, ...], percent: bool) -> bytes:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out) as made:
        page = made.add_worksheet()
        moment = made.add_format({"num_format": "yyyy-mm-dd hh:mm"})
        share = made.add_format({"num_format": "0%"} if percent else {})
        page.write_row(0, 0, ("Time", "Temp °C", "RH %"))
        for at, (when, temp, rh) in enumerate(rows, 1):
            page.write_datetime(at, 0, when, moment)
            page.write_number(at, 1, temp)
            page.write_number(at, 2, rh, share)
    return out.getvalue()


def test_a_workbooks_midnight_and_its_cells_in_per_cent_are_read() -> None:
    hours = [datetime(2026, 2, 28, 23), datetime(2026, 3, 1), datetime(2026, 3, 1, 1)]
    log = read(workbook(*((at, 20.5, 0.45) for at in hours), percent=True))
    assert log.faults == ()
    assert [f"{row.at.astimezone(ZONE):%m-%d %H:%M}" for row in log.rows] == [
        "02-28 23:00", "03-01 00:00", "03-01 01:00",
    ]  # fmt: skip
    assert [row.rh for row in log.rows] == [0.45] * 3


def test_a_bare_day_in_a_text_stays_a_fault() -> None:
    log = read("Time,Temp °C\n2026-03-01 10:00,20\n2026-03-02,20\n2026-03-02 10:00,20\n")
    assert [one.row for one in log.faults] == [3]
