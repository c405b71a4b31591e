"""Keeps a library's own chatter off the output, where programs read our answers."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

_ONE_AT_A_TIME = Lock()
_OUTPUT = 1


@contextmanager
def quietly() -> Iterator[None]:
    """Whatever is written to the process's output by foreign code inside is dropped.

    The solver prints an inner name now and then, past Python and past its own switch for silence.
    """
    with _ONE_AT_A_TIME:
        sys.stdout.flush()
        kept, nowhere = os.dup(_OUTPUT), os.open(os.devnull, os.O_WRONLY)
        try:
            os.dup2(nowhere, _OUTPUT)
            yield
        finally:
            os.dup2(kept, _OUTPUT)
            os.close(kept)
            os.close(nowhere)
