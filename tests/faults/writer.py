"""Writes facts one by one into the book named on the command line, and says each id once it is on
disk. It never ends by itself: the test kills it."""

import sys
from pathlib import Path

from mancary.book import open_book
from mancary.husbandry.facts import SeenInBox
from mancary.usecases.pen import Pen
from mancary.usecases.record import write


def main() -> None:
    with open_book(Path(sys.argv[1])) as book:
        pen = Pen()
        while True:
            for entry in write(book, [SeenInBox(box="A01", word="mould")], pen=pen).entries:
                sys.stdout.write(f"{entry.id}\n")
                sys.stdout.flush()


if __name__ == "__main__":
    main()
