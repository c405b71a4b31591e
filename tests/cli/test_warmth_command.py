"""``mancary warmth``: words and JSON."""

import json
from pathlib import Path

from click.testing import CliRunner

from mancary.cli.front import front
from mancary.usecases.warmth import WHAT_TO_DO


def test_warmth_says_who_is_out_of_range_and_what_to_do(tmp_path: Path) -> None:
    def done(*words: str) -> str:
        told = CliRunner().invoke(front, ["--book", str(tmp_path / "room.mancary"), *words])
        assert told.exit_code == 0, told.output
        return told.stdout

    done("open", "My room", "--zone", "Europe/Stockholm")
    done("describe", "A01", "--shelf", "S1", "--on", "2026-01-01")
    done("found", "A01", "Porcellio scaber", "--on", "2026-01-01")
    done("shelf", "S1", "20", "35", "--on", "2026-06-01")
    said = done("warmth", "--on", "2026-06-02")
    assert "A01 shelf S1 Porcellio scaber: too hot, 35 °C" in said
    assert WHAT_TO_DO["hot"] in said
    (one,) = json.loads(done("warmth", "--on", "2026-06-02", "--json"))["spells"]
    assert (one["spell"]["too"], one["spell"]["going_on"], one["at_most_days"]) == (
        "hot",
        True,
        None,
    )
    assert "No box left its range" in done("warmth", "--on", "2026-12-02")
