"""Checking the book: its seals, and what is odd in it."""

from msgspec import Struct

from mancary.book import Book, Head
from mancary.book.audit import audit
from mancary.husbandry.findings import Finding, entry_findings, register_findings
from mancary.husbandry.order import in_order
from mancary.husbandry.register import read_register
from mancary.usecases.standings import zone_of


class Checked(Struct, frozen=True, kw_only=True):
    """``faults`` mean that the file is not as it was written; ``findings`` are odd but possible."""

    facts: int
    head: str
    faults: tuple[str, ...]
    findings: tuple[Finding, ...]


def check(book: Book, *, earlier: Head | None = None) -> Checked:
    """Verifies seals, head and count; lists findings where the seals hold."""
    result = audit(book, earlier=earlier)
    findings: tuple[Finding, ...] = ()
    if not result.faults:
        zone = zone_of(book)
        entries = in_order(book.entries(), zone)
        register = read_register(entries, zone)
        findings = (*register_findings(register), *entry_findings(entries, register))
    return Checked(
        facts=result.head.count,
        head=result.head.seal,
        faults=result.faults,
        findings=findings,
    )
