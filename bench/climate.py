"""The water of ten thousand boxes in one call, against scalar functions and against bare numpy."""

import importlib
import importlib.util
from collections.abc import Iterator
from dataclasses import fields
from math import exp, pi, sqrt
from types import ModuleType
from typing import Any

import numpy as np

from bench.result import Result, against, median_pair
from mancary.science.box import days_until
from mancary.science.sizing import Drilling, drilled
from mancary.science.validity import Amount

BOXES = 10_000
TIMES = 15
REPEATS = 100
RESERVE_G = (60.0, 20.0, 40.0)
_NAME = f"air, loss and days of {BOXES:,} boxes in one call"


def room(seed: int = 11) -> tuple[np.ndarray[Any, Any], Drilling]:
    """Made-up boxes, for the time it takes and nothing else: counts of holes, and the rest."""
    chance = np.random.default_rng(seed)

    def some(low: float, high: float) -> np.ndarray[Any, Any]:
        return chance.uniform(low, high, BOXES)

    temp = some(17, 27)
    drilling = Drilling(
        temp_c=temp,
        rh_outside=some(0.25, 0.6),
        length_m=some(0.15, 0.5),
        width_m=some(0.1, 0.35),
        headspace_m=some(0.04, 0.15),
        damp_share=some(0.25, 0.75),
        diameter_m=some(0.001, 0.006),
        wall_m=some(0.001, 0.003),
        spacing_m=some(0.02, 0.03),
        litter_m=some(0.0, 0.03),
        outside_temp_c=temp - 1.0,
    )
    return np.floor(some(5, 60)), drilling


def water(count: Amount, drilling: Drilling) -> Amount:
    """Days a reserve lasts in each box, after its air and loss."""
    air = drilled(count=count, drilling=drilling)
    start, stop, full_wet = RESERVE_G
    return days_until(
        start_g=start,
        stop_g=stop,
        full_wet_g=full_wet,
        vents_m3_s=air.vents_m3_s,
        surface_m3_s=air.surface_m3_s,
        temp_c=drilling.temp_c,
        rh_outside=drilling.rh_outside,
        outside_temp_c=drilling.outside_temp_c,
    )


def measure() -> Iterator[Result]:
    """Both figures; the scalar one only where its library is there."""
    count, drilling = room()
    numbers = np.linspace(-5.0, 5.0, BOXES)
    ours, floors = median_pair(
        lambda: water(count, drilling),
        lambda: [np.exp(numbers) for _ in range(REPEATS)],
        times=TIMES,
    )
    floor = floors / REPEATS
    yield against(_NAME, ours * 1e3, floor * 1e3, "ms", f"numpy's exp over {BOXES:,} numbers")
    if importlib.util.find_spec("psychrolib") is None:
        yield Result(
            name=f"{_NAME}, against scalars",
            value=ours * 1e3,
            unit="ms",
            reference="psychrolib is not installed: not compared with its scalar functions",
            ratio=None,
        )
        return
    boxes = _rows(count, drilling)
    psychrolib = importlib.import_module("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    apart = max(
        abs(_scalar(psychrolib, box) / float(one) - 1)
        for box, one in zip(boxes, np.asarray(water(count, drilling)), strict=True)
    )
    # 0.03 % is how far apart published saturation pressures lie
    if apart > 1e-3:
        raise ArithmeticError(f"the two ways differ by {apart:.1e}")
    ours, scalars = median_pair(
        lambda: water(count, drilling),
        lambda: [_scalar(psychrolib, box) for box in boxes],
        times=3,
    )
    reference = "the same a box at a time through psychrolib's scalar functions"
    yield against(f"{_NAME}, against scalars", ours * 1e3, scalars * 1e3, "ms", reference)


def _rows(count: np.ndarray[Any, Any], drilling: Drilling) -> list[dict[str, float]]:
    columns = {one.name: getattr(drilling, one.name) for one in fields(drilling)}
    spread = np.broadcast_arrays(count, *columns.values())
    names = ["count", *columns]
    return [dict(zip(names, map(float, row), strict=True)) for row in zip(*spread, strict=True)]


def _scalar(psychrolib: ModuleType, box: dict[str, float]) -> float:
    """The same sums in plain Python, with psychrolib's saturation pressure."""
    kelvin = box["temp_c"] + 273.15
    full = float(psychrolib.GetSatVapPres(box["temp_c"])) / (461.523 * kelvin)
    room_c = box["outside_temp_c"]
    room_pa = float(psychrolib.GetVapPresFromRelHum(room_c, box["rh_outside"]))
    excess = full - room_pa / (461.523 * (room_c + 273.15))
    diffusivity: float = 2.178e-5 * (kelvin / 273.15) ** 1.81 * 101325.0 / box["pressure_pa"]
    radius, holes, spacing = box["diameter_m"] / 2, box["count"], box["spacing_m"]
    bend: float = 1 - exp(-4.25 * (box["wall_m"] / radius) ** 0.76)
    ends = 2 * radius * (pi / 4 + (0.82168 - pi / 4) * bend)
    one = diffusivity * pi * radius**2 / (box["wall_m"] + ends)

    def patch(number: float) -> float:
        across = 4 * spacing * sqrt(number / pi)
        return 1 / (across + number * spacing**2 / box["film_m"]) / diffusivity

    floor_m2 = box["length_m"] * box["width_m"]
    approach = box["headspace_m"] / (3 * diffusivity * floor_m2)
    all_vents = 1 / (1 / (holes * one) + patch(holes) - patch(1) / holes + approach)
    film = box["headspace_m"] / 2 / 1.4 + box["litter_m"] / 0.6
    surface = box["damp_share"] * floor_m2 * diffusivity / film
    mixing = 1.9 * diffusivity * box["width_m"] * box["headspace_m"] / (box["length_m"] / 2)
    damp = all_vents * box["holes_damp_share"]
    dry = all_vents - damp
    seen = damp + dry * mixing / (mixing + dry)
    return _days(seen, surface, excess)


def _days(vents: float, surface: float, excess: float) -> float:
    start, stop, full_wet = RESERVE_G
    shrinking = full_wet * float(np.log(full_wet / stop))
    return ((start - stop) / vents + (start - full_wet + shrinking) / surface) / (excess * 8.64e7)
