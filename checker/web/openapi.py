"""The JSON interface in the form of OpenAPI 3.1, for programs that want to use it.

No input. Output: one value that ``/openapi.json`` gives. ``PATHS`` is the table; a test holds it against the routes, and
real answers against the schemas, which msgspec makes from the types that are encoded (JSON Schema 2020-12, as OpenAPI 3.1
takes it).
"""

from __future__ import annotations

from functools import cache
from typing import Any

import msgspec
from msgspec import Struct

from checker.cards import Card, Families, Listing
from checker.report.model import Report
from checker.rules import Explanation
from checker.slips.model import Entry
from checker.version import VERSION
from checker.web.answer import PageAnswer
from checker.web.class_table import ClassAnswer
from checker.web.questions import Form


class Path(Struct, frozen=True, kw_only=True):
    """One route: what it is for, whether it takes a list, a parameter in its path or query, the media type and schema of its
    answer, and the refusals it can give."""

    method: str
    says: str
    answer: dict[str, Any]
    media: str = "application/json"
    takes: str = ""
    in_path: str = ""
    in_query: str = ""
    refusals: tuple[int, ...] = ()


def _is(name: str) -> dict[str, Any]:
    return {"$ref": f"#/components/schemas/{name}"}


_TEXT = {"type": "string"}
_TEXT_OR_NONE = {"type": ["string", "null"]}
_OF_A_LIST = (400, 403, 413, 415, 421, 422, 500, 503)
_LOOKED_UP = (404, 421)

PATHS: dict[str, Path] = {
    "/check": Path(method="post", takes="list", says="Check a list: the report, as legwise check --format json writes it",
                   answer=_is("Report"), refusals=_OF_A_LIST),
    "/page": Path(method="post", takes="list", says="The report, with the words to it and everything that is drawn beside it",
                  answer=_is("PageAnswer"), refusals=_OF_A_LIST),
    "/slips": Path(method="post", takes="list", answer=_is("Sheet"), refusals=_OF_A_LIST,
                   says="The build sheet of a list that is clear: which slips would destroy something"),
    "/draw": Path(method="post", takes="list", says="The board, drawn from above", answer=_TEXT, media="image/svg+xml",
                  refusals=_OF_A_LIST),
    "/diagram": Path(method="post", takes="list", says="The connections without the board", answer=_TEXT,
                     media="image/svg+xml", refusals=_OF_A_LIST),
    "/meter": Path(method="post", takes="list", says="What a meter should read, as legwise meter --format json writes it",
                   answer={"type": "object"}, refusals=_OF_A_LIST),
    "/meter-sheet": Path(method="post", takes="list", says="The same as a piece of a page", answer=_TEXT,
                         media="application/xhtml+xml", refusals=_OF_A_LIST),
    "/report": Path(method="post", takes="list", says="The report as one HTML file to keep", answer=_TEXT, media="text/html",
                    refusals=_OF_A_LIST),
    "/class": Path(method="post", takes="files", says="A class: the table of all that was handed in, and files to keep",
                   answer=_is("ClassAnswer"), refusals=_OF_A_LIST),
    "/parts": Path(method="get", in_query="words", says="The parts that the words fit; without words the families of parts",
                   answer={"oneOf": [_is("Listing"), _is("Families")]}, refusals=(421,)),
    "/parts/{name}": Path(method="get", in_path="name", says="The card of one part", answer=_is("Card"), refusals=_LOOKED_UP),
    "/questions/{name}": Path(method="get", in_path="name", answer=_is("Form"), refusals=_LOOKED_UP,
                              says="What to ask to make the statement of a part, or of 'wire' or 'pin'"),
    "/why/{rule}": Path(method="get", in_path="rule", says="What a rule means, why it matters, how to check it with a meter",
                        answer=_is("Explanation"), refusals=_LOOKED_UP),
    "/examples": Path(method="get", says="The lists that come with legwise", refusals=(421,),
                      answer={"type": "array", "items": {"type": "object", "properties": {"name": _TEXT, "title": _TEXT},
                                                         "required": ["name", "title"]}}),
    "/examples/{name}": Path(method="get", in_path="name", says="The text of one of them", media="text/plain", answer=_TEXT,
                             refusals=_LOOKED_UP),
    "/openapi.json": Path(method="get", says="This description", answer={"type": "object"}, refusals=(421,)),
}
"""Every route of the interface."""

