"""What a box is, in words: every figure that was told of it, and its vents."""

from mancary.husbandry.facts import BoxDescribed, Vent
from mancary.husbandry.sentences import in_a_row, tell
from mancary.husbandry.states import Box

_PLACES = {
    "lid": tell(" in the lid"),
    "high": tell(" high up"),
    "low": tell(" low down"),
    "side": tell(" in the sides"),
}
_ENDS = {"damp": tell(" at the damp end"), "dry": tell(" at the dry end")}


def vents_said(vents: tuple[Vent, ...]) -> str:
    """Vents in words, such as "24 holes of 3 mm in the lid"."""
    return in_a_row(", ", (_vent_said(vent) for vent in vents))


def _vent_said(vent: Vent) -> str:
    one = vent.count == 1
    if vent.make != "mesh":
        what = tell("%(count)s hole", vent) if one else tell("%(count)s holes", vent)
    elif vent.mesh == "not_said":
        what = tell("%(count)s mesh window", vent) if one else tell("%(count)s mesh windows", vent)
    else:
        what = (
            tell("%(count)s %(mesh)s mesh window", vent)
            if one
            else tell("%(count)s %(mesh)s mesh windows", vent)
        )
    size = tell(" of %(size_mm)g mm", vent) if vent.size_mm else ""
    where = (_PLACES.get(vent.place, ""), _ENDS.get(vent.end, ""))
    return in_a_row("", (what, size, *where))


def figures_told(told: BoxDescribed | Box) -> list[str]:
    """Each figure told of a box in a few words, such as "6 L" and "litter 2 cm deep"."""
    share = {tell("damp share"): told.damp_share, tell("moss over"): told.moss_share}
    depth = {tell("substrate"): told.substrate_cm, tell("litter"): told.litter_cm}
    parts = [
        f"{told.litres:g} L" if told.litres else "",
        sides_said(told),
        *(
            tell("%(name)s %(value)s", name=name, value=f"{value:.0%}")
            for name, value in share.items()
            if value is not None
        ),
        *(
            tell("%(name)s %(value)g cm deep", name=name, value=value)
            for name, value in depth.items()
            if value is not None
        ),
        tell("wall %(wall_mm)g mm", told) if told.wall_mm else "",
        tell("%(warmer_c)g °C warmer than its shelf", told) if told.warmer_c is not None else "",
        tell("sort of box: %(make)s", told) if told.make else "",
        vents_told(told),
    ]
    return [part for part in parts if part]


def sides_said(told: BoxDescribed | Box) -> str:
    """The inner sides that are told: "30 x 20 x 15 cm", or each by its name."""
    sides = {
        tell("long"): told.length_cm,
        tell("wide"): told.width_cm,
        tell("high"): told.height_cm,
    }
    if all(sides.values()):
        return in_a_row(" x ", (f"{side:g}" for side in sides.values())) + tell(" cm inside")
    return in_a_row(
        ", ",
        (
            tell("%(side)g cm %(name)s", side=side, name=name)
            for name, side in sides.items()
            if side
        ),
    )


def vents_told(told: BoxDescribed | Box) -> str:
    """The vents as they are understood; words that are not understood are said to be so."""
    if told.vents is None:
        written = told.vents_as_written
        return (
            tell("vents in your words: “%(written)s”, not understood", written=written)
            if written
            else ""
        )
    return tell("vents: %(what)s", what=vents_said(told.vents) or tell("none"))
