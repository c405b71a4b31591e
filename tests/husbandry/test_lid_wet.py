"""The sentence on a wet lid: what it says of a damp box, an airy one and one beyond the sums."""

import re
from dataclasses import replace

from mancary.husbandry.box_air import Place, modelled
from mancary.husbandry.facts import Vent
from mancary.husbandry.lid_wet import wet_lid_said
from mancary.husbandry.states import Box

ROOM = Place(22.0, 0.4)
DAMP = Box("A01", first_told="", litres=3, vents=(Vent(count=20, size_mm=3, place="lid"),))
AIRY = Box("A02", first_told="", litres=3, vents=(Vent(count=2, make="mesh", place="lid"),))


def said(box: Box, place: Place = ROOM) -> str:
    told = modelled(box, place)
    assert told
    return wet_lid_said(box, place, told)


def numbers(words: str) -> list[float]:
    return [float(one) for one in re.findall(r"\d+(?:\.\d+)?", words)]


def test_a_damp_box_has_a_wet_lid_half_a_degree_colder() -> None:
    """96 % over the damp end and 91 % over the dry are 0.7 and 1.5 °C above the dew point."""
    damp, dry, *_ = numbers(said(DAMP))
    assert 0.4 < damp < 1.0 < dry < 2.0
    assert "stays in the box" in said(DAMP)


def test_an_airy_box_needs_a_colder_lid() -> None:
    assert numbers(said(AIRY))[0] > numbers(said(DAMP))[0]


def test_the_water_that_goes_round_is_a_range_and_a_guess() -> None:
    words = said(DAMP)
    low, high = numbers(words.split("some ")[1])[:2]
    assert 0 < low < high
    assert "ours, a guess" in words


def test_a_box_beyond_the_sums_is_not_spoken_of() -> None:
    told = modelled(DAMP, ROOM)
    assert told
    assert wet_lid_said(DAMP, replace(ROOM, temp_c=60.0), told) == ""
