"""The facts of one row of a box list."""

from collections.abc import Iterator

from mancary.husbandry.facts import BoxDescribed, Counted, Fact, FigureChosen, Noted, Shelved
from mancary.sheets.box_rows import BoxRow
from mancary.usecases.take_in.known import Known

PROTEIN = "protein_feeds_per_week"


def described(told: BoxRow) -> BoxDescribed:
    """What the box is."""
    return BoxDescribed(
        box=told.box,
        litres=told.litres,
        length_cm=told.length_cm,
        width_cm=told.width_cm,
        height_cm=told.height_cm,
        vents=told.vents,
        vents_as_written=told.vents_as_written,
        damp_share=told.damp_share,
    )


def undated(told: BoxRow, known: Known, place: int) -> Iterator[Fact]:
    """Where it stands, how many are in it, the keeper's own figure, his remarks."""
    if told.shelf:
        yield Shelved(box=told.box, shelf=told.shelf, position=_position(told, known, place))
    if told.count:
        yield Counted(
            box=told.box,
            how="band" if told.count.band else "not_said",
            low=told.count.low,
            high=told.count.high,
            band=told.count.band,
            as_written=told.count.as_written,
            note=told.count.said,
        )
    if told.protein_per_week:
        low, high = told.protein_per_week
        yield FigureChosen(scope="box", code=told.box, figure=PROTEIN, low=low, high=high)
    if told.remarks:
        yield Noted(what="box", code=told.box, text="; ".join(told.remarks)[:4000])


def _position(told: BoxRow, known: Known, place: int) -> int:
    if told.position:
        return told.position
    others = {
        position for box, position in known.positions.get(told.shelf, {}).items() if box != told.box
    }
    if place not in others:
        return place
    return max(position for position in others if position) + 1
