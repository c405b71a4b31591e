"""When a care comes round again: after its rhythm, in windows that follow each other."""

from datetime import UTC, date, timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from mancary import handbook
from mancary.husbandry.facts import FigureChosen
from mancary.husbandry.standing import SeenLast, Standing
from mancary.husbandry.tasks import CHANGES, NEW_DAYS, YOUNG_DAYS, Task, tasks_of
from mancary.husbandry.wants import own_figures, wants

SPECIES = ("porcellio-scaber", "cubaris-sp-soil", "porcellio-expansus", "folsomia-candida")
START = date(2026, 11, 1)
SINCE = date(2026, 1, 1)
WEEKS = timedelta(days=28)
DISTURBING_FREE = ("look", "label_check")
NO_FIGURES: dict[str, tuple[FigureChosen, str]] = {}

past = st.integers(0, 500).map(lambda back: (START - timedelta(days=back)).isoformat())


@st.composite
def standings(draw: st.DrawFn) -> Standing:
    """Any box: what it was given when, whether young were seen, when its colony came."""
    cares = draw(st.sets(st.sampled_from(sorted(handbook.efforts())), max_size=8))
    standing = Standing(draw(st.sampled_from(["A01", "B7", "shelf 3/12"])))
    standing.given = {care: draw(past) for care in sorted(cares)}
    standing.settled = draw(past)
    standing.visited = max([standing.settled, *standing.given.values()])
    if draw(st.booleans()):
        standing.seen["young_seen"] = SeenLast(draw(past))
    return standing


def tasks(
    standing: Standing,
    species: str,
    own: dict[str, tuple[FigureChosen, str]] | None = None,
    start: date = START,
    end: date | None = None,
) -> list[Task]:
    told = wants(standing, handbook.rhythms(species), own or NO_FIGURES, on=start, zone=UTC)
    return tasks_of(
        standing,
        told,
        handbook.efforts(),
        species=species,
        start=start,
        end=end or start + WEEKS,
        zone=UTC,
        known_since=SINCE,
    )


@settings(max_examples=60, deadline=None, derandomize=True)
@given(standing=standings(), species=st.sampled_from(SPECIES))
def test_a_care_comes_again_an_interval_after_it_was_last_given(
    standing: Standing, species: str
) -> None:
    told = tasks(standing, species, end=START + timedelta(days=400))
    for care, last in standing.given.items():
        first = next((one for one in told if one.care == care and one.why.startswith("last")), None)
        rhythm = handbook.rhythms(species).get(care)
        if first is None or rhythm is None or first.why != f"last {last}" or care in CHANGES:
            continue
        blocked = date.fromisoformat(standing.settled) + timedelta(days=NEW_DAYS)
        expected = date.fromisoformat(last) + timedelta(days=rhythm.low_days)
        assert first.due == (expected if care == "look" else max(expected, blocked))


@settings(max_examples=60, deadline=None, derandomize=True)
@given(standing=standings(), species=st.sampled_from(SPECIES))
def test_a_change_falls_within_the_window_its_last_one_opens(
    standing: Standing, species: str
) -> None:
    standing.seen.clear()
    for one in tasks(standing, species, end=START + timedelta(days=500)):
        if one.care not in CHANGES or not one.why.startswith("last"):
            continue
        rhythm = handbook.rhythms(species)[one.care]
        last = date.fromisoformat(one.why.removeprefix("last ").split(",")[0])
        tolerance = handbook.efforts()[one.care].tolerance_days
        settled = date.fromisoformat(standing.settled) + timedelta(days=NEW_DAYS)
        assert last + timedelta(days=rhythm.low_days) <= one.due
        if one.due > settled:
            assert one.due <= last + timedelta(days=rhythm.high_days)
            assert one.latest == last + timedelta(days=rhythm.high_days + tolerance)


@settings(max_examples=80, deadline=None, derandomize=True)
@given(standing=standings(), species=st.sampled_from(SPECIES))
def test_the_windows_of_one_care_follow_each_other_and_open_before_they_shut(
    standing: Standing, species: str
) -> None:
    told = tasks(standing, species, end=START + timedelta(days=120))
    assert all(one.due <= one.latest for one in told)
    for care in handbook.efforts():
        rhythmic = [one for one in told if one.care == care and one.every_days]
        for before, after in pairwise(rhythmic):
            assert after.due >= before.due + timedelta(days=1)
            assert after.latest > before.latest
            assert after.why == "its rhythm"


