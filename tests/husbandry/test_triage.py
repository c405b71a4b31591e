"""Where to look, narrowed by what is known; the order of triage is common practice, no source."""

from datetime import date

from mancary.husbandry.triage import Known, look_for

ON = date(2026, 6, 1)


def test_nothing_known_gives_the_usual_order() -> None:
    told = look_for(Known(seen={}), ON)
    firsts = [words.split()[0] for words in told]
    assert firsts == ["Smell", "Weigh", "The", "Count", "A"]


def test_what_was_found_comes_first_and_stands_for_its_step() -> None:
    known = Known(
        seen={"mites": date(2026, 5, 28), "dry": date(2026, 5, 20)},
        warmth=("Shelf A1 was too hot: 34 °C, found 2026-05-25 (kept at 18-26 °C).",),
        changes=[(date(2026, 5, 10), "leaf litter from batch L4")],
        alike=("Given the same batch L4: A06 springtails gone.",),
    )
    told = look_for(known, ON)
    assert told[0].startswith("Dry noted on 2026-05-20")
    assert "34 °C" in told[1]
    assert "batch L4" in told[2]
    assert told[3].startswith("Mites noted")
    assert "A06" in told[4]
    assert not any("Weigh it" in words for words in told)  # the water was found wanting already
    assert any(words.startswith("Smell it") for words in told[5:])


def test_what_the_book_rules_out_is_left_out() -> None:
    assert any("highest temperature" in words for words in look_for(Known(seen={}), ON))
    known = Known(seen={}, warmth=())  # read, and never out of range
    assert not any("highest temperature" in words for words in look_for(known, ON))


def test_old_signs_are_not_laid_to_a_fall_of_now() -> None:
    known = Known(seen={"mites": date(2026, 1, 1)})
    assert not any(words.startswith("Mites") for words in look_for(known, ON))
