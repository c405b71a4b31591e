"""Which drill and how many holes give a box the air it wants: several choices side by side."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from math import ceil, inf, log, sqrt
from typing import Final, Literal

from msgspec import Struct

from mancary.husbandry.box_air import Modelled, Place, modelled
from mancary.husbandry.box_sketch import Sketch, sketched
from mancary.husbandry.facts import Vent
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Box
from mancary.husbandry.vent_flow import spacing_m
from mancary.husbandry.vent_rows import Row

Layout = Literal["lid", "both_ends", "two_heights"]
Measure = Literal["air_changes", "ml_a_week"]
Mesh = Literal["", "fine", "coarse"]

LAYOUTS: Final[dict[Layout, str]] = {
    "lid": tell("in the lid only, spread evenly"),
    "both_ends": tell("at both ends, at one height"),
    "two_heights": tell("low at one end, high at the other"),
}
DRILLS_MM: Final = (1.0, 2.0, 3.0, 4.0, 5.0)
"""The usual drills (common practice, no source)."""

WINDOW_MM: Final = 50.0
"""A usual mesh window (common practice, no source)."""

MOST_HOLES: Final = 120
"""Ours: more than this nobody drills by hand into one box."""

LEAST_WANTED: Final = 0.001
"""Ours: air changes a day, or mL a week, below which no vent is wanted but a tight lid."""

_APART: Final = 3
"""Holes nearer than three diameters are beyond the model, and weaken the plastic."""
_WINDOWS_APART: Final = 1.2
"""Ours: a fifth of a window's width of plastic is left between two."""
_ROWS_AN_END: Final = 2
_DAYS_A_WEEK: Final = 7
_G_PER_ML: Final = 0.998


class Target(Struct, frozen=True, kw_only=True):
    """What is wanted, as a range; ``said`` names it and where it comes from."""

    measure: Measure
    low: float
    high: float
    said: str
    basis: str

    @property
    def middle(self) -> float:
        return sqrt(self.low * self.high)


class Holes(Struct, frozen=True, kw_only=True):
    """A number of equal holes and what follows from them, before any weighing."""

    holes: int
    g_a_day_low: float
    g_a_day: float
    g_a_day_high: float
    ml_a_week_low: float
    ml_a_week: float
    ml_a_week_high: float
    damp_end_rh_low: float
    damp_end_rh: float
    damp_end_rh_high: float
    dry_end_rh_low: float
    dry_end_rh: float
    dry_end_rh_high: float
    air_changes_low: float
    air_changes: float
    air_changes_high: float
    limits: tuple[str, ...] = ()


class Tool(Struct, frozen=True):
    """A drill, or a mesh window of this width, in mm; ``mesh`` is empty for open holes."""

    mm: float
    mesh: Mesh = ""

    @property
    def said(self) -> str:
        return (
            tell("%(mm)g mm", mm=self.mm)
            if not self.mesh
            else tell("%(mm)g mm windows of %(mesh)s mesh", mm=self.mm, mesh=self.mesh)
        )


class Choice(Struct, frozen=True, kw_only=True):
    """One drill, or one kind of mesh window, in one layout.

    ``one_row_more`` is the same with ``row_holes`` more, where so many fit. ``meets`` says whether
    the middle of what is worked out lies within what is wanted.
    """

    layout: Layout
    mm: float
    mesh: Mesh
    meets: bool
    gives: Holes
    row_holes: int
    one_row_more: Holes | None
    vents: tuple[Vent, ...]


class Choices(Struct, frozen=True, kw_only=True):
    """The choices, and in words those that cannot be made."""

    choices: tuple[Choice, ...]
    left_out: tuple[str, ...]


def choices(
    box: Box, target: Target, place: Place, drills_mm: tuple[float, ...] = DRILLS_MM
) -> Choices:
    """For each layout and drill the number of holes that comes nearest to what is wanted.

    A box of which neither litres nor length and width are told has no choices.

    Raises:
        Refusal: where less than ``LEAST_WANTED`` is wanted, from which no drill can be worked out.
    """
    if not target.low >= LEAST_WANTED:
        raise Refusal(
            tell(
                "%(said)s: expected a figure of %(least_wanted)g or more.",
                target,
                least_wanted=LEAST_WANTED,
            )
        )
    sketch = sketched(box)
    if sketch is None:
        return Choices(choices=(), left_out=())
    found: list[Choice] = []
    left_out: list[str] = []
    drills = [Tool(mm) for mm in drills_mm]
    windows = [Tool(WINDOW_MM, "fine"), Tool(WINDOW_MM, "coarse")]
    for layout in LAYOUTS:
        for tool in drills if layout == "both_ends" else drills + windows:
            made = _choice(box, sketch, target, place, layout, tool)
            if isinstance(made, Choice):
                found.append(made)
            else:
                left_out.append(
                    tell(
                        "%(said)s %(layouts)s: %(made)s.", tool, layouts=LAYOUTS[layout], made=made
                    )
                )
    return Choices(choices=tuple(found), left_out=tuple(left_out))


