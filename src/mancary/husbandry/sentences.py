"""What the book works out in words: English that still knows the message it was made from.

To the command line, to paper and to a test such words are a plain English string. A page that is
read in another language looks its message up in a catalogue, as GNU gettext has it, and fills the
same places anew (see ``mancary.web.spoken``). A message without values is taken as it stands; in
one with values a percent sign is written twice, as in printf.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Final, Self

_PLACE: Final = re.compile(r"%\((\w+)\)")


class Told(str):
    """A string, with the message and the values it was filled with, which may be ``Told`` too."""

    __slots__ = ("capital", "message", "values")
    message: str
    values: Mapping[str, object]
    capital: bool
    """Whether its first letter is made large after it was looked up."""

    def __new__(cls, message: str, values: Mapping[str, object], *, capital: bool = False) -> Self:
        """Filled in English."""
        said = message % values if values else message
        made = super().__new__(cls, said[:1].upper() + said[1:] if capital else said)
        made.message, made.values, made.capital = message, values, capital
        return made

    def __reduce__(self) -> tuple[object, ...]:
        """A copy is made from the message and the values again."""
        return _copied, (self.message, dict(self.values), self.capital)

    def __add__(self, other: str) -> str:
        """Goes on with other words, and both are still known."""
        return in_a_row("", (self, other))

    def __radd__(self, other: str) -> str:
        """Words before it, and both are still known."""
        return in_a_row("", (other, self))


def _copied(message: str, values: Mapping[str, object], capital: bool) -> Told:  # noqa: FBT001
    return Told(message, values, capital=capital)


def tell(message: str, of: object = None, /, **values: object) -> str:
    """A message with its places, such as ``%(box)s`` or ``%(grams).1f``, filled.

    What is not among ``values`` is an attribute of ``of``. The messages are gathered from the
    source by this name: it is given a literal string.

    Raises:
        AttributeError: when a place is neither among the values nor an attribute.
    """
    if of is not None:
        missing = [name for name in _PLACE.findall(message) if name not in values]
        values |= {name: getattr(of, name) for name in missing}
    return Told(message, values)


def plain(value: object) -> str:
    """For encoders, which know strings and no kinds of them: the English words.

    Raises:
        NotImplementedError: for anything else, as msgspec asks of its hooks.
    """
    if isinstance(value, Told):
        return str(value)
    raise NotImplementedError(type(value))


def capital(words: str) -> str:
    """The same words begun with a capital letter."""
    if isinstance(words, Told):
        return Told(words.message, words.values, capital=True)
    return words[:1].upper() + words[1:]


def in_a_row(between: str, words: Iterable[str]) -> str:
    """The words with something between them, as ``str.join``; each is still known."""
    each = list(words)
    if not any(isinstance(one, Told) for one in (between, *each)):
        return between.join(each)
    values: dict[str, object] = {f"p{at}": one for at, one in enumerate(each)}
    if isinstance(between, Told):
        return Told(
            "%(between)s".join(map("%({})s".format, values)), {**values, "between": between}
        )
    return Told(between.replace("%", "%%").join(map("%({})s".format, values)), values)
