"""What the keeper's own colonies teach, from when, and how it is kept."""

from datetime import date, timedelta

from mancary.husbandry.colony_pace import Pace
from mancary.husbandry.colony_past import Look, Past
from mancary.husbandry.colony_weights import (
    LEARN_WEEKS,
    Weights,
    lessons,
    monday,
    pack_weights,
    taught,
    unpack_weights,
    untaught,
)
from mancary.husbandry.facts import Counted
from mancary.husbandry.sight_evidence import counted_evidence

SINCE = date(2026, 1, 5)
ON = date(2026, 6, 3)
PACE = Pace(archetype=None, temp_c=22.0, temp_said="", best=None, said="")


def colony(number: int, weeks: tuple[int, ...], animals: int = 6, since: date = SINCE) -> Past:
    looks = []
    for week in weeks:
        day = since + timedelta(weeks=week)
        fact = Counted(box="A", how="one_hide", low=animals, high=animals)
        looks.append(Look(week, day, counts=[(day, fact, counted_evidence(fact))]))
    return Past(
        colony=f"C{number}", box="A", line="x", since=since, founders=(12, 12),
        looks=tuple(looks), ended=None,
    )  # fmt: skip


def learned_from(pasts: dict[str, Past]) -> Weights:
    return taught(lessons(pasts, monday(ON)), dict.fromkeys(pasts, PACE))


def room(
    many: int, weeks: tuple[int, ...] = (4, 8, 12, 16), since: date = SINCE
) -> dict[str, Past]:
    return {f"C{n}": colony(n, weeks, since=since) for n in range(many)}


def test_the_week_begins_on_monday() -> None:
    assert monday(ON) == date(2026, 6, 1)
    assert monday(date(2026, 6, 1)) == date(2026, 6, 1)


def test_a_few_colonies_teach_nothing_and_it_is_said() -> None:
    pasts = room(29)
    told = learned_from(pasts)
    assert not told.learned
    assert "29 of your colonies" in told.said


def test_thirty_colonies_teach_and_the_order_is_of_no_account() -> None:
    pasts = room(30)
    told = learned_from(pasts)
    assert told.learned
    turned = dict(reversed(pasts.items()))
    assert learned_from(turned).model == told.model
    assert told.model != untaught(monday(ON), 30).model


def test_what_lies_far_back_teaches_nothing() -> None:
    begun = monday(ON) - timedelta(weeks=LEARN_WEEKS + 20)
    old = room(30, (1, 2, 3, 4), begun)
    assert lessons(old, monday(ON)).telling == 0
    told = learned_from(old)
    assert not told.learned
    assert "0 of your colonies have 4 looks or more in their last 60 weeks" in told.said
    late = room(30, (1, 2, 24, 34, 44, 54), begun)
    assert learned_from(late).learned


def test_kept_weights_come_back_the_same_and_rubbish_not_at_all() -> None:
    weights = untaught(monday(ON), 3)
    assert unpack_weights(pack_weights(weights)) == weights
    assert unpack_weights(b"rubbish") is None
    assert unpack_weights(None) is None


def test_a_look_written_late_makes_another_lesson_and_one_of_this_week_none() -> None:
    before = room(31)
    first = lessons(before, monday(ON)).fingerprint
    late = {**before, "C3": colony(3, (4, 8, 10, 12, 16))}
    assert lessons(late, monday(ON)).fingerprint != first
    withdrawn = {**before, "C3": colony(3, (4, 8, 12, 16), animals=5)}
    assert lessons(withdrawn, monday(ON)).fingerprint != first
    this_week = {**before, "C3": colony(3, (4, 8, 12, 16, 21))}
    assert (monday(ON) - SINCE).days // 7 == 21
    assert lessons(this_week, monday(ON)).fingerprint == first
