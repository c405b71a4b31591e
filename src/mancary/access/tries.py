"""Wrong tries by whom and when, so that nobody can guess for long."""

from collections import deque
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Lock
from typing import Final

MOST_WRONG: Final = 5
WITHIN: Final = timedelta(minutes=10)
_MOST_KNOWN: Final = 1000


class Tries:
    """Counts wrong tries for each address, and of all together ten times as many."""

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._wrong: dict[str, deque[datetime]] = {}
        self._lock = Lock()

    def wait(self, address: str) -> timedelta | None:
        """How long this address has to wait; None where it may try."""
        with self._lock:
            waits = [self._left(address, MOST_WRONG), self._left("", MOST_WRONG * 10)]
        longest = max(waits)
        return longest if longest > timedelta() else None

    def wrong(self, address: str) -> None:
        """Writes a wrong try down."""
        with self._lock:
            if len(self._wrong) >= _MOST_KNOWN:
                self._wrong = {"": self._wrong.get("", deque())}
            for who in (address, ""):
                self._wrong.setdefault(who, deque(maxlen=MOST_WRONG * 10)).append(self._clock())

    def _left(self, who: str, most: int) -> timedelta:
        tries, now = self._wrong.get(who, deque()), self._clock()
        while tries and tries[0] + WITHIN <= now:
            tries.popleft()
        return tries[-most] + WITHIN - now if len(tries) >= most else timedelta()