def drilled(layout: Layout, holes: int, tool: Tool) -> tuple[Vent, ...]:
    """The vents as they would be told of the box."""

    def vent(count: int, place: Literal["lid", "side", "low", "high"]) -> Vent:
        if not tool.mesh:
            return Vent(count=count, size_mm=tool.mm, place=place)
        return Vent(count=count, size_mm=tool.mm, make="mesh", mesh=tool.mesh, place=place)

    if layout == "lid":
        return (vent(holes, "lid"),)
    if layout == "both_ends":
        return (vent(holes, "side"),)
    return vent(holes // 2, "low"), vent(holes - holes // 2, "high")


def given(told: Modelled, holes: int) -> Holes:
    """What the model says, with the week's water in mL."""
    ml = _DAYS_A_WEEK / _G_PER_ML
    return Holes(
        holes=holes,
        g_a_day_low=told.g_per_day_low,
        g_a_day=told.g_per_day,
        g_a_day_high=told.g_per_day_high,
        ml_a_week_low=told.g_per_day_low * ml,
        ml_a_week=told.g_per_day * ml,
        ml_a_week_high=told.g_per_day_high * ml,
        damp_end_rh_low=told.rh_damp_low,
        damp_end_rh=told.rh_damp,
        damp_end_rh_high=told.rh_damp_high,
        dry_end_rh_low=told.rh_dry_low,
        dry_end_rh=told.rh_dry,
        dry_end_rh_high=told.rh_dry_high,
        air_changes_low=told.air_changes_per_day_low,
        air_changes=told.air_changes_per_day,
        air_changes_high=told.air_changes_per_day_high,
        limits=told.limits,
    )


def _choice(
    box: Box, sketch: Sketch, target: Target, place: Place, layout: Layout, tool: Tool
) -> Choice | str:
    """The choice, or why there is none."""
    fit = _fit(sketch, layout, tool)
    step = 1 if layout == "lid" else 2
    if fit < step:
        return tell("none fits")

    @cache
    def with_holes(holes: int) -> Holes | None:
        told = modelled(replace(box, vents=drilled(layout, holes, tool)), place)
        return given(told, holes) if told else None

    most_steps = min(MOST_HOLES, fit) // step
    most = with_holes(most_steps * step)
    if most is None:
        return tell("the sums do not hold for it")
    if getattr(most, target.measure) < target.low:
        why = tell("all that fit") if fit <= MOST_HOLES else tell("more than anybody drills")
        return tell("too little air even with %(holes)s, %(why)s", most, why=why)
    count = _nearest(with_holes, target, most_steps, step)
    gives = with_holes(count)
    if gives is None:
        return tell("the sums do not hold for it")
    if count == step and getattr(gives, target.measure) > target.high:
        return (
            tell("one is too much air already")
            if step == 1
            else tell("two are too much air already")
        )
    row = _row_holes(sketch, layout, count, tool.mm)
    return Choice(
        layout=layout,
        mm=tool.mm,
        mesh=tool.mesh,
        meets=target.low <= round(getattr(gives, target.measure), 6) <= target.high,
        gives=gives,
        row_holes=row,
        one_row_more=with_holes(count + row) if count + row <= fit else None,
        vents=drilled(layout, count, tool),
    )


def _nearest(
    with_holes: Callable[[int], Holes | None], target: Target, most_steps: int, step: int
) -> int:
    """The number of holes whose figure lies nearest the target's middle, as a ratio."""

    def figure(steps: int) -> float:
        made = with_holes(steps * step)
        return float(getattr(made, target.measure)) if made else inf

    few, many = 1, most_steps
    while few < many:
        half = (few + many) // 2
        if figure(half) < target.middle:
            few = half + 1
        else:
            many = half
    below = max(few - 1, 1)
    return step * min((few, below), key=lambda one: abs(log(figure(one) / target.middle)))


def _fit(sketch: Sketch, layout: Layout, tool: Tool) -> int:
    """How many fit: holes three diameters apart, windows with plastic between them."""
    pitch = (_WINDOWS_APART if tool.mesh else _APART) * tool.mm / 1000
    across = int(sketch.width_m / pitch)
    if layout == "lid":
        return across * int(sketch.length_m / pitch)
    rows = _ROWS_AN_END if not tool.mesh else int(sketch.headspace_m >= pitch)
    return 2 * rows * across


def _row_holes(sketch: Sketch, layout: Layout, holes: int, mm: float) -> int:
    """One more row: across the lid, or one line at one end, as they are drawn."""
    if layout != "lid":
        row = Row(count=holes, mm=mm, mesh="", height="side")
        return min(ceil(holes / 2), max(1, round(sketch.width_m / spacing_m(row, sketch))))
    columns = min(holes, max(1, ceil(sqrt(holes * sketch.length_m / sketch.width_m))))
    return ceil(holes / columns)
