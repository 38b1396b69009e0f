"""The routes of the JSON interface: each a short function from a request to a response.

What is computed from a list is done by the pool; what is looked up (parts, rules, examples) is answered at once from
values that never change.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import msgspec
from msgspec import Struct
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from checker import examples, rules
from checker.cards import card_of, families, search
from checker.web.limits import Limits
from checker.web.openapi import document
from checker.web.problems import MEDIA_TYPE, Problem
from checker.web.questions import STATEMENTS, form_of
from checker.web.requests import NobodyWaits, done, list_in
from checker.web.workers import Pool
from parts_library import Library
from parts_library.schema import AnyEntry

_JSON = "application/json"
_SVG = "image/svg+xml"
JOB_OF = {"/check": ("check", _JSON), "/page": ("page", _JSON), "/slips": ("slips", _JSON), "/draw": ("draw", _SVG),
          "/diagram": ("diagram", _SVG),
          "/report": ("report", "text/html; charset=utf-8"), "/meter": ("meter", _JSON),
          "/meter-sheet": ("meter-sheet", "application/xhtml+xml")}
"""The routes that take a list: which job answers, and in which media type."""

_MOST_WORDS = 200
_NO_PART = "No part is called '{name}'. Search with /parts?words="
_SEVERAL = "'{name}' could be {count} parts: {names}"
_A_FEW = 6
_CLOSED = 499  # Nobody reads it; it stands in the log, where this number is common practice.


class Shop(Struct, frozen=True):
    """What all routes share."""

    pool: Pool
    class_pool: Pool
    library: Library
    limits: Limits


def shop_of(request: Request) -> Shop:
    """The shop that the application was made with."""
    shop: Shop = request.app.state.shop
    return shop


def as_json(value: Any) -> Response:
    """A value as JSON that may be kept by the browser as long as the server runs the same version."""
    return Response(msgspec.json.encode(value), media_type=_JSON)


# ── from a list ───────────────────────────────────────────────────────────────────────────────────────────────────


async def from_list(request: Request) -> Response:
    """Any answer that is computed from a list."""
    shop = shop_of(request)
    job, kind = JOB_OF[request.url.path]
    shop.pool.must_have_room()
    text = await list_in(request)
    try:
        status, body = await done(request, shop.pool, job, text, shop.limits.seconds, shop.limits.abandoned_seconds)
    except NobodyWaits:
        return Response(status_code=_CLOSED)
    return Response(body, status, media_type=kind if status == 200 else MEDIA_TYPE)


# ── looked up ─────────────────────────────────────────────────────────────────────────────────────────────────────


async def parts(request: Request) -> Response:
    """The parts that the words fit, or without words the families."""
    words = request.query_params.get("words", "").strip()[:_MOST_WORDS]
    library = shop_of(request).library
    return as_json(search(library, words) if words else families(library))


async def part(request: Request) -> Response:
    """The card of one part."""
    library = shop_of(request).library
    return as_json(card_of(_entry(request.path_params["name"], library), library))


async def questions(request: Request) -> Response:
    """The questions that make a statement: of a part, or of a wire or pin."""
    library, name = shop_of(request).library, request.path_params["name"]
    return as_json(STATEMENTS[name]() if name in STATEMENTS else form_of(_entry(name, library), library))


def _entry(name: str, library: Library) -> AnyEntry:
    match = library.find(name[:_MOST_WORDS])
    if match.entry is not None:
        return match.entry
    if match.entries:
        some = ", ".join(entry.name for entry in match.entries[:_A_FEW])
        raise Problem(404, _SEVERAL.format(name=name, count=len(match.entries), names=some))
    raise Problem(404, _NO_PART.format(name=name))


async def why(request: Request) -> Response:
    """What a rule means."""
    rule = request.path_params["rule"]
    if rule not in rules.slugs():
        raise Problem(404, f"No rule is called '{rule}'.")
    return as_json({"rule": rule, **msgspec.structs.asdict(rules.explain(rule))})


@lru_cache
def _titles() -> tuple[dict[str, str], ...]:
    return tuple({"name": name, "title": examples.title_of(name)} for name in examples.names())


async def all_examples(request: Request) -> Response:
    """Names and titles of the examples."""
    return as_json(_titles())


async def example(request: Request) -> Response:
    """The text of one example."""
    name = request.path_params["name"]
    if name not in examples.names():
        raise Problem(404, f"No example is called '{name}'.")
    return Response(examples.text_of(name), media_type="text/plain; charset=utf-8")


async def description(request: Request) -> Response:
    """This interface in the form of OpenAPI 3.1."""
    return as_json(document())


def routes() -> list[Route]:
    """All routes of the interface."""
    return [
        *(Route(path, from_list, methods=["POST"]) for path in JOB_OF),
        Route("/parts", parts),
        Route("/parts/{name:path}", part),
        Route("/questions/{name:path}", questions),
        Route("/why/{rule}", why),
        Route("/examples", all_examples),
        Route("/examples/{name}", example),
        Route("/openapi.json", description),
    ]
