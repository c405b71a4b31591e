"""The register of boxes: looked through, filtered and sorted at addresses that can be kept."""

from typing import Annotated

from litestar import Response, get
from litestar.enums import MediaType
from litestar.params import Parameter

from mancary.husbandry.codes import natural
from mancary.usecases.standings import register_of
from mancary.web.desk import Asked, Desk
from mancary.web.registered import SORTS, STATES, Looking, csv_of, found_boxes
from mancary.web.threads import threaded

PAGE = 100
Words = Annotated[str, Parameter(description="words to look for", max_length=200)]
State = Annotated[str, Parameter(description=f"one of {', '.join(STATES)}", max_length=200)]
Shelf = Annotated[str | None, Parameter(description="a shelf; empty for none", max_length=40)]
Sort = Annotated[str, Parameter(description=f"one of {', '.join(SORTS)}", max_length=200)]
Turned = Annotated[str, Parameter(description="yes for the last ones first", max_length=200)]


@get("/boxes", media_type=MediaType.HTML)
@threaded
def boxes_page(
    request: Asked,
    desk: Desk,
    q: Words = "",
    which: State = "",
    shelf: Shelf = None,
    sort: Sort = "box",
    turned: Turned = "",
    after: Annotated[int, Parameter(description="how many to pass over", ge=0)] = 0,
) -> Response[str]:
    """The register: every box, found by its code, species, trade name or line."""
    asked = _asked(q, which, shelf, sort, turned)
    with desk.open() as book:
        found = found_boxes(book.book, book.zone, asked)
        shelves = {box.shelf for box in register_of(book.book, book.zone).boxes.values()}
        return book.page(
            request,
            "boxes.html",
            found=found[after : after + PAGE],
            total=len(found),
            after=after,
            page=PAGE,
            looking=asked,
            sorts=SORTS,
            states=STATES,
            shelves=sorted(shelves, key=natural),
        )


@get("/boxes.csv", media_type="text/csv")
@threaded
def boxes_csv(
    desk: Desk,
    q: Words = "",
    which: State = "",
    shelf: Shelf = None,
    sort: Sort = "box",
    turned: Turned = "",
) -> Response[str]:
    """The same boxes in the same order as a table for a spreadsheet, all of them."""
    with desk.open() as book:
        table = csv_of(found_boxes(book.book, book.zone, _asked(q, which, shelf, sort, turned)))
    return Response(
        table,
        media_type="text/csv",
        headers={"content-disposition": 'attachment; filename="boxes.csv"'},
    )


def _asked(q: str, which: str, shelf: str | None, sort: str, turned: str) -> Looking:
    return Looking(
        q=q.strip(),
        which=which if which in STATES else "",
        shelf=None if shelf == "any" else shelf,
        sort=sort if sort in SORTS else "box",
        turned=turned == "yes",
    )
