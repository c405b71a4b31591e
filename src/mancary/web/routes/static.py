"""The style sheet, the scripts and the mark: read once, packed once, named by their content."""

import mimetypes
from gzip import compress
from hashlib import sha256
from typing import Annotated, Final

from litestar import Request, Response, get
from litestar.exceptions import NotFoundException
from litestar.params import Parameter
from msgspec import Struct

from mancary.web.templating import STATIC
from mancary.web.tongue import _

_PACKED_FROM = 1000
"""Shorter ones fit one packet as they are."""
_TYPES: Final = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml"}


class StaticFile(Struct, frozen=True):
    """A file as it is sent; ``packed`` is empty where that is not worth it."""

    media_type: str
    body: bytes
    packed: bytes
    mark: str


def _read() -> dict[str, StaticFile]:
    found = {}
    for path in STATIC.iterdir():
        body = path.read_bytes()
        kind = _TYPES.get(path.suffix) or mimetypes.guess_type(path.name)[0]
        found[path.name] = StaticFile(
            media_type=kind or "application/octet-stream",
            body=body,
            packed=compress(body, 9, mtime=0) if len(body) >= _PACKED_FROM else b"",
            mark=f'"{sha256(body).hexdigest()[:24]}"',
        )
    return found


_FILES: Final = _read()


@get("/static/{name:str}", media_type="text/css", who="anyone", sync_to_thread=False)
def static_file(
    request: Request,  # type: ignore[type-arg]
    name: Annotated[str, Parameter(description="the file's name", max_length=80)],
) -> Response[bytes]:
    """A file, gzipped (RFC 1952) where the browser takes that; 304 where it has it (RFC 9110)."""
    file = _FILES.get(name)
    if file is None:
        raise NotFoundException(_("Nothing stands at this address."))
    headers = {"etag": file.mark, "vary": "accept-encoding"}
    if not request.scope["query_string"]:  # without its mark the address does not tell the content
        headers["cache-control"] = "no-cache"
    if request.headers.get("if-none-match") == file.mark:
        return Response(b"", status_code=304, headers=headers, media_type=file.media_type)
    packs = file.packed and "gzip" in request.headers.get("accept-encoding", "")
    if packs:
        headers["content-encoding"] = "gzip"
    return Response(
        file.packed if packs else file.body, headers=headers, media_type=file.media_type
    )
