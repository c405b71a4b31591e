"""What is said beside a fact at once, where it takes the book to know it."""

from typing import Any

import pytest

from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, CareGiven, ShelfRead, Vent
from mancary.husbandry.facts.care import Amount
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.usecases import colony_work, set_up
from mancary.usecases.box_card import box_card
from mancary.usecases.minds import minds
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.shelf_card import shelf_card
from mancary.usecases.vents import Wish, vents_for
from mancary.usecases.warmth import warmth
from tests.conftest import NOON

TODAY = NOON.date()
LID = (Vent(count=24, size_mm=3, place="lid"),)


@pytest.fixture
def room(book: Book, pen: Pen) -> Book:
    for code, position, species in (("A1", 1, "porcellio-scaber"), ("A2", 2, "cubaris-murina")):
        set_up.describe_box(
            book, code, litres=3.0, shelf="A", position=position, vents=LID, pen=pen,
            happened="2026-01-01",
        )  # fmt: skip
        colony_work.found(book, code, species, as_bought="x", pen=pen, happened="2026-01-01")
    return book


def read(book: Book, pen: Pen, low: float, high: float, day: str = "") -> tuple[str, ...]:
    recorded = set_up.read_shelf(
        book, "A", lowest_c=low, highest_c=high, pen=pen, happened=day or None
    )
    return minds(book, recorded.entries)


def test_a_hot_reading_names_its_boxes_at_once(room: Book, pen: Pen) -> None:
    (line, *_) = read(room, pen, 22, 39)
    assert line.startswith("shelf A read 39 °C, too hot for A1, A2;")
    assert "over hours and not at once" in line
    spells = box_card(room, "A1", on=TODAY).warmth
    assert [(one.spell.too, one.worst_c) for one in spells] == [("hot", 39)]


def test_a_reading_within_the_range_says_nothing(room: Book, pen: Pen) -> None:
    read(room, pen, 22, 39, "2026-10-01")
    assert read(room, pen, 24, 24) == ()
    assert box_card(room, "A1", on=TODAY).warmth == ()


def test_a_reading_before_the_box_came_is_not_its_heat(room: Book, pen: Pen) -> None:
    assert read(room, pen, 22, 39, "2025-12-01") == ()


def test_the_worst_of_the_weeks_is_told_and_not_of_the_whole_spell(room: Book, pen: Pen) -> None:
    read(room, pen, 24, 39, "2026-03-01")
    read(room, pen, 24, 31, "2026-10-28")
    hot = [one for one in warmth(room, on=TODAY).spells if one.spell.too == "hot"]
    assert [one.worst_c for one in hot] == [31, 31]
    assert hot[0].spell.worst_c == 39


def test_words_not_understood_do_away_with_the_holes_before(room: Book, pen: Pen) -> None:
    assert vents_for(room, Wish(box="A1")).as_it_is is not None
    write(room, [BoxDescribed(box="A1", vents_as_written="many small")], pen=pen)
    answer = vents_for(room, Wish(box="A1"))
    assert answer.as_it_is is None
    assert "not known: \u201cmany small\u201d is not understood" in answer.as_it_is_not
    write(room, [BoxDescribed(box="A1", vents=LID)], pen=pen)
    assert box_card(room, "A1", on=TODAY).box.vents_as_written == ""
    assert vents_for(room, Wish(box="A1")).as_it_is is not None


def test_a_place_taken_already_and_a_wide_hole_are_asked_about(room: Book, pen: Pen) -> None:
    wide = (Vent(count=24, size_mm=30, place="lid"),)
    recorded = set_up.describe_box(room, "A2", shelf="A", position=1, vents=wide, pen=pen)
    said = minds(room, recorded.entries)
    assert "A1 stands at place 1 of shelf A in the book too: where is it now?" in said
    assert any("was 3 mm meant?" in line for line in said)


def test_a_flood_is_asked_about_and_a_usual_pour_is_not(room: Book, pen: Pen) -> None:
    def poured(low: float, unit: str) -> tuple[str, ...]:
        amount = Amount(low=low, unit=unit)  # type: ignore[arg-type]
        return minds(
            room, write(room, [CareGiven(box="A1", care="mist", amount=amount)], pen=pen).entries
        )

    assert any("5000 mL into box A1 of 3 L?" in line for line in poured(5, "L"))
    assert poured(15, "mL") == ()


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        ({"length_cm": 30, "width_cm": 20, "height_cm": 15, "litres": 50}, "is 9 L"),
        ({"length_cm": 30, "width_cm": 20, "height_cm": 15, "litres": 9, "substrate_cm": 18},
         "leaves no air"),
        ({"litter_cm": 40}, "by its litres is about"),
    ],
)  # fmt: skip
def test_an_impossible_box_is_refused(
    room: Book, pen: Pen, figures: dict[str, Any], said: str
) -> None:
    with pytest.raises(Refusal, match=said):
        set_up.describe_box(room, "A1", pen=pen, **figures)


def test_a_possible_box_is_taken(room: Book, pen: Pen) -> None:
    sides: dict[str, Any] = {
        "length_cm": 20,
        "width_cm": 15,
        "height_cm": 12,
        "substrate_cm": 5,
        "litter_cm": 2,
    }
    set_up.describe_box(room, "A1", pen=pen, **sides)
    assert box_card(room, "A1", on=TODAY).box.litter_cm == 2


def test_a_mistyped_shelf_is_refused_where_it_is_not_said_to_be_new(room: Book, pen: Pen) -> None:
    with pytest.raises(UnknownSubject):
        set_up.describe_box(room, "A1", shelf="Q7", new_shelf=False, pen=pen)
    set_up.describe_box(room, "A1", shelf="Q7", new_shelf=True, pen=pen)
    assert box_card(room, "A1", on=TODAY).box.shelf == "Q7"


def test_a_shelf_is_shown_by_the_keepers_calendar(room: Book, pen: Pen) -> None:
    fact = ShelfRead(shelf="A", lowest_c=20, highest_c=39)
    write(room, [fact], pen=pen, happened="2026-10-30T23:30:00.000Z")
    card = shelf_card(room, "a", on=TODAY)
    assert card.readings[0].happened.startswith("2026-10-31 ")
    assert ("hot", ("A1", "A2")) in [(one.too, one.boxes) for one in card.left]
    assert "read 2026-10-31" in " ".join(vents_for(room, Wish(box="A1")).assumed)


def test_the_advised_choice_is_one_that_meets_in_the_lid(room: Book) -> None:
    answer = vents_for(room, Wish(box="A1"))
    assert answer.take
    assert answer.take.choice.meets
    assert answer.take.choice.layout == "lid"
    assert not answer.take.choice.mesh
    lids = [one.gives.holes for one in answer.choices if one.layout == "lid" and not one.mesh]
    assert len(lids) > 1
    assert answer.take.choice.gives.holes not in (min(lids), max(lids)) or len(lids) == 2
    from mancary.sheets.values.vents import told_vents

    assert told_vents(answer.take.as_told, None) == answer.take.choice.vents
