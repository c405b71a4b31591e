"""What a page that follows a form has to say: kept for a while under a key of its own.

A form that was written is answered by sending the browser on, so that going back or reading the
page again never sends it twice. Kept in memory only: after a restart the page says less.
"""

import secrets
from collections import OrderedDict
from threading import Lock
from typing import Final, Generic, TypeVar

Value = TypeVar("Value")
_MOST: Final = 64


class Stash(Generic[Value]):
    """The latest values, each under a key nobody can guess."""

    def __init__(self, most: int = _MOST) -> None:
        self._most = most
        self._held: OrderedDict[str, Value] = OrderedDict()
        self._lock = Lock()

    def keep(self, value: Value) -> str:
        """The key under which the value is held until ``most`` others came after it."""
        key = secrets.token_urlsafe(12)
        with self._lock:
            self._held[key] = value
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return key

    def find(self, key: str | None) -> Value | None:
        """The value, or None where it is not held any more."""
        with self._lock:
            return self._held.get(key) if key else None
