"""The form of a salt test: rows of a salt, what was shown over it and how warm it was."""

from collections.abc import Mapping
from typing import Final, cast, get_args

from mancary.husbandry.codes import code
from mancary.husbandry.facts import HygrometerChecked
from mancary.husbandry.facts.instruments import Salt, SaltReading
from mancary.husbandry.hygrometers import salt_line, salt_point
from mancary.husbandry.refusal import Refusal
from mancary.usecases.hygrometers import checked_fact
from mancary.web.forms import FormError
from mancary.web.measures import num
from mancary.web.tongue import _, sentence
from mancary.web.typed import number_typed, tidy

ROWS: Final[tuple[tuple[int, str], ...]] = ((1, "NaCl"), (2, "MgCl2"), (3, "K2CO3"), (4, ""))
"""The rows of the form, and the salt each offers first."""

LONGEST_NOTE: Final = 400
"""Ours: what a note beside a test needs at most."""


def check_typed(form: Mapping[str, str]) -> HygrometerChecked:
    """The test that was typed; rows with neither a humidity nor a temperature are passed over.

    Raises:
        FormError: naming the field.
    """
    instrument = _instrument(form.get("instrument", ""))
    rows = [(n, found) for n, _ in ROWS if (found := _row(form, n)) is not None]
    if not rows:
        raise FormError("shown:1", _("Say what it showed over at least one salt."))
    note = tidy(form.get("note", ""))
    if len(note) > LONGEST_NOTE:
        raise FormError(
            "note",
            _("A note of up to %(longest_note)s letters, please.", longest_note=LONGEST_NOTE),
        )
    try:
        return checked_fact(instrument, [reading for _, reading in rows], note=note)
    except Refusal as fault:
        raise FormError(f"shown:{rows[-1][0]}", sentence(fault)) from None


def _instrument(typed: str) -> str:
    try:
        return code(typed, what="hygrometer")
    except Refusal as fault:
        raise FormError("instrument", sentence(fault)) from None


def _row(form: Mapping[str, str], n: int) -> SaltReading | None:
    shown = number_typed(form.get(f"shown:{n}", "").replace("%", ""), f"shown:{n}")
    temp_c = number_typed(form.get(f"temp:{n}", "").replace("°C", ""), f"temp:{n}")
    if shown is None and temp_c is None:
        return None
    salt = form.get(f"salt:{n}", "")
    if salt not in get_args(Salt):
        raise FormError(f"salt:{n}", _("Say which salt it was."))
    if shown is None:
        raise FormError(f"shown:{n}", _("Say what the hygrometer showed, in percent."))
    if temp_c is None:
        raise FormError(f"temp:{n}", _("Say how warm it was in there, in °C."))
    if not 1 < shown <= 100:
        raise FormError(
            f"shown:{n}",
            _("%(shown)s: expected the humidity in percent, like 78.5.", shown=num(shown)),
        )
    return _near(SaltReading(salt=cast("Salt", salt), reading_rh=shown / 100, temp_c=temp_c), n)


def _near(reading: SaltReading, n: int) -> SaltReading:
    """The reading, if it can be one: each salt is asked alone, so that its own field is named."""
    try:
        salt_point(reading)
    except Refusal as fault:
        raise FormError(f"temp:{n}", sentence(fault)) from None
    try:
        salt_line((reading,))
    except Refusal as fault:
        raise FormError(f"shown:{n}", sentence(fault)) from None
    return reading
