"""What the bench of vents is asked: fields of an address that can be bookmarked."""

from collections.abc import Mapping
from typing import Final, Literal, get_args

from msgspec import Struct

from mancary.husbandry.facts.places import Air
from mancary.usecases.vent_targets import Wanted
from mancary.usecases.vents import Wish
from mancary.web.forms import FormError
from mancary.web.tongue import _
from mancary.web.typed import number_typed, tidy

_LONGEST: Final = 200


class VentsForm(Struct, frozen=True, kw_only=True):
    """The fields as typed; ``draw`` names the choice to draw, such as "lid-3"."""

    box: str = ""
    litres: str = ""
    length_cm: str = ""
    width_cm: str = ""
    height_cm: str = ""
    species: str = ""
    ventilation: str = ""
    room: str = ""
    temp_c: str = ""
    humidity: str = ""
    mm: str = ""
    ml_a_week: str = ""
    air_changes: str = ""
    draw: str = ""

    @property
    def asked(self) -> bool:
        """Whether anything was typed that says a box or what it wants."""
        return any(
            getattr(self, name) for name in self.__struct_fields__ if name not in ("room", "draw")
        )

    def wish(self) -> Wish:
        """What the keeper says.

        Raises:
            FormError: naming the field that cannot be read.
        """
        humidity = number_typed(self.humidity, "humidity")
        return Wish(
            box=self.box,
            litres=number_typed(self.litres, "litres"),
            length_cm=number_typed(self.length_cm, "length_cm"),
            width_cm=number_typed(self.width_cm, "width_cm"),
            height_cm=number_typed(self.height_cm, "height_cm"),
            drills_mm=self._drills(),
            air=self._air(),
            temp_c=number_typed(self.temp_c, "temp_c"),
            humidity=None if humidity is None else humidity / 100,
            wanted=Wanted(
                ml_a_week=number_typed(self.ml_a_week, "ml_a_week"),
                air_changes=number_typed(self.air_changes, "air_changes"),
                ventilation=self.ventilation,
                species=self.species,
            ),
        )

    def _drills(self) -> tuple[float, ...]:
        typed = (number_typed(word, "mm") for word in self.mm.replace(";", " ").split())
        return tuple(number for number in typed if number is not None)

    def _air(self) -> Air | Literal[""]:
        if not self.room:
            return ""
        for air in get_args(Air):
            if air == self.room:
                return air  # type: ignore[no-any-return]
        raise FormError(
            "room", _("%(room)s: expected cupboard, room or draughty.", room=repr(self.room))
        )


def vents_form(typed: Mapping[str, str]) -> VentsForm:
    """The form from the address; fields it does not know are left alone."""
    known = {
        name: tidy(typed[name])[:_LONGEST]
        for name in VentsForm.__struct_fields__
        if typed.get(name)
    }
    return VentsForm(**known)
