"""Serves the pages of a book: at the desk, in the home network, and there over HTTPS if asked."""

import gc
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, Final

from msgspec.structs import replace

from mancary.cli.call import Serving
from mancary.settings import HOST, NETWORK_NAME

if TYPE_CHECKING:
    from mancary.access.tls import Vouching

EVERYWHERE: Final = "0.0.0.0"  # noqa: S104  asked for with --network
_RENEWED_EVERY: Final = 6 * 3600.0


RARELY: Final = (50_000, 50, 100)
"""Ours: a page makes thousands of small things that hold no rings, and the facts kept in memory are
looked through at each sweep. Measured at the household of the bench: a third of the mean."""


def serve(told: Serving) -> None:
    """Serves the pages of a book until it is stopped."""
    gc.set_threshold(*RARELY)
    from mancary.access.network import home_addresses

    serve_at(told, home_addresses() if told.network else ())


def serve_at(told: Serving, home: Sequence[str]) -> None:
    """As ``serve``, where this machine has the addresses ``home`` in its home network."""
    from mancary.access.network import announced
    from mancary.access.spoken import NO_NETWORK, let_in_words
    from mancary.access.tls import Vouching
    from mancary.usecases.learning import Learner
    from mancary.usecases.pen import Pen, wall_clock
    from mancary.web.app import create_app, doorkeeper
    from mancary.web.reach import Reach
    from mancary.web.side_door import SideDoor

    today: Callable[[], date] | None = None
    pen = Pen()
    if told.today:
        then: date = told.today
        pen = Pen(clock=lambda: datetime.combine(then, wall_clock().timetz()))

        def today() -> date:
            return then

    keeper = doorkeeper(told.path, pen, today)
    vouched = Vouching(told.path, NETWORK_NAME, home) if told.secure and home else None
    scheme, port = ("https", told.port + 1) if vouched else ("http", told.port)
    names = (NETWORK_NAME, *home) if home else ()
    reach = Reach(
        names=frozenset(names),
        addresses=tuple(f"{scheme}://{name}:{port}" for name in names),
        authority=vouched.authority.der if vouched else b"",
    )

    def app(*, secure: bool) -> Any:  # noqa: ANN401  an ASGI app
        at = replace(reach, secure=secure)
        return create_app(told.path, pen=pen, today=today, learns=False, keeper=keeper, reach=at)

    learner = Learner(told.path, told.today)
    with ExitStack() as stack:
        learner.start()
        stack.callback(learner.stop)
        say(f"The book is open at http://{HOST}:{told.port}/  (stop with Ctrl-C)\n")
        if home:
            name_told = stack.enter_context(announced(NETWORK_NAME, port, home))
            way = f"http://{names[0] if name_told else home[0]}:{told.port}" if vouched else ""
            code = keeper.code.shown()
            say(let_in_words(reach.addresses, code, name_told=name_told, authority_at=way))
        elif told.network:
            say(NO_NETWORK)
        first = app(secure=False)
        if vouched:
            stack.enter_context(_beside(app(secure=True), port, vouched))
            first = SideDoor(first, reach, port)
        _listen(first, EVERYWHERE if home else HOST, told.port).run()


def _listen(app: Any, host: str, port: int, **more: Any) -> Any:  # noqa: ANN401  ASGI, uvicorn
    import uvicorn

    return uvicorn.Server(
        uvicorn.Config(app, host=host, port=port, log_level="warning", server_header=False,
                       proxy_headers=False, **more)
    )  # fmt: skip


@contextmanager
def _beside(app: Any, port: int, vouched: "Vouching") -> Iterator[None]:  # noqa: ANN401  ASGI
    """Serves over HTTPS while the block runs; the certificate is renewed without a new start."""
    over = threading.Event()
    server = _listen(app, EVERYWHERE, port, ssl_context_factory=lambda *_: vouched.context)

    def renewing() -> None:
        while not over.wait(_RENEWED_EVERY):
            vouched.renew()

    threads = [threading.Thread(target=one, daemon=True) for one in (server.run, renewing)]
    for one in threads:
        one.start()
    try:
        yield
    finally:
        over.set()
        server.should_exit = True
        threads[0].join(10)


def say(words: str) -> None:
    """Says it in the terminal at once."""
    sys.stdout.write(words)
    sys.stdout.flush()
