"""The two-zone box in time: air that is stored, a floor that dries, no steady state assumed.

Compares where its air comes to rest, and how long its water lasts, with the product's algebra.
Run: ``python -m verification.drying``.
"""

import sys

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from mancary.science.air import vapour_density_kg_m3
from mancary.science.box import BoxAir, air_and_loss, days_until
from mancary.science.vents import approach_resistance_s_m3, group_conductance_m3_s

Floats = NDArray[np.float64]

LENGTH, WIDTH, HEIGHT = 0.2, 0.125, 0.08
TEMP_C, RH_OUTSIDE = 22.0, 0.4
START_G, STOP_G, FULL_WET_G = 300.0, 3.0, 150.0
SETTLED = 1e-7
"""Relative: the integrator's own tolerance is 1e-10, and 20 relaxation times leave 2e-9."""
LASTING = 1e-4
"""Relative: the algebra leaves out what the air itself stores, 0.02 g of 300."""


class Zones:
    """Vapour of both halves of the air, and the floor's water."""

    def __init__(self, holes: int) -> None:
        self.vents = float(
            group_conductance_m3_s(
                count=holes, diameter_m=0.003, wall_m=0.0015, spacing_m=0.025, temp_c=TEMP_C
            )
        )
        approach = float(
            approach_resistance_s_m3(
                headspace_m=HEIGHT, length_m=LENGTH, width_m=WIDTH, temp_c=TEMP_C
            )
        )
        self.half = 0.5 / (1 / self.vents + approach)
        diffusivity = 2.178e-5 * ((TEMP_C + 273.15) / 273.15) ** 1.81
        self.floor = 1.4 * diffusivity * (LENGTH / 2 * WIDTH) / (HEIGHT / 2)
        self.mixing = 1.9 * diffusivity * WIDTH * HEIGHT / (LENGTH / 2)
        self.full = float(vapour_density_kg_m3(temp_c=TEMP_C, rh=1.0))
        self.outside = RH_OUTSIDE * self.full
        self.volume = LENGTH * WIDTH * HEIGHT / 2

    def rates(self, damp: float, dry: float, wet: float) -> tuple[float, float, float]:
        """kg/m3/s of both zones, kg/s from the floor."""
        risen = self.floor * wet * (self.full - damp)
        over = self.mixing * (damp - dry)
        left = [self.half * (zone - self.outside) for zone in (damp, dry)]
        return (risen - over - left[0]) / self.volume, (over - left[1]) / self.volume, risen

    def settle(self, seconds: float) -> Floats:
        """Both vapour densities after the lid was closed over room air."""
        found = solve_ivp(
            lambda _, y: self.rates(y[0], y[1], 1.0)[:2],
            (0, seconds), [self.outside, self.outside], method="LSODA", rtol=1e-10, atol=1e-14,
        )  # fmt: skip
        return np.asarray(found.y[:, -1])

    def relaxations(self) -> Floats:
        """Seconds."""
        rows = [self.rates(damp, dry, 1.0)[:2] for damp, dry in ((1.0, 0.0), (0.0, 1.0))]
        still = self.rates(0.0, 0.0, 1.0)[:2]
        matrix = (np.array(rows) - np.array(still)).T
        return np.sort(-1 / np.linalg.eigvals(matrix).real)

    def days(self) -> float:
        """Until ``STOP_G`` of ``START_G`` are left, the wet part shrinking below ``FULL_WET_G``."""

        def slope(_: float, y: Floats) -> list[float]:
            damp, dry, risen = self.rates(y[0], y[1], min(1.0, max(y[2], 0.0) / FULL_WET_G))
            return [damp, dry, -1e3 * risen]

        def gone(_: float, y: Floats) -> float:
            return float(y[2]) - STOP_G

        gone.terminal = True  # type: ignore[attr-defined]
        found = solve_ivp(
            slope, (0, 1e9), [*self.settle(2e4), START_G],
            events=gone, method="LSODA", rtol=1e-9, atol=[1e-12, 1e-12, 1e-7],
        )  # fmt: skip
        return float(found.t_events[0][0]) / 86400


def algebra(zones: Zones) -> BoxAir:
    """The product's answer for the same box."""
    return air_and_loss(
        temp_c=TEMP_C, rh_outside=RH_OUTSIDE, length_m=LENGTH, width_m=WIDTH, headspace_m=HEIGHT,
        damp_share=0.5, vents_damp_m3_s=zones.vents / 2, vents_dry_m3_s=zones.vents / 2,
    )  # fmt: skip


def lasting(air: BoxAir, full_wet_g: float) -> float:
    """The product's days for the same water."""
    return float(days_until(
        start_g=START_G, stop_g=STOP_G, full_wet_g=full_wet_g, vents_m3_s=air.vents_m3_s,
        surface_m3_s=air.surface_m3_s, temp_c=TEMP_C, rh_outside=RH_OUTSIDE,
    ))  # fmt: skip


def main() -> int:
    """Prints both comparisons; 1 where one lies outside its tolerance."""
    bad = 0
    for holes in (10, 20, 40):
        zones = Zones(holes)
        air = algebra(zones)
        damp, dry = zones.settle(20 * zones.relaxations()[-1]) / zones.full
        off = max(abs(damp / air.rh_damp - 1), abs(dry / air.rh_dry - 1))
        slow = " and ".join(f"{one / 60:.1f}" for one in zones.relaxations())
        print(f"{holes} holes: rests at {damp:.6f} / {dry:.6f}, algebra {air.rh_damp:.6f} / "
              f"{air.rh_dry:.6f}, off by {off:.1e}; relaxes in {slow} min")  # fmt: skip
        lasted, told, wrong = zones.days(), lasting(air, FULL_WET_G), lasting(air, FULL_WET_G - 1)
        print(f"          {START_G:g} to {STOP_G:g} g in {lasted:.2f} days, "
              f"equation 14 {told:.2f}, off by {told / lasted - 1:+.1e}; "
              f"a wet mark 1 g lower would be off by {wrong / lasted - 1:+.1e}")  # fmt: skip
        bad += off > SETTLED or abs(told / lasted - 1) > LASTING
    return int(bad > 0)


if __name__ == "__main__":
    sys.exit(main())
