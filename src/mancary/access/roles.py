"""Whoever asks for a page, and what each may do."""

from typing import Final, Literal

from msgspec import Struct

Role = Literal["anyone", "stand_in", "keeper", "desk"]
"""From least to most; each may do what those before it may, but for the stand-in's own sheet."""

_ORDER: Final[tuple[Role, ...]] = ("anyone", "stand_in", "keeper", "desk")


class Who(Struct, frozen=True, kw_only=True):
    """Whoever asks: ``id`` of the phone or the pass; empty for the desk and for a stranger."""

    role: Role
    id: str = ""
    name: str = ""

    def may(self, least: Role) -> bool:
        """Whether one who may do at least ``least`` is asked for and this is one."""
        return _ORDER.index(self.role) >= _ORDER.index(least)


NOBODY: Final = Who(role="anyone")
