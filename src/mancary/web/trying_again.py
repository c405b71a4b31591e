"""When something else was written meanwhile: said so, with what was typed ready to send again."""

from collections.abc import Mapping
from typing import Any, Final

from litestar import Response
from msgspec import Struct, structs

from mancary.book.trouble import MovedOn
from mancary.web.desk import Asked, OpenDesk

_OURS: Final = frozenset({"_csrf_token", "once", "do"})
_MOST_TOLD: Final = 20


def try_again(
    request: Asked,
    book: OpenDesk,
    typed: Struct | Mapping[str, Any],
    *,
    address: str,
    back: str,
    fault: MovedOn,
) -> Response[str]:
    """A page that says so; ``address`` takes the form once more, ``back`` shows how it stands."""
    fields = structs.asdict(typed) if isinstance(typed, Struct) else dict(typed)
    kept = [
        (name, text)
        for name, value in fields.items()
        for text in (value if isinstance(value, list) else [value])
        if isinstance(text, str) and text and name != "_csrf_token"
    ]
    said = [(name.replace("_", " "), text) for name, text in kept if name not in _OURS]
    return book.page(
        request,
        "moved_on.html",
        status=409,
        fault=fault,
        kept=kept,
        said=said[:_MOST_TOLD],
        more=max(0, len(said) - _MOST_TOLD),
        address=address,
        back=back,
    )
