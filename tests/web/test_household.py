"""A household at the rack for some seconds: nothing fails, and all that was written is there once.

How fast it is, is measured in ``bench/household.py`` and never by a test.
"""

from collections import Counter
from pathlib import Path

from bench.household import A_SECOND, TURN, household, load

from mancary.book import open_book
from mancary.husbandry.facts import CareGiven

SECONDS = 4


def notes(book: Path) -> Counter[str]:
    with open_book(book) as opened:
        facts = [entry.fact for entry in opened.entries_of((CareGiven.kind,))]
    return Counter(one.note for one in facts if isinstance(one, CareGiven) and "phone" in one.note)


def test_five_phones_at_once_are_all_answered_and_written_once(tmp_path: Path) -> None:
    with household(tmp_path) as port:
        found = load(port, seconds=SECONDS)
    assert len(found) == A_SECOND * SECONDS
    assert Counter(one.status for one in found) == {200: len(found)}
    assert {one.what for one in found} == set(TURN)
    written = notes(tmp_path / "demo.mancary")
    assert len(written) == sum(one.what == "note" for one in found)
    assert set(written.values()) == {1}


def test_a_server_that_is_gone_is_told_as_an_error(tmp_path: Path) -> None:
    with household(tmp_path) as port:
        pass
    assert {one.status for one in load(port, seconds=0.2)} == {0}
