"""A shelf's climate from its readings: means, ends, words, and what is assumed."""

import pytest

from mancary.handbook import VentilationRoom
from mancary.husbandry.shelf_climate import Span, Told, shelf_climate

ROOM = VentilationRoom(temp_c=22, humidity=0.4)
COOL = Told(on_said="2026-10-01", temperature=Span(18, 16, 20))
WARM = Told(
    on_said="2026-10-20",
    temperature=Span(24, 20, 30),
    by_logger=True,
    humidity=Span(0.5, 0.45, 0.6),
    corrected="by its salt test",
)


def test_middles_are_means_and_ends_are_the_outermost() -> None:
    found = shelf_climate("A", warmth=[COOL, WARM], damp=[WARM], air="cupboard", room=ROOM)
    assert found.temperature == Span(21, 16, 30)
    assert found.humidity == Span(0.5, 0.45, 0.6)
    assert (found.rh, found.air) == (0.5, "cupboard")
    assert not found.temperature_is_assumed
    warmth, damp, air = found.said
    assert warmth == (
        "21.0 °C, the middle of shelf A's 2 readings, 16 to 30 °C, read 2026-10-01 to 2026-10-20"
    )
    assert damp == ("50 % humidity in the room (45 to 60 %), read 2026-10-20, by its salt test")
    assert air == "in a cupboard"


def test_a_loggers_mean_is_called_so_only_where_every_reading_is_one() -> None:
    alone = shelf_climate("A", warmth=[WARM], damp=[], air=None, room=ROOM)
    both = shelf_climate("A", warmth=[COOL, WARM], damp=[], air=None, room=ROOM)
    assert "the logger's mean of shelf A's last 20 to 30 °C" in alone.temperature_said
    assert "logger" not in both.temperature_said


@pytest.mark.parametrize(("shelf", "why"), [("A", "not read lately"), ("", "on no shelf")])
def test_what_nobody_told_is_the_handbooks_room_and_says_so(shelf: str, why: str) -> None:
    found = shelf_climate(shelf, warmth=[], damp=[COOL], air=None, room=ROOM)
    assert found.temperature == Span(22, 22, 22)
    assert found.temperature_is_assumed
    assert found.humidity is None
    assert (found.rh, found.air) == (0.4, "room")
    assert why in found.temperature_said
    assert all("assumed" in words for words in found.said)
