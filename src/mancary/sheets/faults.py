"""What can be wrong with a cell: it is refused with a reason, or asked about with choices."""

from msgspec import Struct

from mancary.husbandry.refusal import Refusal

LEAVE_OUT = "leave out"
"""The answer that leaves a row out of the book."""


class Choice(Struct, frozen=True, kw_only=True):
    """One possible answer: ``value`` is sent back, ``words`` are shown, likelihood is 0 to 1."""

    value: str
    words: str
    likelihood: float


class Fault(Struct, frozen=True, kw_only=True):
    """Why a row is refused. ``row`` is the line in the file, the first line being 1."""

    row: int
    column: str
    value: str
    why: str


class Question(Struct, frozen=True, kw_only=True):
    """What a row is asked about. One answer under ``key`` settles every question of that key."""

    key: str
    row: int
    column: str
    value: str
    why: str
    choices: tuple[Choice, ...]

    @property
    def best(self) -> Choice:
        """The likeliest choice, the first of equals."""
        return max(self.choices, key=lambda choice: choice.likelihood)


class Unreadable(Refusal):
    """A cell that does not say what its column should."""


class Unclear(Exception):
    """A cell that can be read in more than one way.

    ``key`` is empty where the question is about this text alone.
    """

    def __init__(self, why: str, choices: tuple[Choice, ...], *, key: str = "") -> None:
        super().__init__(why)
        self.why = why
        self.choices = choices
        self.key = key
