"""Checking the book: its seals, and what is odd in it."""

from msgspec import Struct

from mancary.book import Book, Head
from mancary.book.audit import audit
from mancary.book.pictures import folder_of, holds
from mancary.husbandry.findings import Finding, entry_findings, register_findings
from mancary.husbandry.order import keyed
from mancary.husbandry.register import read_register
from mancary.usecases.pictures import pictures_in
from mancary.usecases.zone import zone_of


class Checked(Struct, frozen=True, kw_only=True):
    """``faults`` mean that the file is not as it was written; ``findings`` are odd but possible.

    ``pictures_missing`` are not beside the book any more, or not as they were.
    """

    facts: int
    head: str
    faults: tuple[str, ...]
    findings: tuple[Finding, ...]
    pictures: int
    pictures_missing: tuple[str, ...]


def check(book: Book, *, earlier: Head | None = None) -> Checked:
    """Verifies seals, head and count; lists findings where the seals hold."""
    findings: tuple[Finding, ...] = ()
    names: tuple[str, ...] = ()
    with book.one_moment():
        result = audit(book, earlier=earlier)
        if not result.faults:
            findings = _findings(book)
            names = pictures_in(book)
    folder = folder_of(book.path)
    return Checked(
        facts=result.head.count,
        head=result.head.seal,
        faults=result.faults,
        findings=findings,
        pictures=len(names),
        pictures_missing=tuple(name for name in names if not holds(folder, name)),
    )


def _findings(book: Book) -> tuple[Finding, ...]:
    zone = zone_of(book)
    told = keyed(book.entries(), zone)
    entries = [entry for _, _, entry in told]
    register = read_register(entries, zone)
    return (*register_findings(register, zone), *entry_findings(told, register, zone))
