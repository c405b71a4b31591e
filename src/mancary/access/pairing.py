"""The code with which a phone is paired: for one phone, for a quarter of an hour."""

import secrets
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Lock
from typing import Final

GOOD_FOR: Final = timedelta(minutes=15)
DIGITS: Final = 8
MOST_WRONG: Final = 5
"""Wrong codes from anywhere, after which another code is made: one in 20 million is guessed."""


class PairingCode:
    """Held by the running program alone, and shown at the desk."""

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._lock = Lock()
        self._renew()

    def shown(self) -> str:
        """The code as it stands now, in two groups of digits."""
        with self._lock:
            if self._clock() >= self._until:
                self._renew()
            half = DIGITS // 2
            return f"{self._code[:half]} {self._code[half:]}"

    def take(self, typed: str) -> bool:
        """Whether that is the code; it is then used up."""
        digits = "".join(one for one in typed if one.isascii() and one.isdigit())
        with self._lock:
            right = secrets.compare_digest(digits, self._code) and self._clock() < self._until
            self._wrong += not right
            if right or self._wrong >= MOST_WRONG:
                self._renew()
        return right

    def _renew(self) -> None:
        self._code = f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"
        self._until = self._clock() + GOOD_FOR
        self._wrong = 0
