"""The latest values under their keys, some few of them, for handlers that run in threads."""

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

Key = TypeVar("Key")
Value = TypeVar("Value")


class Recent(Generic[Key, Value]):
    """Holds the ``most`` values put or found last; kept in memory only."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._held: OrderedDict[Key, Value] = OrderedDict()
        self._lock = Lock()

    def find(self, key: Key) -> Value | None:
        """The value, or None where it is not held any more."""
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
            return self._held.get(key)

    def put(self, key: Key, value: Value) -> Value:
        """Holds the value, and gives it back."""
        return self.change(key, lambda _: value)

    def change(self, key: Key, made: Callable[[Value | None], Value]) -> Value:
        """Holds what ``made`` makes of the value held before, in one step."""
        with self._lock:
            value = made(self._held.pop(key, None))
            self._held[key] = value
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return value
