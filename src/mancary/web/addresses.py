"""How an address is written outside, and under which one it is kept.

What is done with a box stands behind its code, and a code may hold any letters a label carries, a
slash too; so the last, small-lettered part says what is asked for and goes in front inside. Codes
are upper case and never meet it.
"""

from typing import Final

_BOXES: Final = "/boxes/"
_BEHIND_A_BOX: Final[dict[str, str]] = {
    "/work": "/box-work/",
    "/figures": "/box-figures/",
    "/colony": "/box-colony/",
    "/picture": "/box-picture/",
}
_TWIN: Final = ".json"
_CODED: Final[dict[str, str]] = {"/b/": "/label/", "/pair/": "/pair-with/"}
"""What stands in QR codes: written in capitals, taken in either case."""
TWINS: Final = "/json/"
"""Where the answers for programs are kept."""


def inside(path: str) -> str:
    """The address a path from outside is kept under."""
    for coded, within in _CODED.items():
        if path[: len(coded)].lower() == coded:
            return f"{within}{path[len(coded) :]}"
    if path.endswith(_TWIN):
        return f"{TWINS}{path.removesuffix(_TWIN).lstrip('/')}"
    for end, start in _BEHIND_A_BOX.items():
        if path.startswith(_BOXES) and path.endswith(end) and len(path) > len(_BOXES + end):
            return f"{start}{path.removeprefix(_BOXES).removesuffix(end)}"
    return path


def outside(path: str) -> str:
    """The address that ``inside`` turns into this one."""
    for coded, within in _CODED.items():
        if path.startswith(within):
            return f"{coded}{path.removeprefix(within)}"
    if path.startswith(TWINS):
        return f"/{path.removeprefix(TWINS)}{_TWIN}"
    for end, start in _BEHIND_A_BOX.items():
        if path.startswith(start):
            return f"{_BOXES}{path.removeprefix(start)}{end}"
    return path
