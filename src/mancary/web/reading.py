"""How a page reads on the one device that asks: its language, its units, its size by night.

Kept in a cookie of that device, so that the phone at the rack and the desk may differ.
"""

from contextvars import ContextVar
from typing import Final, Literal, get_args

from litestar.types import Scope
from msgspec import Struct

Language = Literal["en", "en_US", "sv"]
Units = Literal["metric", "us"]
Size = Literal["usual", "night"]
COOKIE: Final = "mancary_reads"
LANGUAGES: Final[dict[str, str]] = {
    "en": "English",
    "en_US": "English, with the dates of the United States",
    "sv": "Svenska",
}
"""Each language in its own words."""


class Reading(Struct, frozen=True, kw_only=True):
    """What was chosen on this device, or what its browser asks for."""

    language: Language = "en"
    units: Units = "metric"
    size: Size = "usual"

    @property
    def tag(self) -> str:
        """The language as pages name it (RFC 5646)."""
        return self.language.replace("_", "-")

    def kept(self) -> str:
        """As the cookie holds it."""
        return f"{self.language}.{self.units}.{self.size}"


READING: ContextVar[Reading] = ContextVar("reading", default=Reading())  # noqa: B039  frozen
"""How the page reads that is being made."""


def reading(language: str, units: str, size: str) -> Reading:
    """A reading of words that came from outside; what is not known is as without a choice."""
    return Reading(
        language=language if language in get_args(Language) else "en",  # type: ignore[arg-type]
        units=units if units in get_args(Units) else "metric",  # type: ignore[arg-type]
        size=size if size in get_args(Size) else "usual",  # type: ignore[arg-type]
    )


def reading_of(scope: Scope) -> Reading:
    """The choice of the device that asks; without one, Swedish where its browser asks for that."""
    asked = ""
    for name, value in scope["headers"]:
        if name == b"cookie":
            for part in value.decode("latin-1").split(";"):
                held, _, told = part.strip().partition("=")
                if held == COOKIE and told.count(".") == 2:
                    return reading(*told.split("."))
        elif name == b"accept-language":
            asked = value.decode("latin-1").lower()
    return reading("sv" if asked.startswith("sv") else "en", "", "")
