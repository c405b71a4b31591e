"""Work on whole colonies: found, move, split, join, end, take from; refused where it cannot be."""

from mancary.book import Book
from mancary.husbandry.codes import code, slug
from mancary.husbandry.facts import (
    Ended,
    Fact,
    Founded,
    Joined,
    LineNamed,
    LineRenamed,
    Moved,
    Split,
    Taken,
)
from mancary.husbandry.moments import Moment
from mancary.husbandry.refusal import Refusal, UnknownSubject
from mancary.husbandry.register import Register
from mancary.husbandry.sentences import tell
from mancary.husbandry.states import Box, Colony
from mancary.husbandry.words import EndCause
from mancary.usecases.admission import admit, register_at
from mancary.usecases.pen import Pen
from mancary.usecases.record import Recorded, known_box, write
from mancary.usecases.species_names import root_species
from mancary.usecases.standings import register_of


def _box(book: Book, register: Register, typed: str) -> Box:
    """The box as it was; one described only later stood empty until then."""
    named = known_box(book, typed)
    return register.boxes.get(named) or Box(named, first_told="")


def _living(register: Register, box: Box) -> Colony:
    colony = register.colony_in(box.code)
    if colony is None:
        raise Refusal(tell("Box %(code)s holds no colony then.", box))
    return colony


def _empty(box: Box) -> Box:
    if box.colony:
        raise Refusal(
            tell(
                "Box %(code)s holds colony %(colony)s already. Move or end that one first, or"
                " join the two.",
                box,
            )
        )
    if box.retired_on:
        raise Refusal(tell("Box %(code)s was taken out of use on %(retired_on)s.", box))
    return box


def next_colony(book: Book, box: str) -> str:
    """A code that no colony ever had: A01.1 for the first founded in a box, then A01.2."""
    taken = set(book.subjects("colony"))
    number = 1
    while f"{box}.{number}" in taken:
        number += 1
    return f"{box}.{number}"


def line_slug(register: Register, species: str, morph: str, locality: str = "") -> str:
    """A free name for a new line of a species."""
    base = slug(" ".join(part for part in (species, morph, locality) if part))
    if base not in register.lines:
        return base
    number = 2
    while f"{base}-{number}" in register.lines:
        number += 1
    return f"{base}-{number}"


def found(
    book: Book,
    box: str,
    species: str,
    *,
    as_bought: str,
    pen: Pen,
    morph: str = "",
    source: str = "",
    locality: str = "",
    founders: tuple[int | None, int | None] = (None, None),
    happened: Moment | None = None,
    note: str = "",
) -> Recorded:
    """A colony of a new line begins in an empty box; ``species`` is a page's plain name.

    Raises:
        Refusal: when the box holds a colony, is out of use, or is not in the book.
    """
    head = book.head()
    register = register_at(book, happened, pen=pen)
    home = _empty(_box(book, register, box))
    line = line_slug(register_of(book), species, morph, locality)
    facts: list[Fact] = [
        LineNamed(
            line=line,
            species=species,
            as_bought=as_bought,
            morph=morph,
            source=source,
            locality=locality,
        ),
        Founded(
            colony=next_colony(book, home.code),
            box=home.code,
            line=line,
            founders_low=founders[0],
            founders_high=founders[1],
            note=note,
        ),
    ]
    return admit(book, facts, pen=pen, happened=happened, expecting=head)


