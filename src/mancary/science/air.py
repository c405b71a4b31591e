"""Moist air: saturation, dew point, vapour density, deficit, humidity ratio, diffusivity.

Temperatures in degrees Celsius, relative humidities as fractions 0..1 over liquid water,
pressures in pascals. Plain floats or arrays, broadcast together; floats in, a float out. The
published check values and how each was seen are in ``docs/science/climate.md``.
"""

import numpy as np
from numpy.typing import NDArray

from mancary.science.validity import Amount, Floats, plain, within

STANDARD_PRESSURE_PA = 101325.0
"""The standard atmosphere, Pa (exact by definition)."""

ZERO_C_K = 273.15
"""0 °C in kelvin (exact by definition)."""

VAPOUR_GAS_CONSTANT = 461.523
"""J/(kg K): 8.314462 J/(mol K) over 18.015268 g/mol (from memory)."""

DRY_AIR_GAS_CONSTANT = 287.042
"""J/(kg K): ASHRAE Handbook of Fundamentals 2017, chapter 1 (from memory)."""

MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air: ASHRAE 2017, chapter 1 (from memory)."""

TRIPLE_POINT_C = 0.01
"""Above it water is liquid, below it ice, °C (from memory)."""

SATURATION_C = (-100.0, 200.0)
"""°C: what ASHRAE 2017 gives for equations 5 and 6 together."""

AIR_C = (-20.0, 60.0)
"""°C: where the ideal gas stays within half a percent; ours."""

PRESSURE_PA = (50_000.0, 110_000.0)
"""Pa: from 5500 m above the sea to a strong high at the coast; ours."""

DEW_POINT_RH = (0.001, 1.0)
"""Drier air has a dew point too low for the sums; ours."""

_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)


def _coefficients(ice: NDArray[np.bool_]) -> list[Floats]:
    return [np.where(ice, *pair) for pair in zip(_ICE, _WATER, strict=True)]


def _log_saturation(temp_k: Floats, c: list[Floats]) -> Floats:
    """Logarithm of Pa: ASHRAE's terms over T, in powers of T, and in ln T."""
    powers = c[1] + temp_k * (c[2] + temp_k * (c[3] + temp_k * (c[4] + temp_k * c[5])))
    return np.asarray(c[0] / temp_k + powers + c[6] * np.log(temp_k))


def _log_saturation_slope(temp_k: Floats, c: list[Floats]) -> Floats:
    """Its derivative by T, 1/K."""
    powers = c[2] + temp_k * (2 * c[3] + temp_k * (3 * c[4] + temp_k * 4 * c[5]))
    return np.asarray(-c[0] / temp_k**2 + powers + c[6] / temp_k)


def _saturation(temp_c: Amount) -> Floats:
    given = np.asarray(temp_c, dtype=float)
    ice = given <= TRIPLE_POINT_C
    return np.exp(_log_saturation(given + ZERO_C_K, _coefficients(ice)))


def saturation_pressure_pa(*, temp_c: Amount) -> Amount:
    """Vapour pressure of saturated air, Pa: over ice up to 0.01 °C, over liquid water above.

    ASHRAE Handbook of Fundamentals 2017, chapter 1, equations 5 (ice) and 6 (water), seen second-
    hand in code. Valid -100..200 °C. The handbook states 300 ppm; against real-gas references it
    is 0.03 % low at 10-26 °C (computed). The pull of the air on vapour (+0.45 %) is left out.

    Raises:
        OutsideValidity: outside that range.
    """
    return plain(_saturation(within("temp_c", temp_c, *SATURATION_C)))


def dew_point_c(*, temp_c: Amount, rh: Amount) -> Amount:
    """The temperature, °C, at which air of this vapour pressure is saturated; never above temp_c.

    Newton's method on the logarithm of equations 5 and 6, so below 0.01 °C it is the frost point.
    Valid -20..60 °C and 0.001..1 of saturation. Exact against ``saturation_pressure_pa`` to 1e-9 K;
    7.794 °C at 22 °C and 40 %, where a real-gas reference has 7.797 (computed).

    Raises:
        OutsideValidity: outside those ranges.
    """
    air_c = within("temp_c", temp_c, *AIR_C)
    vapour_pa = within("rh", rh, *DEW_POINT_RH) * _saturation(air_c)
    c = _coefficients(vapour_pa <= _saturation(TRIPLE_POINT_C))
    dew_k = np.broadcast_to(air_c + ZERO_C_K, vapour_pa.shape)
    for _ in range(12):
        miss = _log_saturation(dew_k, c) - np.log(vapour_pa)
        dew_k = dew_k - miss / _log_saturation_slope(dew_k, c)
    return plain(np.minimum(dew_k - ZERO_C_K, air_c))


