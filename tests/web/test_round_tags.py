"""Which of a box's late cares its tag names."""

from mancary.web.drawing.strip import foremost, tag_of


def test_misting_and_protein_come_before_leftovers() -> None:
    assert foremost(["leftovers_out", "mist", "protein"]) == "mist"
    assert foremost(["leftovers_out", "protein"]) == "protein"
    assert tag_of(foremost(["leftovers_out", "protein"])) == "protein"


def test_else_the_longest_late_and_nothing_where_nothing_is_late() -> None:
    assert foremost(["leaf_litter", "leftovers_out"]) == "leaf_litter"
    assert foremost([]) == ""
