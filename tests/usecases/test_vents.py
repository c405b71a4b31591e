"""The bench of vents: what is wanted, where it comes from, and what is refused."""

from datetime import date

import msgspec
import pytest

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.facts import BoxDescribed, ShelfPlaced, ShelfRead, Shelved, Vent
from mancary.husbandry.moments import on_day
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.husbandry.sentences import plain
from mancary.usecases.colony_work import found
from mancary.usecases.pen import Pen
from mancary.usecases.record import write
from mancary.usecases.vent_targets import Wanted
from mancary.usecases.vents import Wish, drawn, vents_for

MEDIUM = Wanted(ventilation="medium")


@pytest.fixture
def housed(book: Book, pen: Pen) -> Book:
    """Box A01 with a colony on a shelf that was read twice, and a box B01 of which nothing is told."""
    write(
        book,
        [
            ShelfPlaced(shelf="A", room="room"),
            BoxDescribed(box="A01", litres=3, vents=(Vent(count=20, size_mm=3, place="lid"),)),
            BoxDescribed(box="B01", note="bare"),
            Shelved(box="A01", shelf="A", position=1),
        ],
        pen=pen,
        happened=on_day(date(2026, 9, 1)),
    )
    found(book, "A01", "porcellio-scaber", as_bought="scaber", pen=pen, happened="2026-09-02")
    for day, low, high in (("2026-10-01", 15, 17), ("2026-10-20", 19, 23)):
        write(book, [ShelfRead(shelf="A", lowest_c=low, highest_c=high)], pen=pen, happened=day)
    return book


def test_a_box_of_the_book_brings_its_species_its_shelf_and_its_vents(housed: Book) -> None:
    told = vents_for(housed, Wish(box="a01"))
    figure = handbook.ventilation_figure("porcellio-scaber")
    assert figure
    assert f"ventilation {figure.text}, of Porcellio scaber" in told.target.said
    assert figure.kind in told.target.said
    assert "ours" in told.target.basis
    assert told.temp_c == 21
    assert any("middle of shelf A's last 19 to 23 °C" in line for line in told.assumed)
    assert told.as_it_is
    assert told.as_it_is.holes == 20
    share = handbook.figures("porcellio-scaber")["damp_share"]
    assert share.low is not None
    assert share.high is not None
    assert told.box.damp_share == pytest.approx((share.low + share.high) / 2)


def test_the_shelfs_air_and_humidity_go_into_the_place_until_others_are_said(
    housed: Book, pen: Pen
) -> None:
    damp = ShelfRead(shelf="A", lowest_c=19, highest_c=23, rh_lowest=0.5, rh_highest=0.6)
    placed = ShelfPlaced(shelf="A", room="room", air="draughty")
    write(housed, [placed, damp], pen=pen, happened="2026-10-21")
    told = vents_for(housed, Wish(box="A01"))
    assert (told.humidity, told.air) == (0.55, "draughty")
    assert "in a draughty place" in told.assumed
    said = vents_for(housed, Wish(box="A01", humidity=0.3, air="cupboard"))
    assert (said.humidity, said.air) == (0.3, "cupboard")
    assert not any("humidity" in line or "place" in line for line in said.assumed)


def test_sizes_said_now_go_before_those_of_the_book(housed: Book) -> None:
    told = vents_for(housed, Wish(box="A01", litres=6))
    assert told.box.litres == 6
    assert vents_for(housed, Wish(box="A01")).box.litres == 3


def test_without_a_book_a_box_is_described() -> None:
    told = vents_for(None, Wish(length_cm=20, width_cm=12.5, height_cm=12, wanted=MEDIUM))
    assert told.box.code == ""
    assert told.box.litres == 3
    assert (told.temp_c, told.humidity) == (22, 0.4)
    assert any("22 °C" in line for line in told.assumed)
    assert any("40 % humidity" in line for line in told.assumed)
    assert told.as_it_is is None
    assert "not told" in told.as_it_is_not


