"""One round hole through a wall, solved by finite volumes around its axis.

Knows nothing of the product but the curve it is compared with: the length of air, in hole radii,
that one end of the hole adds to the wall. Theory (from memory): pi/4 for no wall, 0.8217 for a
long tube. Run: ``python -m verification.hole``.
"""

import sys

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

from mancary.science.vents import end_length

Floats = NDArray[np.float64]

FINEST, FARTHEST = 0.0002, 2000.0
GROWTHS = 1.08, 1.04
TOLERANCE = 5e-4
"""In radii: 0.0001 from the finest cells at the edge's singularity, the rest for the curve."""


def graded(length: float, *, finest: float, growth: float) -> Floats:
    """Cell faces from 0 to ``length``, fine at 0 and growing away from it."""
    count = int(np.ceil(np.log(1 + length * (growth - 1) / finest) / np.log(growth)))
    steps = growth ** np.arange(max(count, 1))
    return np.concatenate([[0.0], np.cumsum(steps) * length / steps.sum()])


def both_ways(length: float, *, finest: float, growth: float) -> Floats:
    """Cell faces from 0 to ``length``, fine at its far end."""
    return length - graded(length, finest=finest, growth=growth)[::-1]


def end_correction(half_wall: float, *, growth: float) -> float:
    """The end's length in radii for a wall of twice ``half_wall`` radii, by one sparse solve.

    Concentration 0 in the middle of the wall, 1 far away; radius and diffusivity are 1, so that the
    resistance of half the hole is (half_wall + end)/pi.
    """
    inner = both_ways(1.0, finest=FINEST, growth=growth)
    outer = 1.0 + graded(FARTHEST, finest=FINEST, growth=growth)
    r = np.concatenate([inner, outer[1:]])
    above = graded(FARTHEST, finest=FINEST, growth=growth)
    below = -graded(half_wall, finest=FINEST, growth=growth)[::-1] if half_wall else above[:1]
    z = np.concatenate([below, above[1:]])
    return np.pi * _resistance(r, z, len(inner) - 1, len(below) - 1) - half_wall


def _resistance(r: Floats, z: Floats, bore: int, deep: int) -> float:
    """Of a half hole with ``bore`` cells in its radius and ``deep`` cells in the wall."""
    rm, zm = (r[1:] + r[:-1]) / 2, (z[1:] + z[:-1]) / 2
    ring = np.pi * (r[1:] ** 2 - r[:-1] ** 2)
    nr, nz = len(rm), len(zm)
    cell = np.arange(nr * nz).reshape(nr, nz)
    air = (np.arange(nz) >= deep)[None, :] | (np.arange(nr) < bore)[:, None]
    along = ring[:, None] / np.diff(zm)[None, :] * (air[:, 1:] & air[:, :-1])
    across = (2 * np.pi * r[1:-1] / np.diff(rm))[:, None] * np.diff(z)[None, :]
    across = across * (air[1:] & air[:-1])
    pairs = [(cell[:, :-1], cell[:, 1:], along), (cell[:-1], cell[1:], across)]
    diagonal = np.where(air, 0.0, 1.0).ravel()
    rows, columns, values = [], [], []
    for one, other, flow in pairs:
        for a, b in ((one, other), (other, one)):
            rows.append(a.ravel())
            columns.append(b.ravel())
            values.append(-flow.ravel())
            np.add.at(diagonal, a.ravel(), flow.ravel())
    bottom = np.where(np.arange(nr) < bore, ring / (zm[0] - z[0]), 0.0)
    np.add.at(diagonal, cell[:, 0], bottom)
    right = np.zeros(nr * nz)
    _far_away(diagonal, right, cell, r=r, z=z, ring=ring)
    rows.append(cell.ravel())
    columns.append(cell.ravel())
    values.append(diagonal)
    matrix = coo_matrix((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))))
    found = splu(matrix.tocsc()).solve(right)
    return float(1.0 / (bottom @ found[cell[:, 0]]))


def _far_away(
    diagonal: Floats, right: Floats, cell: NDArray[np.int_], *, r: Floats, z: Floats, ring: Floats
) -> None:
    """Concentration 1 at infinity: what flows out falls as one over the distance (Robin)."""
    rm, zm = (r[1:] + r[:-1]) / 2, (z[1:] + z[:-1]) / 2
    for cells, area, height, reach in (
        (cell[:, -1], ring, z[-1], np.hypot(rm, z[-1])),
        (cell[-1], 2 * np.pi * r[-1] * np.diff(z) * (zm > 0), r[-1], np.hypot(r[-1], zm)),
    ):
        flow = area * height / reach**2
        np.add.at(diagonal, cells, flow)
        np.add.at(right, cells, flow)


def main() -> int:
    """Prints the table; 1 where a row lies outside the tolerance."""
    print("wall/radius  coarse    finer     solved    curve     curve - solved")
    worst = 0.0
    for wall in (0.0, 0.05, 0.1, 0.25, 0.5, 1.0, 2.0, 8.0):
        coarse, finer = (end_correction(wall / 2, growth=growth) for growth in GROWTHS)
        # the error goes with the square of the growth, which was halved
        solved = finer + (finer - coarse) / 3
        curve = float(end_length(wall_over_radius=wall))
        worst = max(worst, abs(curve - solved))
        print(f"{wall:11.2f}  {coarse:.5f}   {finer:.5f}   {solved:.5f}   {curve:.5f}   "
              f"{curve - solved:+.5f}")  # fmt: skip
    print(f"worst {worst:.5f}, tolerance {TOLERANCE}; pi/4 for every wall would be off by "
          f"{abs(np.pi / 4 - solved):.5f} in the last row")  # fmt: skip
    return int(worst > TOLERANCE)


if __name__ == "__main__":
    sys.exit(main())
