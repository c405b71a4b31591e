"""Foreign chatter does not reach the output; ours does."""

import subprocess
import sys

SCRIPT = """
import os
from mancary.usecases.quietly import quietly
print("before", flush=True)
with quietly():
    os.write(1, b"chatter\\n")
print("after", flush=True)
"""


def test_what_a_library_prints_past_python_is_dropped() -> None:
    told = subprocess.run(
        [sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=True
    )
    assert told.stdout.split() == ["before", "after"]
