"""``mancary grow`` of a springtail culture as a keeper types it."""

from pathlib import Path

from .test_commands import Keyboard


def test_grow_tells_of_a_culture_what_nobody_counts(tmp_path: Path) -> None:
    room = Keyboard(tmp_path / "room.mancary")
    room.done("open", "My room", "--zone", "Europe/Stockholm")
    room.done("describe", "K1", "--litres", "1.5", "--shelf", "S1")
    room.done("found", "K1", "Folsomia candida", "--on", "2026-01-05")
    room.done("shelf", "S1", "20", "20", "--on", "2026-02-20")
    told = room.done("grow", "K1", "--as-of", "2026-03-01")
    answer = room.json("grow", "K1", "--as-of", "2026-03-01")
    assert "a culture, on 2026-03-01" in told
    for sentence in (*answer["said"], answer["basis"]):
        assert sentence in told
    low, high = answer["doubling_days"]
    assert 0 < low < high < answer["doubling_days_seldom_fed"][1]
    assert 0 < answer["weekly_share"] <= 0.5
    surplus = room.type("surplus", "K1")
    assert surplus.exit_code == 1
    assert "mancary grow K1" in surplus.stderr
