"""Hygrometers, and what they showed in air of known humidity."""

from typing import Annotated, ClassVar, Literal

from msgspec import Meta, Struct

from mancary.husbandry.codes import Code, Words
from mancary.husbandry.facts.base import Fact, Subject, about
from mancary.husbandry.facts.places import Humidity

Salt = Literal["MgCl2", "K2CO3", "NaBr", "NaCl", "KCl", "K2SO4"]
"""Those a keeper may be told to use; lithium chloride is poisonous and is none of them."""


class SaltReading(
    Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True
):
    """What the hygrometer showed, 0..1, shut in with a wet salt at a temperature in °C."""

    salt: Salt
    reading_rh: Humidity
    temp_c: Annotated[float, Meta(ge=10, le=30)]


class HygrometerChecked(Fact, frozen=True, kw_only=True):
    """A salt test of one hygrometer; its readings from then on are corrected by it."""

    kind: ClassVar[str] = "hygrometer_checked"
    instrument: Code
    readings: Annotated[tuple[SaltReading, ...], Meta(min_length=1, max_length=30)]
    note: Words = ""

    def subjects(self) -> tuple[Subject, ...]:
        return about(instrument=self.instrument)
