"""The front door: opens one of the faces. Only here do the command line and the pages meet."""

import sys
from datetime import date, datetime
from pathlib import Path

from mancary.cli.front import front
from mancary.settings import HOST


def serve(path: Path, port: int, today: date | None) -> None:
    """Serves the pages of the book at ``path`` on this machine until it is stopped."""
    import uvicorn

    from mancary.usecases.learning import Learner
    from mancary.usecases.pen import Pen, wall_clock
    from mancary.web.app import create_app

    if today:
        then: date = today

        def clock() -> datetime:
            return datetime.combine(then, wall_clock().timetz())

        app = create_app(path, pen=Pen(clock=clock), today=lambda: then, learns=False)
    else:
        app = create_app(path, learns=False)
    learner = Learner(path, today)
    learner.start()
    sys.stdout.write(f"The book is open at http://{HOST}:{port}/  (stop with Ctrl-C)\n")
    sys.stdout.flush()
    uvicorn.run(app, host=HOST, port=port, log_level="warning", server_header=False)
    learner.stop()


def main() -> None:
    """Runs the command line."""
    front(prog_name="mancary", obj=serve)


if __name__ == "__main__":
    main()
