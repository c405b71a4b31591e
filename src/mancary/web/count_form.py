"""The forms of a count: one way of counting each, every field as typed."""

import re
from typing import Annotated, Final

from msgspec import Meta, Struct

from mancary.husbandry.refusal import Refusal
from mancary.usecases.counts import CountTyped, animals_typed, counted_as_typed, numbers_typed
from mancary.web.forms import FormError
from mancary.web.tongue import N_, _, sentence
from mancary.web.typed import number_typed, tidy

LONGEST_NOTE: Final = 2000
_LONG: Final = re.compile(r"\d{7}")
_NUMBER: Final = re.compile(r"\d{1,6}", re.ASCII)


class Way(Struct, frozen=True, kw_only=True):
    """A way of counting: its name in the form, what is said of it, its first field."""

    name: str
    words: str
    how: str
    first: str


WAYS: Final[tuple[Way, ...]] = (
    Way(
        name="hide",
        words=N_("Under one hide"),
        how=N_(
            "The same hide each time, lifted and put back: the trend shows, and little is upset."
        ),
        first="animals",
    ),
    Way(
        name="full",
        words=N_("The whole box"),
        how=N_(
            "Tells most and upsets most: sift all of it over a tray, and put it back as it lay."
        ),
        first="animals",
    ),
    Way(
        name="scoops",
        words=N_("Scoops or squares"),
        how=N_(
            "Equal scoops, or squares of the floor, from ends and middle; all counted, put back."
        ),
        first="scoops",
    ),
    Way(
        name="passes",
        words=N_("Passes, none put back between"),
        how=N_(
            "Search as long each time, keep what is found in a damp tub, put all back at the end."
        ),
        first="passes",
    ),
    Way(
        name="marks",
        words=N_("Marks on adults"),
        how=N_(
            "Only adults not about to moult; a mark goes with the shed skin, so within two weeks."
        ),
        first="marked",
    ),
    Way(
        name="band",
        words=N_("A size band at a glance"),
        how=N_("What lay open to view; an impression, held for little."),
        first="band",
    ),
    Way(
        name="guess",
        words=N_("A guess of all of them"),
        how=N_("Held to be right to about a factor of two (ours)."),
        first="animals",
    ),
)  # fmt: skip


class CountForm(Struct, frozen=True, kw_only=True):
    """``how`` names the way; its fields are as typed, those of the other ways empty.

    ``share`` in percent of the box; ``once`` was made with the page.
    """

    once: Annotated[str, Meta(max_length=64)] = ""
    how: Annotated[str, Meta(max_length=32)] = ""
    animals: str = ""
    scoops: str = ""
    share: str = ""
    passes: str = ""
    marked: str = ""
    caught: str = ""
    recaptured: str = ""
    band: str = ""
    day: str = ""
    note: str = ""

    def typed(self, box: str) -> CountTyped:
        """The count as the use-case takes it, sure to be one.

        Raises:
            FormError: naming the field; an empty field for the whole form.
        """
        way = next((one for one in WAYS if one.name == self.how), None)
        if way is None:
            raise FormError("", _("Choose how it was counted."))
        typed = self._typed(way.name)
        try:
            counted_as_typed(box, typed)
        except Refusal as fault:
            raise FormError(self._blamed(way, typed), sentence(fault)) from None
        return typed

    def _typed(self, way: str) -> CountTyped:
        note = tidy(self.note)
        if len(note) > LONGEST_NOTE:
            raise FormError(
                "note",
                _("A note of up to %(longest_note)s letters, please.", longest_note=LONGEST_NOTE),
            )
        match way:
            case "full":
                return CountTyped(full=_range(self.animals), note=note)
            case "hide":
                return CountTyped(hide=_range(self.animals), note=note)
            case "guess":
                return CountTyped(guess=_range(self.animals), note=note)
            case "scoops":
                scoops = _listed(self.scoops, "scoops")
                return CountTyped(scoops=scoops, share=self._share(), note=note)
            case "passes":
                return CountTyped(passes=_listed(self.passes, "passes"), note=note)
            case "marks":
                return CountTyped(marks=self._marks(), note=note)
        if not self.band:
            raise FormError("band", _("Choose a size band."))
        return CountTyped(band=self.band.strip().lower(), note=note)

    def _share(self) -> float:
        percent = number_typed(self.share.replace("%", ""), "share")
        if percent is None or not 0 < percent <= 100:
            raise FormError("share", _("Say what one scoop is of the box, in percent, such as 10."))
        return percent / 100

    def _marks(self) -> tuple[int, int, int]:
        return (
            _whole(self.marked, "marked"),
            _whole(self.caught, "caught"),
            _whole(self.recaptured, "recaptured"),
        )

    def _blamed(self, way: Way, typed: CountTyped) -> str:
        """The field a refusal is about."""
        if typed.share is not None and typed.share * len(typed.scoops) > 1:
            return "share"
        if typed.marks is not None and typed.marks[2] > min(typed.marks[:2]):
            return "recaptured"
        return way.first


def _range(text: str) -> tuple[int, int | None]:
    told = None if _LONG.search(text) else animals_typed(text.replace("–", "-"))
    if told is None:
        raise FormError(
            "animals",
            _("%(text)s: expected a number of animals, 37, 40-50 or 50+.", text=repr(text)),
        )
    return told


def _listed(text: str, field: str) -> tuple[int, ...]:
    told = None if _LONG.search(text) else numbers_typed(text)
    if told is None:
        raise FormError(
            field, _("%(text)s: expected whole numbers such as 25, 12, 5.", text=repr(text))
        )
    return told


def _whole(text: str, field: str) -> int:
    if not _NUMBER.fullmatch(text.strip()):
        raise FormError(field, _("%(text)s: expected a whole number.", text=repr(text)))
    return int(text)
