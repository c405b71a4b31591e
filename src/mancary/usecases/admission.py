"""Whether a fact about boxes and colonies can have been so when it is said to have been."""

from collections.abc import Sequence

from msgspec.structs import replace

from mancary.book import Book, Head
from mancary.husbandry.facts import Fact
from mancary.husbandry.moments import Moment, checked, instant, order_key
from mancary.husbandry.order import key_of, withdrawn_ids
from mancary.husbandry.refusal import Refusal
from mancary.husbandry.register import REGISTER_KINDS, Register, read_register
from mancary.husbandry.sentences import in_a_row, tell
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, past, write_entries
from mancary.usecases.standings import register_of
from mancary.usecases.zone import zone_of


def register_at(book: Book, happened: Moment | None, *, pen: Pen) -> Register:
    """The register as it was at a moment, or as it is now.

    Raises:
        Refusal: when the moment is none, or lies in the future.
    """
    if happened is None:
        return register_of(book)
    zone, now = zone_of(book), pen.now()
    moment = checked(happened, now=now, zone=zone)
    key = order_key(moment, zone, typed=instant(now))
    known = book.entries_of(REGISTER_KINDS)
    gone = withdrawn_ids(known)
    then = [entry for entry in known if entry.id not in gone and key_of(entry, zone) <= key]
    return read_register(then, zone)


def admit(
    book: Book,
    facts: Sequence[Fact],
    *,
    pen: Pen,
    happened: Moment | None = None,
    expecting: Head | None = None,
) -> Recorded:
    """Writes facts that fit what the book says of the time before and after them.

    ``expecting`` is the head as it was when the facts were thought out.

    Raises:
        Refusal: when later facts say otherwise: two colonies in one box, or one in none.
        MovedOn: when something else was written meanwhile.
    """
    happened = past(book, happened, pen=pen)
    entries = [pen.entry(fact, happened=happened) for fact in facts]
    zone, head = zone_of(book), expecting or book.head()
    known = book.entries_of(REGISTER_KINDS)
    first = head.count + 1
    told = [replace(entry, number=first + place) for place, entry in enumerate(entries)]
    new = _contradictions(read_register([*known, *told], zone))
    new -= _contradictions(read_register(known, zone))
    if new:
        when = tell("on %(happened)s", happened=happened) if happened else "now"
        raise Refusal(
            tell(
                "That cannot have been %(when)s; with what the book says of later, %(all)s."
                " Nothing was written.",
                when=when,
                all=in_a_row("; ", sorted(new)),
            )
        )
    return write_entries(book, entries, pen=pen, expecting=head)


def _contradictions(register: Register) -> set[str]:
    found = set()
    for colony in register.colonies.values():
        box = register.boxes.get(colony.box)
        if colony.ended is None and (box is None or box.colony != colony.code):
            found.add(tell("colony %(code)s would share or lose its box %(box)s", colony))
    for box in register.boxes.values():
        held = register.colonies.get(box.colony)
        if held and (held.ended is not None or held.box != box.code):
            found.add(
                tell(
                    "box %(code)s would hold colony %(code2)s, which is not there",
                    box,
                    code2=held.code,
                )
            )
    return found
