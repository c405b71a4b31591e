"""The rhythms: common practice as it is said, and where it differs from the catalogue."""

import pytest

from mancary import handbook
from mancary.handbook.bound import Turn, load

MONTH = 365.25 / 12
SLACK = 1 / 7
ISOPOD_CARES = {
    "look", "mist", "vegetable", "protein", "algae", "calcium", "minerals", "leaf_litter", "wood",
    "springtails", "springtail_check", "substrate_half", "substrate_whole", "leftovers_out",
    "label_check",
}  # fmt: skip


@pytest.mark.parametrize(
    ("care", "days"),
    [
        ("look", 7), ("algae", 14), ("calcium", MONTH), ("minerals", 2 * MONTH),
        ("leaf_litter", MONTH), ("springtail_check", MONTH), ("label_check", 3 * MONTH),
        ("substrate_whole", 12 * MONTH),
    ],
)  # fmt: skip
def test_one_interval_runs_from_a_seventh_before_to_a_seventh_after(care: str, days: float) -> None:
    found = handbook.rhythms("porcellio-scaber")[care]
    assert found.low_days == round(days * (1 - SLACK))
    assert found.high_days == round(days * (1 + SLACK))
    assert (found.kind, found.source) == ("common practice", "practice")


@pytest.mark.parametrize(
    ("care", "low", "high"),
    [("vegetable", 6, 9), ("wood", 30, 122), ("substrate_half", 183, 274), ("leftovers_out", 1, 3)],
)
def test_a_range_of_practice_stands_as_it_is_given(care: str, low: float, high: float) -> None:
    found = handbook.rhythms("porcellio-scaber")[care]
    assert (found.low_days, found.high_days) == (low, high)


@pytest.mark.parametrize(
    ("slug", "low", "high", "differs"),
    [
        ("armadillidium-vulgare", 6, 8, False),
        ("porcellio-scaber", 3, 4, False),
        ("porcellio-expansus", 2.3, 4.7, True),
        ("porcellio-hoffmannseggii", 2.3, 3.5, True),
        ("cubaris-sp-soil", 7, 14, True),
        ("hyloniscus-riparius", 12, 16, False),
        ("folsomia-candida", 3, 7, True),
    ],
)
def test_protein_by_species(slug: str, low: float, high: float, *, differs: bool) -> None:
    found = handbook.rhythms(slug)["protein"]
    assert (found.low_days, found.high_days) == (low, high)
    assert bool(found.differs) is differs
    assert not differs or "the keeper chooses" in found.differs


def test_what_is_known_worse_decides_how_well_a_widened_range_is_known() -> None:
    assert handbook.rhythms("porcellio-expansus")["protein"].kind == "common practice"
    assert handbook.rhythms("porcellio-hoffmannseggii")["protein"].kind == "memory"


@pytest.mark.parametrize(
    ("slug", "moisture", "low", "high"),
    [
        ("porcellio-expansus", "dry-type", 7, 14),
        ("armadillo-officinalis", "dry-type", 7, 14),
        ("armadillidium-vulgare", "mid", 5, 7),
        ("cubaris-sp-soil", "moist tropical", 3, 5),
        ("cubaris-murina", "moist tropical", 3, 5),
        ("trichorhina-tomentosa", "dwarf", 6, 8),
    ],
)
def test_misting_by_class_of_moisture(slug: str, moisture: str, low: float, high: float) -> None:
    assert handbook.moisture_class(slug) == moisture
    found = handbook.rhythms(slug)["mist"]
    assert (found.low_days, found.high_days, found.kind) == (low, high, "memory")


def test_the_whole_substrate_is_an_alternative_and_never_for_the_cave_forms() -> None:
    assert handbook.rhythms("porcellio-scaber")["substrate_whole"].instead_of == "substrate_half"
    cave = handbook.rhythms("asian-cave-armadillidae")
    assert "substrate_whole" not in cave
    assert "never whole" in cave["substrate_half"].said


def test_what_is_due_after_something_is_not_periodic() -> None:
    found = handbook.rhythms("porcellio-scaber")
    assert not found["leftovers_out"].periodic
    assert not found["springtails"].periodic
    assert found["look"].periodic


def test_a_culture_of_springtails_has_only_its_own_cares() -> None:
    assert set(handbook.rhythms("springtails")) == {
        "look",
        "label_check",
        "leftovers_out",
        "protein",
    }
    assert handbook.rhythms("folsomia-candida") == handbook.rhythms("springtails")


@pytest.mark.parametrize("slug", [group.slug for group in handbook.groups()])
def test_every_group_of_isopods_has_every_care(slug: str) -> None:
    if slug != "springtails":
        cares = set(handbook.rhythms(slug)) | {"substrate_whole"}
        assert cares == ISOPOD_CARES


def test_every_rhythm_has_kind_and_source_and_runs_forward() -> None:
    for slug in (*handbook.species_slugs(), *(group.slug for group in handbook.groups())):
        for care, found in handbook.rhythms(slug).items():
            assert type(found) is handbook.Rhythm
            assert found.care == care
            assert 0 <= found.low_days <= found.high_days
            assert found.source in handbook.bibliography()
            assert found.kind in ("common practice", "memory")
            assert found.said


def test_morphs_go_by_their_parent() -> None:
    assert handbook.rhythms("porcellio-scaber-lava") == handbook.rhythms("porcellio-scaber")


def test_figures_of_practice() -> None:
    found = handbook.practice()
    assert {name: (figure.low, figure.high) for name, figure in found.items()} == {
        "quarantine_days": (28, 56),
        "starter_animals": (8, 12),
        "starter_box_l": (1.5, 3),
        "waiting_days": (56, 84),
    }


def test_amounts_of_water_grow_with_the_box() -> None:
    water = {amount.box: amount for amount in handbook.amounts() if amount.care == "mist"}
    assert {box: (amount.low, amount.high) for box, amount in water.items()} == {
        "S": (5, 15),
        "M": (20, 50),
        "L": (50, 150),
    }
    for amount in handbook.amounts():
        assert amount.source in handbook.bibliography()
        assert amount.care in ISOPOD_CARES


def test_an_unknown_name_is_refused() -> None:
    with pytest.raises(handbook.UnknownPage, match="no page 'nowhere'"):
        handbook.rhythms("nowhere")


def test_no_two_turns_are_meant_for_the_same_page() -> None:
    """Two entries of one care for one group would let the file's order decide."""
    seen: set[tuple[str, str, str, tuple[str, ...]]] = set()
    for turn in load().rhythms.care:
        assert isinstance(turn, Turn)
        place = (turn.care, turn.who, turn.moisture, turn.groups)
        assert place not in seen
        seen.add(place)
