"""What was written a moment ago, said on the page that follows, with what to mind beside it."""

from collections.abc import Iterable, Sequence
from typing import Annotated
from urllib.parse import urlencode

from litestar.params import Parameter
from msgspec import Struct

from mancary.book import Book
from mancary.husbandry.facts import Fact
from mancary.husbandry.telling import told
from mancary.usecases.box_card import Told
from mancary.usecases.minds import minds

MOST = 200
WrittenIds = Annotated[
    list[str] | None, Parameter(description="the facts just written", max_items=MOST)
]


class Written(Struct, frozen=True, kw_only=True):
    """The facts to confirm, and the cautions that belong beside them."""

    told: tuple[Told, ...]
    minds: tuple[str, ...]


def written_address(address: str, ids: Iterable[str]) -> str:
    """The page that confirms these facts."""
    return f"{address}?{urlencode([('written', one) for one in ids])}#written"


def written_of(book: Book, ids: Sequence[str] | None, *, about: str = "") -> Written | None:
    """What to confirm of these facts; on a box's card (``about``) those of other boxes are not."""
    entries = [entry for one in ids or () if (entry := book.entry(one[:64])) is not None]
    shown = [entry for entry in entries if _belongs(entry.fact, about)]
    if not shown:
        return None
    return Written(
        told=tuple(
            Told(
                id=entry.id,
                kind=entry.fact.kind,
                happened=entry.happened,
                written=entry.written,
                words=told(entry.fact),
            )
            for entry in shown
        ),
        minds=minds(book, shown),
    )


def _belongs(fact: Fact, about: str) -> bool:
    boxes = [subject for subject in fact.subjects() if subject.startswith("box:")]
    return not about or not boxes or about in boxes