_REFUSALS = {
    400: "the body could not be read", 403: "sent by a page of another host", 404: "there is none of that name",
    413: "too large", 415: "neither text nor JSON", 421: "not a name of this server",
    422: "a list that cannot be taken, or that took too long", 500: "the checker failed", 503: "too many lists at once",
}
_FILE = {"type": "string", "contentMediaType": "application/octet-stream"}
_BODIES: dict[str, Any] = {
    "list": {"text/plain": {"schema": _TEXT}, "application/json": {"schema": {
        "type": "object", "properties": {"text": _TEXT}, "required": ["text"], "additionalProperties": False}}},
    "files": {"multipart/form-data": {"schema": {
        "type": "object", "required": ["lists"], "properties": {
            "lists": {"type": "array", "items": _FILE}, "reference": _FILE, "marks": _FILE, "roster": _FILE}}}},
}
_PROBLEM = {
    "type": "object", "required": ["title", "status", "detail"], "description": "A refusal (RFC 9457)",
    "properties": {"title": _TEXT, "status": {"type": "integer"}, "detail": _TEXT},
}
_NUMBER_OF_SLIPS = {name: {"type": "integer"} for name in ("simulated", "destructive", "not_working", "unsettled")}
_SLIP = {
    "type": "object", "required": ["right", "wrong", "edits", "rule", "severity", "parts", "message", "evidence"],
    "properties": {"right": _TEXT, "wrong": _TEXT, "rule": _TEXT, "severity": _TEXT, "message": _TEXT,
                   "edits": {"type": "array", "items": _is("Edit")}, "parts": {"type": "array", "items": _TEXT},
                   "evidence": {"type": "array", "items": _is("Evidence")}},
}
_SHEET = {
    "type": "object", "required": ["legwise", "file", "title", "by", "verdict", "summary", "look_twice"],
    "properties": {
        "legwise": _TEXT, "file": _TEXT, "title": _TEXT_OR_NONE, "by": _TEXT_OR_NONE, "verdict": _TEXT,
        "summary": {"type": "object", "properties": _NUMBER_OF_SLIPS, "required": list(_NUMBER_OF_SLIPS)},
        "look_twice": {"type": "array", "items": {
            "type": "object", "required": ["at", "line", "slips"],
            "properties": {"at": _TEXT, "line": {"type": "integer"}, "slips": {"type": "array", "items": _SLIP}}}},
    },
}


@cache
def document() -> dict[str, Any]:
    """The whole description."""
    return {
        "openapi": "3.1.0",
        "info": {"title": "legwise", "version": VERSION, "description":
                 "Says before power is applied what a breadboard wired like this would do. Nothing that is sent is kept."},
        "paths": {name: {path.method: _operation(path)} for name, path in PATHS.items()},
        "components": {"schemas": _schemas()},
    }


def _operation(path: Path) -> dict[str, Any]:
    found: dict[str, Any] = {"summary": path.says, "responses": {
        "200": {"description": "the answer", "content": {path.media: {"schema": path.answer}}},
        **{str(status): {"description": _REFUSALS[status], "content": {"application/problem+json": {"schema": _is("Problem")}}}
           for status in path.refusals}}}
    parameters = [{"name": name, "in": place, "required": place == "path", "schema": _TEXT}
                  for place, name in (("path", path.in_path), ("query", path.in_query)) if name]
    if parameters:
        found["parameters"] = parameters
    if path.takes:
        found["requestBody"] = {"required": True, "content": _BODIES[path.takes]}
    return found


def _schemas() -> dict[str, Any]:
    """The schemas of all that is encoded; of a report without the list's own text, which JSON leaves out."""
    types = (Report, PageAnswer, Card, Listing, Families, Form, Explanation, Entry, ClassAnswer)
    _, schemas = msgspec.json.schema_components(types, ref_template="#/components/schemas/{name}")
    del schemas["Report"]["properties"]["lines"], schemas["Entry"], schemas["Destructive"], schemas["Slip"]
    schemas["PageAnswer"]["properties"]["report"] = _is("Report")
    explained = schemas["Explanation"]
    explained["properties"]["rule"] = _TEXT
    explained["required"] = ["rule", *explained["required"]]
    return {**schemas, "Problem": _PROBLEM, "Sheet": _SHEET}
