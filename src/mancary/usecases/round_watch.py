"""What the watch asks of the round: a look at the foremost colonies, with a count."""

from collections.abc import Collection, Mapping, Sequence
from datetime import date
from typing import Final

from msgspec.structs import replace

from mancary import handbook
from mancary.book import Book
from mancary.husbandry.sentences import tell
from mancary.husbandry.tasks import Task

WITH_A_COUNT: Final = tell("and a count, on watch")


def with_watch(
    book: Book,
    tasks: Sequence[Task],
    walk: Sequence[str],
    efforts: Mapping[str, handbook.Effort],
    *,
    on: date,
    looked: Collection[str] = (),
) -> list[Task]:
    """The tasks with a look at each box the watch asks for; one that is due anyway says why.

    Boxes that were ``looked`` into lately are not asked for again.
    """
    from mancary.usecases.watch import asked  # numpy is slow to import

    wanted = asked(book, on=on) if "look" in efforts else {}
    wanted = {box: why for box, why in wanted.items() if box not in looked}
    told = []
    for task in tasks:
        if task.care == "look" and task.box in wanted and task.due <= on:
            why = tell("%(pop)s; %(why)s", task, pop=wanted.pop(task.box))
            told.append(_asked(task, why, efforts, on))
        else:
            told.append(task)
    told += [_look(box, why, efforts, on) for box, why in wanted.items() if box in walk]
    place = {box: number for number, box in enumerate(walk)}
    # a kept plan pairs tasks of one care by their days
    return sorted(told, key=lambda one: (place[one.box], one.due, one.latest, one.care))


def _look(box: str, why: str, efforts: Mapping[str, handbook.Effort], on: date) -> Task:
    effort = efforts["look"]
    look = Task(
        box=box,
        care="look",
        due=on,
        latest=on,
        minutes=effort.minutes,
        harm=effort.harm,
        why=why,
        risk=effort.risk,
    )
    return _asked(look, why, efforts, on)


def _asked(task: Task, why: str, efforts: Mapping[str, handbook.Effort], on: date) -> Task:
    """Wanted that evening, and as pressing as a misting left out."""
    harm = max(task.harm, efforts["mist"].harm if "mist" in efforts else 0.0)
    return replace(task, due=on, latest=on, harm=harm, why=why, said=WITH_A_COUNT)