@settings(max_examples=80, deadline=None, derandomize=True)
@given(standing=standings(), species=st.sampled_from(SPECIES))
def test_young_and_new_arrivals_are_left_alone(standing: Standing, species: str) -> None:
    came = date.fromisoformat(standing.settled)
    young = standing.seen.get("young_seen")
    for one in tasks(standing, species):
        if one.every_days and one.care != "look":
            assert one.due >= came + timedelta(days=NEW_DAYS) or one.due > START + WEEKS
        if young and one.care in CHANGES:
            assert one.due >= date.fromisoformat(young.happened) + timedelta(days=YOUNG_DAYS)


def test_without_young_a_change_may_come_sooner() -> None:
    """The check on young can fail: the same box without them is asked for its change now."""
    standing = Standing("A01")
    standing.settled, standing.given = "2024-01-01", {"substrate_half": "2026-01-01"}
    (change,) = [one for one in tasks(standing, SPECIES[0]) if one.care == "substrate_half"]
    assert change.due <= START
    standing.seen["young_seen"] = SeenLast("2026-10-25")
    assert [one for one in tasks(standing, SPECIES[0]) if one.care == "substrate_half"] == []


scopes = st.sampled_from(["all", "care_group", "species", "line", "box"])
CODES = {"all": "", "care_group": "g", "species": "s", "line": "l", "box": "A01"}
ORDER = list(CODES)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(chosen=st.dictionaries(scopes, st.integers(2, 40), min_size=1), last=st.integers(0, 39))
def test_of_the_keepers_rhythms_the_nearest_wins(chosen: dict[str, int], last: int) -> None:
    figures = {
        (scope, CODES[scope], "mist_days"): FigureChosen(
            scope=scope, code=CODES[scope], figure="mist_days", low=days, high=days, why=""  # type: ignore[arg-type]
        )
        for scope, days in chosen.items()
    }  # fmt: skip
    own = own_figures(figures, box="A01", line="l", species="s", care_group="g")
    given_on = START - timedelta(days=last)
    standing = Standing("A01")
    standing.settled, standing.given = "2024-01-01", {"mist": given_on.isoformat()}
    first = next(
        one for one in tasks(standing, SPECIES[0], own, end=START + WEEKS * 2) if one.care == "mist"
    )
    nearest = max(chosen, key=ORDER.index)
    assert first.due == given_on + timedelta(days=chosen[nearest])


def first_days(care: str, boxes: int = 96, *, start: date = START) -> list[date]:
    found = []
    for number in range(boxes):
        standing = Standing(f"B{number:02}")
        standing.settled = "2024-01-01"
        told = tasks(standing, SPECIES[0], start=start, end=START + WEEKS)
        found.append(next(one.due for one in told if one.care == care))
    return found


def test_first_days_without_a_record_are_spread_over_the_whole_rhythm() -> None:
    """96 boxes over 274 days: a quarter of the rhythm holds a quarter of them, give or take.

    The binomial spread of 96 quarters is 4.2 boxes; four times that is allowed either way.
    """
    high = handbook.rhythms(SPECIES[0])["substrate_half"].high_days
    passed = [(day - SINCE).days for day in first_days("substrate_half")]
    assert max(passed) < high
    for quarter in range(4):
        here = sum(quarter * high / 4 <= days < (quarter + 1) * high / 4 for days in passed)
        assert abs(here - 24) <= 17
    squeezed = [days % 60 for days in passed]  # what sixty days to spread over would have made
    assert sum(days < high / 4 for days in squeezed) - 24 > 17


def test_a_first_day_stays_where_it_is_while_the_evenings_go_by() -> None:
    assert first_days("mist", 20) == first_days("mist", 20, start=START + timedelta(days=4))


def test_a_care_without_a_record_is_never_past_its_window() -> None:
    standing = Standing("A24")
    standing.settled = "2026-01-05"
    told = tasks(standing, "folsomia-candida", start=START)
    blank = [task for task in told if task.why == "no record"]
    assert blank
    assert all(task.latest >= START for task in blank)
    standing.given["label_check"] = "2026-01-05"
    known = next(task for task in tasks(standing, "folsomia-candida") if task.care == "label_check")
    assert known.latest < START  # what is on record can be late
