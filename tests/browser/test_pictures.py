"""The pictures beside the words: as many as are shown, and small."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "docs" / "guide" / "pictures"
MOST_FILES, MOST_BYTES = 12, 1_200_000


def shown() -> set[str]:
    pages = [ROOT / "README.md", *(ROOT / "docs").rglob("*.md")]
    text = "\n".join(page.read_text(encoding="utf-8") for page in pages)
    return set(re.findall(r"pictures/([\w-]+\.png)", text))


def test_every_picture_is_shown_and_every_one_shown_is_there() -> None:
    assert {path.name for path in FOLDER.iterdir()} == shown()


def test_the_pictures_stay_small() -> None:
    sizes = [path.stat().st_size for path in FOLDER.iterdir()]
    assert 0 < len(sizes) <= MOST_FILES
    assert sum(sizes) <= MOST_BYTES
