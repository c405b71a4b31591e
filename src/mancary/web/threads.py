"""Handlers that read and write the book run in a thread, so that one does not hold up another."""

from asyncio import get_running_loop
from collections.abc import Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from contextvars import copy_context
from functools import partial, wraps
from typing import Final, ParamSpec, TypeVar

_Takes = ParamSpec("_Takes")
_Gives = TypeVar("_Gives")
_AT_ONCE: Final = ThreadPoolExecutor(2, thread_name_prefix="page")
"""Two: a slow page holds up no quick one, and more only take the interpreter from each other."""


def threaded(handler: Callable[_Takes, _Gives]) -> Callable[_Takes, Awaitable[_Gives]]:
    """The handler as an async one.

    Litestar's own ``sync_to_thread`` wraps a handler twice where two methods share a path (2.25).
    """

    @wraps(handler)
    async def awaited(*args: _Takes.args, **kwargs: _Takes.kwargs) -> _Gives:
        here = partial(copy_context().run, handler, *args, **kwargs)
        return await get_running_loop().run_in_executor(_AT_ONCE, here)

    return awaited
