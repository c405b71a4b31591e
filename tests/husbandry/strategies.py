"""Hypothesis strategies for facts of every kind, made from their own declarations."""

from datetime import date
from typing import Any

from hypothesis import strategies as st

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    Amount,
    BoxDescribed,
    CareGiven,
    Counted,
    Ended,
    Fact,
    Founded,
    Moved,
    Noted,
    SeenInBox,
    Shelved,
    Weighed,
)
from mancary.husbandry.words import CARES, SEEN

boxes = st.sampled_from(["A01", "A02", "B10", "ÅÄ 3", "C-1"])
colonies = st.sampled_from(["A01.1", "A02.1", "B10.1"])
numbers = st.integers(0, 5000)
words = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=40)

days = st.dates(date(2024, 1, 1), date(2026, 10, 31))
moments = days.map(lambda day: day.isoformat()) | days.map(lambda day: f"{day}T10:00:00.000Z")

amounts = st.builds(
    Amount,
    low=st.floats(0, 1000),
    high=st.none() | st.floats(1000, 2000),
    unit=st.sampled_from(["g", "mL", "pinch", "not_said"]),
    as_written=words,
)
facts: st.SearchStrategy[Fact] = st.one_of(
    st.builds(
        CareGiven, box=boxes, care=st.sampled_from(CARES), amount=st.none() | amounts, note=words
    ),
    st.builds(SeenInBox, box=boxes, word=st.sampled_from(SEEN), animals=st.none() | numbers),
    st.builds(Counted, box=boxes, low=numbers, high=st.none() | numbers, as_written=words),
    st.builds(Weighed, box=boxes, gross_g=st.floats(1, 9000)),
    st.builds(Founded, colony=colonies, box=boxes, line=st.just("porcellio-scaber")),
    st.builds(Moved, colony=colonies, from_box=boxes, to_box=boxes),
    st.builds(Ended, colony=colonies, box=boxes),
    st.builds(BoxDescribed, box=boxes, litres=st.none() | st.floats(0.5, 60)),
    st.builds(Shelved, box=boxes, shelf=st.sampled_from(["A1", "B2"])),
    st.builds(Noted, what=st.just("box"), code=boxes, text=words.map(lambda text: text or "-")),
)


def entries(ids: st.SearchStrategy[str] | None = None) -> st.SearchStrategy[Entry]:
    """Entries not yet written; their ids are unique unless a strategy for them is handed in."""
    given: Any = ids or st.uuids(version=4).map(str)
    return st.builds(
        Entry,
        id=given,
        happened=moments,
        typed=st.just("2026-11-01T12:00:00.000Z"),
        fact=facts,
        clock_error_s=st.none() | st.floats(-100, 100),
    )
