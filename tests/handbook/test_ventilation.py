"""The ventilation classes: every one of the species pages', sourced, and without a gap."""

from itertools import pairwise
from pathlib import Path

import pytest

from mancary import handbook
from mancary.handbook import ventilation


def test_every_class_of_every_page_is_known() -> None:
    told = [
        figure.text
        for slug in handbook.species_slugs()
        if (figure := handbook.ventilation_figure(slug))
    ]
    assert len(told) > 100
    assert set(told) == set(handbook.ventilations())


def test_the_classes_meet_and_are_ours() -> None:
    for lower, higher in pairwise(handbook.ventilations().values()):
        assert lower.air_changes_high == higher.air_changes_low
        assert lower.ml_a_week_high >= higher.ml_a_week_low
    assert {one.kind for one in handbook.ventilations().values()} == {"ours"}


def test_words_of_the_trade_mean_one_class() -> None:
    words = [word for one in handbook.ventilations().values() for word in (one.name, *one.also)]
    assert len(words) == len(set(words))
    assert handbook.ventilation_said(" Airy ") == handbook.ventilations()["high"]
    assert handbook.ventilation_said("sparkling") is None


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('source = "ours"', 'source = "nowhere"', "source"),
        ("air_changes_low = 5\n", "air_changes_low = 50\n", "low"),
        ('kind = "ours"', 'kind = "sure"', "page"),
    ],
)
def test_a_page_without_source_kind_or_order_does_not_load(
    old: str, new: str, field: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = ventilation.PAGE.read_text(encoding="utf-8")
    assert old in text
    changed = tmp_path / "ventilation.toml"
    changed.write_text(text.replace(old, new, 1), encoding="utf-8")
    monkeypatch.setattr(ventilation, "PAGE", changed)
    ventilation._page.cache_clear()
    try:
        with pytest.raises(handbook.PageFault, match=field):
            handbook.ventilations()
    finally:
        monkeypatch.undo()
        ventilation._page.cache_clear()
