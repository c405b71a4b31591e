"""Checking the book: its seals, and what is odd in it."""

from msgspec import Struct

from mancary.book import Book, Head
from mancary.book.audit import audit
from mancary.husbandry.findings import Finding, entry_findings, register_findings
from mancary.husbandry.order import keyed
from mancary.husbandry.register import read_register
from mancary.usecases.zone import zone_of


class Checked(Struct, frozen=True, kw_only=True):
    """``faults`` mean that the file is not as it was written; ``findings`` are odd but possible."""

    facts: int
    head: str
    faults: tuple[str, ...]
    findings: tuple[Finding, ...]


def check(book: Book, *, earlier: Head | None = None) -> Checked:
    """Verifies seals, head and count; lists findings where the seals hold."""
    findings: tuple[Finding, ...] = ()
    with book.one_moment():
        result = audit(book, earlier=earlier)
        if not result.faults:
            findings = _findings(book)
    return Checked(
        facts=result.head.count,
        head=result.head.seal,
        faults=result.faults,
        findings=findings,
    )


def _findings(book: Book) -> tuple[Finding, ...]:
    zone = zone_of(book)
    told = keyed(book.entries(), zone)
    entries = [entry for _, _, entry in told]
    register = read_register(entries, zone)
    return (*register_findings(register, zone), *entry_findings(told, register, zone))
