"""The pen: gives a fact its id and its times."""

import secrets
from collections.abc import Callable
from datetime import UTC, datetime

from mancary.husbandry.entries import Entry, new_id
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment, instant


def wall_clock() -> datetime:
    """The instant by this machine's clock."""
    return datetime.now(UTC)


class Pen:
    """Makes entries. ``chance`` gives random bytes; hand in a seeded one to repeat a run."""

    def __init__(
        self,
        *,
        clock: Callable[[], datetime] = wall_clock,
        chance: Callable[[int], bytes] = secrets.token_bytes,
    ) -> None:
        self._clock = clock
        self._chance = chance

    def now(self) -> datetime:
        return self._clock()

    def entry(self, fact: Fact, *, happened: Moment | None = None) -> Entry:
        """An entry typed now, that happened now or at an earlier moment."""
        now = self.now()
        return Entry(
            id=new_id(now=now, chance=self._chance(10)),
            happened=happened or instant(now),
            typed=instant(now),
            fact=fact,
        )
