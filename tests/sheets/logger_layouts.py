"""Layouts of invented loggers of the Fernhollow Field Centre, each written by its own small rule."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from msgspec import Struct

ZONE = ZoneInfo("Europe/Stockholm")
Reading = tuple[datetime, float, float]
"""The instant in UTC, °C and per cent, both to one decimal."""


class Layout(Struct, frozen=True, kw_only=True):
    """How an invented logger writes: lines above, headings, and one line a reading."""

    above: str = ""
    heads: str
    line: Callable[[int, datetime, str, str], str]
    comma: bool = False
    fahrenheit: bool = False
    encoding: str = "utf-8"
    said: dict[str, object] = {}

    def written(self, series: Sequence[Reading]) -> bytes:
        lines = [self.line(n, at.astimezone(ZONE), *self._figures(t, rh)) for n, (at, t, rh) in enumerate(series, 1)]  # fmt: skip
        return "\r\n".join([*filter(None, (self.above, self.heads)), *lines, ""]).encode(
            self.encoding
        )

    def _figures(self, temp_c: float, percent: float) -> tuple[str, str]:
        temp = f"{temp_c * 1.8 + 32:.4f}" if self.fahrenheit else f"{temp_c:.1f}"
        told = temp, f"{percent:.1f}"
        return (told[0].replace(".", ","), told[1].replace(".", ",")) if self.comma else told


def half_day(at: datetime) -> str:
    return f"{at.hour % 12 or 12}:{at:%M:%S} {'PM' if at.hour >= 12 else 'AM'}"


LAYOUTS = {
    "iso, one column": Layout(
        heads="Timestamp,Temperature (°C),Relative humidity (%)",
        line=lambda _, at, t, rh: f"{at:%Y-%m-%d %H:%M:%S},{t},{rh}",
    ),
    "iso with an offset, humidity first": Layout(
        heads="time,humidity,temp_c",
        line=lambda _, at, t, rh: f"{at.isoformat()},{rh},{t}",
    ),
    "two columns, semicolons, decimal comma, western letters": Layout(
        above="Fernhollow Bug Room;Regal A\r\nStart;01.03.2026 10:00\r\nIntervall;10",
        heads="Nr;Datum;Uhrzeit;Temperatur °C;Luftfeuchte % rF;Taupunkt °C",
        line=lambda n, at, t, rh: f"{n};{at:%d.%m.%Y};{at:%H:%M};{t};{rh};3,1",
        comma=True,
        encoding="cp1252",
    ),
    "day first with slashes": Layout(
        heads="Date/Time;Temp;RH",
        line=lambda _, at, t, rh: f"{at:%d/%m/%Y %H:%M};{t};{rh}",
        said={"day_first": True},
    ),
    "month first, 12 hours, Fahrenheit, index": Layout(
        heads='"#","Date Time","Temp, °F","RH, %"',
        line=lambda n, at, t, rh: f'"{n}","{at:%m/%d/%y} {half_day(at)}","{t}","{rh}"',
        fahrenheit=True,
        said={"day_first": False},
    ),
    "seconds since 1970": Layout(
        heads="unix,dew point c,temperature c,humidity",
        line=lambda _, at, t, rh: f"{at.timestamp():.0f},2.5,{t},{rh}",
    ),
    "milliseconds since 1970": Layout(
        heads="epoch|rh|t [°C]",
        line=lambda _, at, t, rh: f"{at.timestamp() * 1000:.0f}|{rh}|{t}",
    ),
    "tabs, units in the cells, UTF-16": Layout(
        above="Fernhollow log\r\n",
        heads="Date\tTime\tTemp\tHum",
        line=lambda _, at, t, rh: f"{at:%Y-%m-%d}\t{at:%H:%M:%S}\t{t} °C\t{rh} %",
        encoding="utf-16",
    ),
    "units on a line of their own": Layout(
        heads="Date;Time;Channel 1 temp;Channel 1 RH\r\n;;°C;%",
        line=lambda _, at, t, rh: f"{at:%d.%m.%y};{at:%H:%M};{t};{rh}",
    ),
    "named months, commas in quotes": Layout(
        heads="Tid,Temperatur,Luftfuktighet",
        line=lambda _, at, t, rh: f'{at:%d %b %Y %H:%M},"{t}","{rh}"',
        comma=True,
    ),
    "no headings, units in the cells": Layout(
        heads="",
        line=lambda _, at, t, rh: f"{at:%Y/%m/%d %H:%M},{rh}%,{t}C",
    ),
    "a zone in the heading": Layout(
        heads="No.,Time (GMT+02:00),Temp °C,Humidity %RH",
        line=lambda n, at, t, rh: (
            f"{n},{(at.astimezone(UTC) + timedelta(hours=2)):%Y-%m-%d %H:%M},{t},{rh}"
        ),
    ),
    "sep line, two sensors of which one is named": Layout(
        above="sep=;",
        heads="Zeit;Temp A °C;RH A %;Temp B °C;RH B %",
        line=lambda _, at, t, rh: f"{at:%d.%m.%Y %H:%M};1,5;99;{t};{rh}",
        comma=True,
        said={"temperature": "Temp B °C"},
    ),
    "humidity as a share": Layout(
        heads="datetime,celsius,rh",
        line=lambda _, at, t, rh: f"{at:%Y-%m-%dT%H:%M},{t},{float(rh) / 100:.3f}",
    ),
}  # fmt: skip
