"""Handlers that read and write the book run in a thread, so that one does not hold up another."""

from collections.abc import Awaitable, Callable
from functools import wraps
from typing import ParamSpec, TypeVar

from litestar.concurrency import sync_to_thread

_Takes = ParamSpec("_Takes")
_Gives = TypeVar("_Gives")


def threaded(handler: Callable[_Takes, _Gives]) -> Callable[_Takes, Awaitable[_Gives]]:
    """The handler as an async one.

    Litestar's own ``sync_to_thread`` wraps a handler twice where two methods share a path (2.25).
    """

    @wraps(handler)
    async def awaited(*args: _Takes.args, **kwargs: _Takes.kwargs) -> _Gives:
        return await sync_to_thread(handler, *args, **kwargs)

    return awaited
