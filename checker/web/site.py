"""The pages themselves and the files that they load, all read once when the server starts.

No input but the package's own data. Output: routes. A file is named in ``_KINDS`` by its ending or it is not served.
"""

from __future__ import annotations

from hashlib import blake2b
from importlib.resources import files
from pathlib import PurePath

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from checker.markup import html
from checker.report.style import stylesheet
from checker.web import class_page, page

_KINDS = {".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml",
          ".txt": "text/plain; charset=utf-8"}
_HTML = "text/html; charset=utf-8"


def _contents() -> dict[str, bytes]:
    """Every file that is served, by its name, and the style sheet that reports have."""
    found = {each.name: each.read_bytes() for each in files("checker.web").joinpath("static").iterdir()
             if PurePath(each.name).suffix in _KINDS}
    return {**found, "report.css": stylesheet().encode()}


def routes() -> list[Route]:
    """The routes of the pages and their files."""
    contents = _contents()
    tags = {name: f'"{blake2b(body, digest_size=12).hexdigest()}"' for name, body in contents.items()}

    async def static(request: Request) -> Response:
        name = request.path_params["name"]
        if name not in contents:
            return Response("There is no such file.", 404, media_type="text/plain")
        headers = {"etag": tags[name], "cache-control": "no-cache"}
        if request.headers.get("if-none-match") == tags[name]:
            return Response(status_code=304, headers=headers)
        return Response(contents[name], headers=headers, media_type=_KINDS[PurePath(name).suffix])

    return [Route("/", _list_page), Route("/class", _class_page), Route("/static/{name}", static)]


async def _list_page(request: Request) -> Response:
    return Response(html(page.document(request.scope["state"]["nonce"])), media_type=_HTML)


async def _class_page(_: Request) -> Response:
    return Response(html(class_page.document()), media_type=_HTML)
