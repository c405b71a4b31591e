"""What a box is, in words: every figure that was told of it, and its vents."""

from mancary.husbandry.facts import BoxDescribed, Vent
from mancary.husbandry.states import Box

_PLACES = {
    "lid": " in the lid",
    "high": " high up",
    "low": " low down",
    "side": " in the sides",
}


def vents_said(vents: tuple[Vent, ...]) -> str:
    """Vents in words, such as "24 holes of 3 mm in the lid"."""
    parts = []
    for vent in vents:
        fineness = "" if vent.mesh == "not_said" else f"{vent.mesh} "
        sort = f"{fineness}mesh window" if vent.make == "mesh" else "hole"
        size = f" of {vent.size_mm:g} mm" if vent.size_mm else ""
        place = _PLACES.get(vent.place, "")
        end = "" if vent.end == "not_said" else f" at the {vent.end} end"
        parts.append(f"{vent.count} {sort}{'s' if vent.count != 1 else ''}{size}{place}{end}")
    return ", ".join(parts)


def figures_told(told: BoxDescribed | Box) -> list[str]:
    """Each figure told of a box in a few words, such as "6 L" and "litter 2 cm deep"."""
    share = {"damp share": told.damp_share, "moss over": told.moss_share}
    depth = {"substrate": told.substrate_cm, "litter": told.litter_cm}
    parts = [
        f"{told.litres:g} L" if told.litres else "",
        sides_said(told),
        *(f"{name} {value:.0%}" for name, value in share.items() if value is not None),
        *(f"{name} {value:g} cm deep" for name, value in depth.items() if value is not None),
        f"wall {told.wall_mm:g} mm" if told.wall_mm else "",
        f"{told.warmer_c:g} °C warmer than its shelf" if told.warmer_c is not None else "",
        f"sort of box: {told.make}" if told.make else "",
        vents_told(told),
    ]
    return [part for part in parts if part]


def sides_said(told: BoxDescribed | Box) -> str:
    """The inner sides that are told: "30 x 20 x 15 cm", or each by its name."""
    sides = {"long": told.length_cm, "wide": told.width_cm, "high": told.height_cm}
    if all(sides.values()):
        return " x ".join(f"{side:g}" for side in sides.values()) + " cm inside"
    return ", ".join(f"{side:g} cm {name}" for name, side in sides.items() if side)


def vents_told(told: BoxDescribed | Box) -> str:
    """The vents as they are understood; words that are not understood are said to be so."""
    if told.vents is None:
        written = told.vents_as_written
        return f"vents in your words: \u201c{written}\u201d, not understood" if written else ""
    return f"vents: {vents_said(told.vents) or 'none'}"
