"""What the forms bring, and what is said when a field does not fit."""

from datetime import date
from typing import Annotated, Final

import msgspec
from msgspec import Meta, Struct

from mancary.husbandry.codes import code
from mancary.husbandry.facts import CareGiven, Counted, Fact, Noted, SeenInBox, Weighed
from mancary.husbandry.moments import Moment, on_day
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.telling import amount_said, range_said
from mancary.husbandry.words import said
from mancary.usecases.noting import facts_for
from mancary.web.tongue import _, sentence

_LONGEST_NAME: Final = 200


class FormError(Refusal):
    """A field that cannot be taken; ``field`` is its name in the form."""

    def __init__(self, field: str, sentence: str) -> None:
        super().__init__(sentence)
        self.field = field


class NoteForm(Struct, frozen=True, kw_only=True):
    """A word of the trade, how much, when (a day; now where it is empty) and words beside it.

    ``mark`` goes with a weight: just_right, too_dry, too_wet, or no_mark where none was chosen.
    ``once`` was made with the page: the same form sent twice is written once.
    """

    once: Annotated[str, Meta(max_length=64)] = ""

    word: str = ""
    amount: str = ""
    day: str = ""
    note: str = ""
    mark: str = ""

    def facts(self, box: str) -> list[Fact]:
        """The facts told of a box.

        Raises:
            FormError: naming the field.
        """
        if not self.word.strip():
            raise FormError("word", _("Choose what was given, seen, counted or weighed."))
        amount = self.note if self.word == "note" and not self.amount.strip() else self.amount
        if self.word == "weigh" and self.mark and amount.strip():
            amount = f"{amount} {said(self.mark)}"
        try:
            facts = facts_for(box, self.word, amount)
        except Refusal as fault:
            raise FormError("amount", sentence(fault)) from None
        beside = "" if self.word == "note" else " ".join(self.note.split())
        return [_with_note(fact, beside) for fact in facts]

    def happened(self) -> Moment | None:
        """The day told, or None for now.

        Raises:
            FormError: where it is no day of the calendar.
        """
        if not self.day.strip():
            return None
        try:
            return on_day(date.fromisoformat(self.day.strip()))
        except ValueError:
            raise FormError(
                "day", _("%(more)s is not a date; expected 2026-03-01.", more=repr(self.day))
            ) from None


def _with_note(fact: Fact, note: str) -> Fact:
    if not note:
        return fact
    told = getattr(fact, "note", "")
    return msgspec.structs.replace(fact, note=f"{told}; {note}" if told else note)


class WithdrawForm(Struct, frozen=True, kw_only=True):
    """Why a fact was a mistake; may be left empty. ``even_so``: though later ones rest on it."""

    why: str = ""
    even_so: str = ""


class CorrectForm(NoteForm, frozen=True, kw_only=True):
    """What is true instead; the day of the mistaken fact stays where no other is given."""

    why: str = ""


def as_told(fact: Fact) -> CorrectForm:
    """The form filled with what a fact says, so that only the mistake has to be changed."""
    match fact:
        case CareGiven(care=care, amount=amount, note=note):
            return CorrectForm(word=care, amount=amount_said(amount) if amount else "", note=note)
        case SeenInBox(word=word, animals=animals, share=share, note=note):
            part = "" if share is None else f"{share:.0%}"
            return CorrectForm(
                word=word, amount=part if animals is None else f"{animals}", note=note
            )
        case Counted(band=band, note=note) if band:
            return CorrectForm(word=band, note=note)
        case Counted(low=low, high=high, as_written=written, note=note):
            return CorrectForm(word="count", amount=written or range_said(low, high), note=note)
        case Weighed(gross_g=grams, note=note, mark=mark):
            return CorrectForm(word="weigh", amount=f"{grams:g} g", note=note, mark=mark or "")
        case Noted(text=text):
            return CorrectForm(word="note", note=text)
    return CorrectForm()


class OwnPageForm(Struct, frozen=True, kw_only=True):
    """A name the handbook does not hold, and the care group its figures are taken from."""

    name: str = ""
    care_group: str = ""

    def checked_name(self) -> str:
        """The name.

        Raises:
            FormError: where it is empty or too long for a label.
        """
        name = " ".join(self.name.split())
        if not 0 < len(name) <= _LONGEST_NAME:
            raise FormError(
                "name",
                _("A name of 1 to %(longest_name)s letters is needed.", longest_name=_LONGEST_NAME),
            )
        return name


class NewBoxForm(Struct, frozen=True, kw_only=True):
    """One box as a keeper would write it into a sheet: every field free text."""

    box: str = ""
    species: str = ""
    since: str = ""
    animals: str = ""
    litres: str = ""
    shelf: str = ""
    length: str = ""
    width: str = ""
    height: str = ""
    vents: str = ""
    damp: str = ""

    @property
    def tells_more(self) -> bool:
        """Whether anything is told of what stands folded away."""
        return any((self.length, self.width, self.height, self.vents, self.damp))

    def checked_code(self) -> str:
        """The box's code, where something is said of it.

        Raises:
            FormError: naming the field.
        """
        told = (self.species, self.litres, self.shelf, self.length, self.width, self.vents)
        if not any(one.strip() for one in told):
            raise FormError(
                "species", _("Say what lives in it, how large it is or where it stands.")
            )
        try:
            return code(self.box)
        except Refusal as fault:
            raise FormError("box", sentence(fault)) from None
