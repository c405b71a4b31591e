"""Whether the book is as it was written, and what is odd in it."""

from litestar import Response, get
from litestar.enums import MediaType

from mancary.usecases.check import check
from mancary.web.desk import Asked, Desk
from mancary.web.threads import threaded

_SHOWN = 200


@get("/check", media_type=MediaType.HTML)
@threaded
def check_page(request: Asked, desk: Desk) -> Response[str]:
    """The seals verified, and the findings."""
    with desk.open() as book:
        checked = check(book.book)
        return book.page(
            request,
            "check.html",
            checked=checked,
            findings=checked.findings[:_SHOWN],
            more=max(0, len(checked.findings) - _SHOWN),
        )
