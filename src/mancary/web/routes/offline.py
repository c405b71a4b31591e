"""What the phone's own script needs: its worker at the root, and a fresh token to send with."""

from litestar import Request, Response, get
from litestar.enums import MediaType
from litestar.template.base import csrf_token

from mancary.web.desk import Desk
from mancary.web.templating import STATIC
from mancary.web.threads import threaded


@get("/worker.js", media_type="text/javascript", who="anyone", sync_to_thread=False)
def worker() -> Response[str]:
    """The worker stands at the root, for a worker rules only what lies below it."""
    text = (STATIC / "worker.js").read_text(encoding="utf-8")
    return Response(text, media_type="text/javascript", headers={"cache-control": "no-cache"})


@get("/json/fresh", media_type=MediaType.JSON, who="stand_in", sync_to_thread=False)
def fresh(request: Request) -> dict[str, str]:  # type: ignore[type-arg]
    """The token to send with, for what was kept since before the program was last started."""
    return {"token": csrf_token({"request": request})}


@get("/manifest.webmanifest", media_type="application/manifest+json", who="anyone")
@threaded
def manifest(desk: Desk) -> dict[str, object]:
    """By what a phone puts the round on its home screen (W3C, Web Application Manifest)."""
    return {
        "name": "Mancary",
        "short_name": "Mancary",
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "background_color": "#f6f1e6",
        "theme_color": "#f6f1e6",
        "icons": [
            {"src": mark, "sizes": "any", "type": "image/svg+xml", "purpose": "any"}
            for mark in (desk.templates.globals["mark_address"],)
        ],
    }
