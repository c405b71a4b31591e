"""Entries in the order in which they happened, the withdrawn ones left out."""

from collections.abc import Iterable
from datetime import tzinfo
from operator import itemgetter

from mancary.husbandry.entries import Entry
from mancary.husbandry.facts import Withdrawn
from mancary.husbandry.moments import order_key


def withdrawn_ids(entries: Iterable[Entry]) -> set[str]:
    """The ids of all facts that a standing withdrawal calls a mistake.

    A withdrawal may itself be withdrawn; the last word counts.
    """
    told = [entry for entry in entries if isinstance(entry.fact, Withdrawn)]
    told.sort(key=lambda entry: entry.number)
    withdrawals = {entry.id: entry.fact.mistaken for entry in told}  # type: ignore[attr-defined]
    gone: set[str] = set()
    for fact_id, mistaken in reversed(withdrawals.items()):
        if fact_id not in gone:
            gone.add(mistaken)
    return gone


def key_of(entry: Entry, zone: tzinfo) -> str:
    """Where an entry stands among those of its time."""
    return order_key(entry.happened, zone, typed=entry.typed)


def keyed(entries: Iterable[Entry], zone: tzinfo) -> list[tuple[str, int, Entry]]:
    """The standing entries with their order keys, by when they happened, then when written."""
    told = list(entries)
    gone = withdrawn_ids(told)
    standing = [
        (key_of(entry, zone), entry.number, entry)
        for entry in told
        if entry.id not in gone and not isinstance(entry.fact, Withdrawn)
    ]
    return sorted(standing, key=itemgetter(0, 1))


def in_order(entries: Iterable[Entry], zone: tzinfo) -> list[Entry]:
    """The standing entries by when they happened, then by when they were written."""
    return [entry for _, _, entry in keyed(entries, zone)]
