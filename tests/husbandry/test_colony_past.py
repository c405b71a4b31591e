"""A colony's facts as weeks of sights: what counts for which colony, and in which week."""

from datetime import date
from zoneinfo import ZoneInfo

from mancary.husbandry.colony_past import Past, pasts_of, without
from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import (
    Counted,
    Ended,
    Fact,
    Founded,
    Joined,
    Moved,
    SeenInBox,
    Split,
    Taken,
    Withdrawn,
)
from mancary.husbandry.register import read_register
from mancary.science.belief_evidence import Dead, FullCount, IndexCount, LeftOver, Young

ZONE = ZoneInfo("Europe/Stockholm")
UNTIL = date(2026, 6, 1)


class Told:
    """Entries in the order they are told."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []

    def on(self, day: str, fact: Fact) -> str:
        number = len(self.entries) + 1
        entry = Entry(
            id=f"{number:08x}-0000-7000-8000-{number:012x}", happened=day,
            typed="2026-07-01T10:00:00.000Z", fact=fact, number=number,
        )  # fmt: skip
        self.entries.append(entry)
        return entry.id

    def pasts(self, until: date = UNTIL) -> dict[str, Past]:
        register = read_register(self.entries, ZONE)
        return pasts_of(register.colonies.values(), self.entries, ZONE, until=until)


def founded(low: int | None = 10, day: str = "2026-01-01") -> Told:
    told = Told()
    fact = Founded(colony="A.1", box="A", line="x", founders_low=low, founders_high=low)
    told.on(day, fact)
    return told


def test_sights_of_a_week_are_one_visit() -> None:
    told = founded()
    told.on("2026-01-15", Counted(box="A", how="one_hide", low=6, high=6))
    told.on("2026-01-16", SeenInBox(box="A", word="young_seen"))
    told.on("2026-01-17", SeenInBox(box="A", word="dead", animals=2))
    told.on("2026-01-18", SeenInBox(box="A", word="left_over", share=0.5))
    past = told.pasts()["A.1"]
    (visit,) = past.history(UNTIL).visits
    assert visit.week == 2
    assert visit.evidence == (IndexCount(6), Young(True), Dead(2, 1.0), LeftOver(1.0))
    assert past.founders == (10, 10)


def test_nothing_later_than_the_day_is_known() -> None:
    told = founded()
    told.on("2026-02-01", Counted(box="A", how="full", low=12, high=12))
    told.on("2026-05-01", Counted(box="A", how="full", low=2, high=2))
    early = told.pasts(date(2026, 4, 30))["A.1"]
    late = told.pasts()["A.1"]
    assert [v.evidence for v in early.history(date(2026, 4, 30)).visits] == [(FullCount(12),)]
    assert len(late.history(UNTIL).visits) == 2


def test_a_withdrawn_count_counts_for_nothing() -> None:
    told = founded()
    wrong = told.on("2026-02-01", Counted(box="A", how="full", low=2, high=2))
    told.on("2026-02-02", Withdrawn(mistaken=wrong, touches=("box:A",)))
    assert told.pasts()["A.1"].history(UNTIL).visits == ()


def test_a_colony_takes_its_past_along_and_leaves_the_boxs_behind() -> None:
    told = founded()
    told.on("2026-02-01", Counted(box="A", how="full", low=12, high=12))
    told.on("2026-03-01", Moved(colony="A.1", from_box="A", to_box="B"))
    told.on("2026-03-10", Counted(box="A", how="full", low=99, high=99))  # of nobody
    told.on("2026-04-01", Counted(box="B", how="full", low=20, high=20))
    past = told.pasts()["A.1"]
    assert [v.evidence for v in past.history(UNTIL).visits] == [(FullCount(12),), (FullCount(20),)]
    assert past.box == "B"


def test_what_is_taken_or_split_off_leaves_and_begins() -> None:
    told = founded(40)
    told.on("2026-02-01", Taken(colony="A.1", box="A", animals=5))
    told.on(
        "2026-02-02",
        Split(colony="A.1", box="A", new_colony="B.1", new_box="B", taken_low=8, taken_high=12),
    )
    pasts = told.pasts()
    assert sum(visit.taken for visit in pasts["A.1"].history(UNTIL).visits) == 15
    assert pasts["B.1"].founders == (8, 12)
    assert pasts["A.1"].last_taken == date(2026, 2, 2)


def test_an_end_by_dying_says_there_are_none_one_by_giving_away_does_not() -> None:
    for cause, gone in (("died_out", True), ("given_away", False)):
        told = founded()
        told.on("2026-03-01", Ended(colony="A.1", box="A", cause=cause))  # type: ignore[arg-type]
        visits = told.pasts()["A.1"].history(UNTIL).visits
        assert any(FullCount(0) in visit.evidence for visit in visits) is gone


def test_another_colony_put_in_makes_the_size_unknown() -> None:
    told = founded(40)
    told.on("2026-01-01", Founded(colony="B.1", box="B", line="x", founders_low=9))
    told.on("2026-03-01", Joined(colony="B.1", box="B", into_colony="A.1", into_box="A"))
    past = told.pasts()["A.1"]
    assert past.founders is None
    assert past.since == date(2026, 3, 1)


def test_a_year_is_too_vague_for_founders() -> None:
    told = founded(day="2025")
    told.on("2026-02-01", SeenInBox(box="A", word="none_seen"))
    past = told.pasts()["A.1"]
    assert past.founders is None
    assert past.history(UNTIL).visits[0].evidence == (IndexCount(0),)


def test_looked_and_saw_none_is_told_apart_from_not_looked() -> None:
    told = founded()
    told.on("2026-02-01", SeenInBox(box="A", word="young_seen", animals=0))
    told.on("2026-02-01", SeenInBox(box="A", word="dead", animals=0))
    told.on("2026-02-01", SeenInBox(box="A", word="all_gone"))
    (visit,) = told.pasts()["A.1"].history(UNTIL).visits
    assert visit.evidence == (Young(False), Dead(0, 3.0), LeftOver(0.0))


def test_one_sort_of_sight_can_be_left_out_from_a_week_on() -> None:
    told = founded()
    told.on("2026-01-15", SeenInBox(box="A", word="dead", animals=1))
    told.on("2026-03-15", SeenInBox(box="A", word="dead", animals=4))
    past = told.pasts()["A.1"]
    bare = without(past, "dead", since_week=5)
    assert [len(v.evidence) for v in past.history(UNTIL).visits] == [1, 1]
    assert [len(v.evidence) for v in bare.history(UNTIL).visits] == [1, 0]