@pytest.mark.parametrize(
    ("wanted", "measure", "low", "high"),
    [
        (Wanted(ml_a_week=10, ventilation="low"), "ml_a_week", 8, 12.5),
        (Wanted(air_changes=40), "air_changes", 32, 50),
        (Wanted(ventilation="Airy"), "air_changes", 45, 130),
        (Wanted(ventilation="closed"), "air_changes", 5, 15),
    ],
)
def test_the_keepers_own_figure_goes_before_a_class(
    wanted: Wanted, measure: str, low: float, high: float
) -> None:
    target = vents_for(None, Wish(litres=3, wanted=wanted)).target
    assert (target.measure, target.low, target.high) == (measure, low, high)
    assert "ours" in target.basis


def test_every_page_with_a_class_has_a_target_and_the_others_are_refused() -> None:
    known = handbook.ventilations()
    for group in handbook.groups():
        figure = handbook.ventilation_figure(group.slug)
        assert figure is None or figure.text in known
    blank = [slug for slug in handbook.species_slugs() if handbook.ventilation_figure(slug) is None]
    for slug in blank:
        with pytest.raises(Refusal, match="not known"):
            vents_for(None, Wish(litres=3, wanted=Wanted(species=slug)))


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        (Wish(litres=3), "Say what air the box wants"),
        (Wish(wanted=MEDIUM), "Say how large the box is"),
        (Wish(litres=0, wanted=MEDIUM), "no box is of that size"),
        (Wish(litres=3, wanted=Wanted(ventilation="sparkling")), "known words are low"),
        (Wish(litres=3, wanted=Wanted(species="zzz qqq")), "not certain"),
        (Wish(litres=3, wanted=Wanted(ml_a_week=-1)), "above nothing"),
        (Wish(litres=3, wanted=MEDIUM, humidity=1.2), "less than 100 %"),
        (Wish(litres=3, wanted=MEDIUM, temp_c=60), "5 to 40 °C"),
        (Wish(litres=3, wanted=MEDIUM, drills_mm=(90.0,)), "0.5 to 30 mm"),
        (Wish(litres=3, wanted=MEDIUM, drills_mm=tuple(map(float, range(1, 12)))), "at most 8"),
        (
            Wish(litres=3, height_cm=900, length_cm=900, width_cm=5, wanted=MEDIUM),
            "length is 900 cm",
        ),
        (Wish(box="A01", wanted=MEDIUM), "no book here"),
    ],
)
def test_what_cannot_be_worked_out_is_refused_in_a_sentence(wish: Wish, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        vents_for(None, wish)


def test_an_unknown_box_is_refused(housed: Book) -> None:
    with pytest.raises(UnknownSubject):
        vents_for(housed, Wish(box="Z99", wanted=MEDIUM))
    with pytest.raises(Refusal, match="how large"):
        vents_for(housed, Wish(box="B01", wanted=MEDIUM))


def test_the_honest_sentences_and_the_care_of_drilling_are_in_every_answer() -> None:
    told = vents_for(None, Wish(litres=3, wanted=MEDIUM))
    know, care = " ".join(told.to_know), " ".join(told.cautions)
    assert "differs little between the ends" in know
    assert "never compared with a real box" in know
    for word in (
        "glasses",
        "clamp",
        "empty",
        "away from the animals",
        "fumes",
        "heat mat",
        "local rules",
    ):
        assert word in care


def test_the_answer_is_plain_data_and_writes_nothing(housed: Book) -> None:
    before = housed.head()
    told = vents_for(housed, Wish(box="A01", drills_mm=(3.0,)))
    data = msgspec.json.decode(msgspec.json.encode(told, enc_hook=plain))
    assert housed.head() == before
    assert {one["layout"] for one in data["choices"]} >= {"lid", "both_ends", "two_heights"}
    holes = [one for one in told.choices if not one.mesh]
    assert {one.mm for one in holes} == {3.0}
    box = drawn(told, holes[0])
    assert box.vents == holes[0].vents
    assert (box.length_cm, box.width_cm) == (told.box.length_cm, told.box.width_cm)