def vapour_density_kg_m3(*, temp_c: Amount, rh: Amount) -> Amount:
    """Mass of water vapour in a cubic metre of air, kg/m3: C = RH e_s / (R_v T), an ideal gas.

    Valid -20..60 °C and 0..1 of saturation. 0.45 % low against real moist air (computed).

    Raises:
        OutsideValidity: outside those ranges.
    """
    air_c = within("temp_c", temp_c, *AIR_C)
    vapour_pa = within("rh", rh, 0.0, 1.0) * _saturation(air_c)
    return plain(vapour_pa / (VAPOUR_GAS_CONSTANT * (air_c + ZERO_C_K)))


def vapour_deficit_pa(*, temp_c: Amount, rh: Amount) -> Amount:
    """How much vapour pressure is wanting to saturation, Pa: (1 - RH) e_s.

    Valid -20..60 °C and 0..1 of saturation.

    Raises:
        OutsideValidity: outside those ranges.
    """
    missing = 1.0 - within("rh", rh, 0.0, 1.0)
    return plain(missing * _saturation(within("temp_c", temp_c, *AIR_C)))


def humidity_ratio(
    *, temp_c: Amount, rh: Amount, pressure_pa: Amount = STANDARD_PRESSURE_PA
) -> Amount:
    """Mass of vapour to mass of dry air, kg/kg: W = 0.621945 e / (p - e), ideal gases.

    ASHRAE 2017, chapter 1, from memory. Valid -20..60 °C, 0..1 of saturation, 50-110 kPa. Without
    the enhancement factor it is 0.45 % below ASHRAE's table at saturation (computed).

    Raises:
        OutsideValidity: outside those ranges.
    """
    vapour_pa = within("rh", rh, 0.0, 1.0) * _saturation(within("temp_c", temp_c, *AIR_C))
    dry_pa = within("pressure_pa", pressure_pa, *PRESSURE_PA) - vapour_pa
    return plain(MASS_RATIO * vapour_pa / dry_pa)


def density_kg_m3(
    *, temp_c: Amount, rh: Amount, pressure_pa: Amount = STANDARD_PRESSURE_PA
) -> Amount:
    """Density of moist air, kg/m3: dry air and vapour as ideal gases side by side.

    Valid -20..60 °C, 0..1 of saturation, 50-110 kPa; 0.05 % low against real moist air at 22 °C
    (computed). Damp air is lighter: 95 % against 40 % at 22 °C is as much as 1.6 K of warmth.

    Raises:
        OutsideValidity: outside those ranges.
    """
    air_c = within("temp_c", temp_c, *AIR_C)
    vapour_pa = within("rh", rh, 0.0, 1.0) * _saturation(air_c)
    dry_pa = within("pressure_pa", pressure_pa, *PRESSURE_PA) - vapour_pa
    parts = dry_pa / DRY_AIR_GAS_CONSTANT + vapour_pa / VAPOUR_GAS_CONSTANT
    return plain(parts / (air_c + ZERO_C_K))


def viscosity_pa_s(*, temp_c: Amount) -> Amount:
    """Dynamic viscosity of air, Pa s: Sutherland's 1.458e-6 T^1.5 / (T + 110.4), from memory.

    Valid -20..60 °C; 0.1 % low against a real-gas reference at 22 °C (computed).

    Raises:
        OutsideValidity: outside that range.
    """
    temp_k = within("temp_c", temp_c, *AIR_C) + ZERO_C_K
    return plain(1.458e-6 * temp_k**1.5 / (temp_k + 110.4))


def vapour_diffusivity_m2_s(
    *, temp_c: Amount, pressure_pa: Amount = STANDARD_PRESSURE_PA
) -> Amount:
    """How fast water vapour diffuses in air, m2/s: 21.78e-6 (T/273.15)^1.81 (101325/p).

    Massman 1998, Atmospheric Environment 32:1111, seen second-hand in code. Valid -20..60 °C and
    50-110 kPa (ours). The literature spreads from 2 % below to 6 % above it: take it as ±4 %.

    Raises:
        OutsideValidity: outside those ranges.
    """
    return _massman(21.78e-6, temp_c, pressure_pa)


def carbon_dioxide_diffusivity_m2_s(
    *, temp_c: Amount, pressure_pa: Amount = STANDARD_PRESSURE_PA
) -> Amount:
    """How fast carbon dioxide diffuses in air, m2/s: 13.81e-6 (T/273.15)^1.81 (101325/p).

    Massman 1998, seen second-hand in code; 0.634 of that of water vapour. Valid as that.

    Raises:
        OutsideValidity: outside -20..60 °C or 50-110 kPa.
    """
    return _massman(13.81e-6, temp_c, pressure_pa)


def _massman(at_0_c: float, temp_c: Amount, pressure_pa: Amount) -> Amount:
    temp_k = within("temp_c", temp_c, *AIR_C) + ZERO_C_K
    share = STANDARD_PRESSURE_PA / within("pressure_pa", pressure_pa, *PRESSURE_PA)
    return plain(at_0_c * (temp_k / ZERO_C_K) ** 1.81 * share)