def move(
    book: Book,
    from_box: str,
    to_box: str,
    *,
    pen: Pen,
    why: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """The whole colony goes into another, empty box."""
    head = book.head()
    register = register_at(book, happened, pen=pen)
    old = _box(book, register, from_box)
    new = _empty(_box(book, register, to_box))
    colony = _living(register, old)
    fact = Moved(colony=colony.code, from_box=old.code, to_box=new.code, why=why)
    return admit(book, [fact], pen=pen, happened=happened, expecting=head)


def split(
    book: Book,
    box: str,
    new_box: str,
    *,
    pen: Pen,
    taken: int | None = None,
    why: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """Part of the colony begins a new one of the same line in an empty box."""
    head = book.head()
    register = register_at(book, happened, pen=pen)
    old = _box(book, register, box)
    new = _empty(_box(book, register, new_box))
    fact = Split(
        colony=_living(register, old).code,
        box=old.code,
        new_colony=next_colony(book, new.code),
        new_box=new.code,
        taken_low=taken,
        taken_high=taken,
        why=why,
    )
    return admit(book, [fact], pen=pen, happened=happened, expecting=head)


def join(
    book: Book,
    box: str,
    into_box: str,
    *,
    pen: Pen,
    mixing: bool = False,
    why: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """The colony of one box goes in with that of another.

    Raises:
        Refusal: when the two are not of one species, or not of one line and ``mixing`` does not say
            that they are meant to be mixed.
    """
    head = book.head()
    register = register_at(book, happened, pen=pen)
    old, new = _box(book, register, box), _box(book, register, into_box)
    first, second = _living(register, old), _living(register, new)
    if old.code == new.code:
        raise Refusal(tell("Box %(code)s cannot be joined with itself.", old))
    _same_line(register, old, new, mixing=mixing)
    fact = Joined(
        colony=first.code, box=old.code, into_colony=second.code, into_box=new.code, why=why
    )
    return admit(book, [fact], pen=pen, happened=happened, expecting=head)


def _same_line(register: Register, old: Box, new: Box, *, mixing: bool) -> None:
    here, there = register.line_in(old.code), register.line_in(new.code)
    if here is None or there is None or here.slug == there.slug:
        return
    if root_species(here.species) != root_species(there.species):
        raise Refusal(
            tell(
                "Box %(code)s holds %(species)s and box %(code2)s %(species2)s: two species in"
                " one box end as one. Nothing was written.",
                here,
                code=old.code,
                code2=new.code,
                species2=there.species,
            )
        )
    if not mixing:
        raise Refusal(
            tell(
                "Box %(code)s holds line %(slug)s and box %(code2)s line %(slug2)s: joined,"
                " they are mixed for good. Say that you mean to mix them. Nothing was written.",
                here,
                code=old.code,
                code2=new.code,
                slug2=there.slug,
            )
        )


def end(
    book: Book,
    box: str,
    *,
    cause: EndCause,
    pen: Pen,
    note: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """The colony of a box is no more."""
    head = book.head()
    register = register_at(book, happened, pen=pen)
    old = _box(book, register, box)
    fact = Ended(colony=_living(register, old).code, box=old.code, cause=cause, note=note)
    return admit(book, [fact], pen=pen, happened=happened, expecting=head)


def take(
    book: Book,
    box: str,
    *,
    pen: Pen,
    animals: int | None = None,
    to: str = "",
    happened: Moment | None = None,
) -> Recorded:
    """Animals leave the colony of a box: swapped, sold, given, lent."""
    head = book.head()
    register = register_at(book, happened, pen=pen)
    old = _box(book, register, box)
    fact = Taken(colony=_living(register, old).code, box=old.code, animals=animals, to=to)
    return admit(book, [fact], pen=pen, happened=happened, expecting=head)


def rename_line(
    book: Book, line: str, species: str, *, by: str, pen: Pen, morph: str = "", why: str = ""
) -> Recorded:
    """A line is now held to be of another species or morph; who says so is kept.

    Raises:
        Refusal: when there is no such line, or nobody is named.
    """
    if line not in register_of(book).lines:
        raise UnknownSubject("line", line, near=tuple(sorted(register_of(book).lines)[:3]))
    if not by.strip():
        raise Refusal(tell("Say who holds it to be so: yourself, another keeper, a publication."))
    fact = LineRenamed(line=line, species=species, by=by.strip(), morph=morph, why=why)
    return write(book, [fact], pen=pen)


def known_shelf(book: Book, typed: str) -> str:
    """The code of a shelf that is in the book.

    Raises:
        UnknownSubject: where there is none.
    """
    wanted = code(typed, what="shelf")
    if not book.is_known(f"shelf:{wanted}"):
        raise UnknownSubject("shelf", wanted, near=tuple(sorted(book.subjects("shelf"))[:3]))
    return wanted
