"""The front door: opens one of the faces. Only here do the command line and the pages meet."""

from mancary.cli.front import front
from mancary.serving import serve


def main() -> None:
    """Runs the command line."""
    front(prog_name="mancary", obj=serve)


if __name__ == "__main__":
    main()
