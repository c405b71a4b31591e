"""What a press of a button on the round wrote, in words, and where the round goes on."""

import secrets
from typing import Any, Final

from msgspec import Struct

from mancary.usecases.round_kept import Done
from mancary.web.recent import Recent
from mancary.web.round_view import RoundView
from mancary.web.tongue import N_, _, counted


class Just(Struct, frozen=True):
    """What was written a moment ago, said where the round goes on: ``after`` this part of it."""

    words: str
    facts: tuple[str, ...] = ()
    minds: tuple[str, ...] = ()
    after: str = ""

    def before(self, view: RoundView) -> int:
        """The number of the next part with something to open; 0 where there is none."""
        number = next((one.number for one in view.parts if self.after in one.names), 0)
        return next((one.number for one in view.parts if one.stops and one.number > number), 0)


class Saved(Struct, frozen=True):
    """What to say, and what was marked on the form and is not written yet."""

    just: Just
    form: dict[str, Any]


HELD: Final = Just(N_("Nothing is written yet; what you marked is still marked."))
_SAID: Final[Recent[str, Saved]] = Recent(64)


def keep(saved: Saved) -> str:
    """A key that nobody can guess, under which the page that follows finds this for a while.

    A form that was written is answered by sending the browser on, so that going back or reading
    the page again never sends it twice.
    """
    key = secrets.token_urlsafe(12)
    _SAID.put(key, saved)
    return key


def kept(key: str) -> Saved | None:
    """What is held under a key, if it still is."""
    return _SAID.find(key)


def words_of(done: Done) -> str:
    """What was written of a round, in a sentence."""
    parts = [counted("%(num)s care written as given", "%(num)s cares written as given", done.given)]
    if done.skipped:
        parts.append(_("%(skipped)s as skipped", skipped=done.skipped))
    if done.left_out:
        parts.append(_("%(left_out)s left for another evening", left_out=done.left_out))
    if done.seen:
        parts.append(
            counted("%(num)s thing met on the way", "%(num)s things met on the way", done.seen)
        )
    if done.repeated:
        parts.append(_("%(repeated)s were in the book already", repeated=done.repeated))
    return f"{', '.join(parts)}."


def unwritten(data: dict[str, Any], boxes: set[str]) -> dict[str, Any]:
    """The form without what was marked of these boxes."""
    kept: dict[str, Any] = {}
    for name, value in data.items():
        told = [value] if isinstance(value, str) else list(value)
        if name in ("skip", "not"):
            told = [one for one in told if one.partition("|")[0] not in boxes]
        if name.partition("|")[2] not in boxes and told:
            kept[name] = told
    return kept
