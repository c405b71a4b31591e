"""What is asked where a row and the book do not agree on who lives in a box.

The likelihoods are ours and rest on no count of real sheets.
"""

from typing import Final, Literal

from mancary.husbandry.moments import Moment
from mancary.sheets.faults import LEAVE_OUT, Choice
from mancary.usecases.take_in.living import Stay

Kin = Literal["same", "morph", "other"]
"""The very line, another morph of its species, or another species."""

KEEP: Final = "keep the book's"
NEW: Final = "a new colony"
NEW_ENDED: Final = "a new colony; the one before ended, cause not known"
ALONE: Final = "the box alone"
AS_SAID: Final = "as it stands"
NOTE: Final = "note"

_KEPT: Final[dict[tuple[Kin, bool], float]] = {
    ("same", False): 0.6,
    ("same", True): 0.8,
    ("morph", False): 0.5,
    ("morph", True): 0.75,
    ("other", False): 0.35,
    ("other", True): 0.5,
}
_OUT = "leave this row out"


def _leave_out(likelihood: float, words: str = _OUT) -> Choice:
    return Choice(value=LEAVE_OUT, words=words, likelihood=likelihood)


def beside(
    lives: str, box: str, *, kin: Kin, same_day: bool, may_end: bool
) -> tuple[str, tuple[Choice, ...]]:
    """The question about a row that tells of another colony than the one that lives there.

    ``may_end`` is False where the row's day is not after the coming of the one that lives there.
    """
    what = {
        "same": "a colony of this line, come on another day",
        "morph": "another morph of this species",
        "other": "another species",
    }[kin]
    kept = _KEPT[kin, same_day]
    keep = Choice(value=KEEP, words=f"the colony that is there: {lives}", likelihood=kept)
    why = f"the book has {what} in {box}: {lives}"
    if not may_end:
        return f"{why}; this row's day is not after that", (keep, _leave_out(0.9 - kept))
    new = Choice(value=NEW_ENDED, words=NEW_ENDED, likelihood=0.9 - kept)
    return why, (keep, new, _leave_out(0.1))


def emptied(
    box: str,
    last: Stay | None,
    *,
    retired: Moment | None,
    since: Moment | None,
    lags: bool,
) -> tuple[str, tuple[Choice, ...]]:
    """The question about a row for a box that nobody lives in any more, or that is out of use.

    ``since`` is the day on which a new colony would begin, None where none can. ``lags`` is True
    where the row may only lag behind: it tells of no other line or day than of the one that left.
    """
    alone = Choice(value=ALONE, words="write of the box alone: no colony, no count", likelihood=0.2)
    if retired:
        return f"box {box} was taken out of use on {retired}", (alone, _leave_out(0.7))
    if last:
        why = f"{box} is empty in the book: its colony {last.colony} {last.why_left}"
    else:
        why = f"the book had this colony in {box}, and it was withdrawn as a mistake"
    if since is None:
        return f"{why}, after the day of these figures", (alone, _leave_out(0.7))
    stale = lags or bool(last and "moved" in last.why_left)
    new = Choice(
        value=NEW,
        words=f"a new colony in this box, here by {since}",
        likelihood=0.2 if stale else 0.5,
    )
    out = f"still {last.colony}, which {last.why_left}: {_OUT}" if lags and last else _OUT
    return why, (new, alone, _leave_out(0.5 if stale else 0.3, out))


def nobody() -> tuple[Choice, ...]:
    """The choices for a count in a box without a colony."""
    return (
        Choice(value=ALONE, words="write of the box alone, without the count", likelihood=0.6),
        _leave_out(0.3),
    )


def not_there(
    box: str, last: Stay | None, *, retired: Moment | None, of_animals: bool
) -> tuple[str, tuple[Choice, ...]]:
    """The question about a line of a journal for a box that nobody lived in on that day."""
    if retired:
        why = f"box {box} was taken out of use on {retired}"
    elif last:
        why = f"nobody lived in {box} that day: its colony {last.colony} {last.why_left}"
    else:
        why = f"the book has no colony that lived in {box} that day"
    note = Choice(value=NOTE, words="keep the line's words as a note", likelihood=0.5)
    if of_animals:
        return why, (note, _leave_out(0.4))
    said = Choice(value=AS_SAID, words="write it of the box as it stands", likelihood=0.4)
    return why, (said, note, _leave_out(0.2))
