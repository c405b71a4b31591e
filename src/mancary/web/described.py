"""What programs are told of the addresses: OpenAPI at /openapi.json, and no page of anybody's."""

from typing import Any, Final

from litestar import Request
from litestar.openapi.config import OpenAPIConfig
from litestar.openapi.plugins import JsonRenderPlugin

from mancary import __version__
from mancary.web.addresses import TWINS, outside

Operation = dict[str, Any]


class _Twins(JsonRenderPlugin):
    """Names what is kept elsewhere by its outside address, and says what comes instead."""

    def render(self, request: Request[Any, Any, Any], openapi_schema: dict[str, Any]) -> bytes:
        paths = {
            outside(path): {
                method: _with_refusal(operation, twin=path.startswith(TWINS))
                for method, operation in item.items()
            }
            for path, item in openapi_schema["paths"].items()
        }
        return self.render_json(request, {**openapi_schema, "paths": paths})


def _with_refusal(operation: Operation, *, twin: bool) -> Operation:
    """Any other status brings a sentence, as JSON for the twins and as a page elsewhere."""
    kept = {status: told for status, told in operation["responses"].items() if status != "400"}
    media = {"application/json": {"schema": _SAID}} if twin else {"text/html": {}}
    otherwise = {"description": "What was refused or not found, in a sentence.", "content": media}
    return {**operation, "responses": {**kept, "default": otherwise}}


_SAID: Final = {
    "type": "object",
    "required": ["status", "error", "fields"],
    "properties": {
        "status": {"type": "integer"},
        "error": {"type": "string"},
        "fields": {"type": "array", "items": {"type": "string"}},
    },
}


def openapi() -> OpenAPIConfig:
    """The description of this version."""
    return OpenAPIConfig(
        title="Mancary",
        version=__version__,
        description=(
            "The stock book of someone who keeps many colonies of land isopods in boxes."
            " Addresses that end in .json are for programs; keys carry their unit."
        ),
        path="/json/openapi",
        render_plugins=[_Twins(path="/document")],
        use_handler_docstrings=True,
    )
