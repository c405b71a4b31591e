"""Which boxes stand on a shelf, and what the shelf is called."""

from typing import Final

from mancary.husbandry.codes import natural
from mancary.husbandry.register import Register
from mancary.web.tongue import N_, _, gettext

APART: Final = N_("Set apart")


def shelf_said(shelf: str, *, apart: bool) -> str:
    """The heading of a shelf, or of the boxes set apart on it."""
    if apart:
        return _("Set apart, shelf %(shelf)s", shelf=shelf) if shelf else gettext(APART)
    return _("Shelf %(shelf)s", shelf=shelf) if shelf else _("On no shelf")


def standing_on(shelf: str, register: Register) -> list[str]:
    """All boxes on the shelf from the left, spare ones too, those set apart not."""
    there = [
        box
        for box in register.boxes.values()
        if box.shelf == shelf and not box.retired_on and not box.quarantine
    ]
    there.sort(key=lambda box: (box.position or 10**6, natural(box.code)))
    return [box.code for box in there]
