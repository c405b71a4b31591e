"""What every fact has: a kind, a version, and the subjects it is about."""

from typing import ClassVar

from msgspec import Struct

Subject = str
"""What and which: ``box:A01``, ``colony:A01.1``, ``line:cubaris-murina``, ``fact:<id>``."""


class Fact(Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """Something that happened; never changed, only withdrawn by a later fact."""

    kind: ClassVar[str] = ""
    version: ClassVar[int] = 1

    def subjects(self) -> tuple[Subject, ...]:
        """All that this fact is about, the first one foremost."""
        raise NotImplementedError


def about(**codes: str) -> tuple[Subject, ...]:
    """Subjects from named codes, empty ones left out: ``about(box="A01", line="")``."""
    return tuple(f"{what}:{code}" for what, code in codes.items() if code)
