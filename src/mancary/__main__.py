"""The front door: opens one of the faces. Only here do the command line and the pages meet."""

import sys
from contextlib import ExitStack
from datetime import date, datetime

from mancary.cli.call import Serving
from mancary.cli.front import front
from mancary.settings import HOST, NETWORK_NAME


def serve(told: Serving) -> None:
    """Serves the pages of a book until it is stopped."""
    import uvicorn

    from mancary.access.network import announced, home_addresses
    from mancary.access.spoken import NO_NETWORK, let_in_words
    from mancary.usecases.learning import Learner
    from mancary.usecases.pen import Pen, wall_clock
    from mancary.web.app import create_app, doorkeeper
    from mancary.web.reach import Reach

    today = None
    pen = Pen()
    if told.today:
        then: date = told.today
        pen = Pen(clock=lambda: datetime.combine(then, wall_clock().timetz()))

        def today() -> date:
            return then

    keeper = doorkeeper(told.path, pen, today)
    home = home_addresses() if told.network else ()
    reach = Reach(
        names=frozenset((NETWORK_NAME, *home)) if home else frozenset(),
        addresses=tuple(f"http://{name}:{told.port}" for name in (NETWORK_NAME, *home) if home),
    )
    app = create_app(told.path, pen=pen, today=today, learns=False, keeper=keeper, reach=reach)
    learner = Learner(told.path, told.today)
    with ExitStack() as stack:
        learner.start()
        stack.callback(learner.stop)
        say(f"The book is open at http://{HOST}:{told.port}/  (stop with Ctrl-C)\n")
        if home:
            name_told = stack.enter_context(announced(NETWORK_NAME, told.port, home))
            say(let_in_words(reach.addresses, keeper.code.shown(), name_told=name_told))
        elif told.network:
            say(NO_NETWORK)
        host = "0.0.0.0" if home else HOST  # noqa: S104  asked for with --network
        uvicorn.run(app, host=host, port=told.port, log_level="warning", server_header=False,
                    proxy_headers=False)  # fmt: skip


def say(words: str) -> None:
    """Says it in the terminal at once."""
    sys.stdout.write(words)
    sys.stdout.flush()


def main() -> None:
    """Runs the command line."""
    front(prog_name="mancary", obj=serve)


if __name__ == "__main__":
    main()
