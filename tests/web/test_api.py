"""The JSON interface: what each address gives, what it refuses, and that its own description is true."""

from __future__ import annotations

import json
from http import HTTPStatus
from http.client import HTTPConnection
from typing import Any

import msgspec
import pytest
from jsonschema import Draft202012Validator

from checker import examples, rules
from checker.cards import card_of, families, search
from checker.checking import check
from checker.report import Page, render
from checker.survey import survey
from checker.version import VERSION
from checker.web import api
from checker.web.application import Settings, application
from checker.web.openapi import PATHS, document
from checker.web.proposing import sights_of
from parts_library import load_library
from tests.web.running import TEXT, Running

CLEAR = """\
title "Tide tank lamp"
board half
supply PACK 5V limit 1A on L+ L-
part R1 470 in a5 a10
part LED1 led red in b10 b15 long b10
wire L+ to c5
wire c15 to L-
"""
REVERSED = CLEAR.replace("long b10", "long b15")
UNREADABLE = CLEAR + "wire a20 to\n"
JSON = {"content-type": "application/json"}


# ── from a list ───────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("text", [CLEAR, REVERSED, UNREADABLE, "", "\x00\ud7ff", "part R1 220 in a1 a1"])
def test_check_gives_what_the_command_writes_as_json(server: Running, text: str) -> None:
    expected = render("json", [check(text, "list.legs")], Page())

    assert expected == server.ask("/check", text).body.decode()
    assert expected == server.ask("/check", json.dumps({"text": text}), JSON).body.decode()


def test_the_page_gets_the_same_report_with_its_words_and_drawings(server: Running) -> None:
    answer = server.ask("/page", REVERSED).json
    (finding,) = answer["words"]["findings"]

    assert server.ask("/check", REVERSED).json == answer["report"]
    assert answer["words"]["verdict"] == "WILL NOT WORK"
    assert finding["severity"] == "Fault"
    assert [edit["after"] for edit in finding["edits"][0]] == ["part LED1 led red in b10 b15 long b10"]
    assert [(part["name"], part["entry"], part["line"]) for part in answer["parts"]] == [
        ("PACK", "", 3), ("R1", "resistor", 4), ("LED1", "led red", 5)]
    assert 'data-part="LED1"' in answer["drawing"]


def test_where_a_word_could_not_be_read_the_nearest_is_proposed(server: Running) -> None:
    answer = server.ask("/page", CLEAR.replace("wire L+", "wrie L+")).json

    assert answer["spellings"] == [{"line": 6, "column": 1, "end_column": 5, "write": "wire"}]


@pytest.mark.parametrize(("line", "seen"), [
    ("part LED1 led red in b10 b15   # the lamp", {
        "the longer leg is at b10": "part LED1 led red in b10 b15 long b10   # the lamp",
        "the longer leg is at b15": "part LED1 led red in b10 b15 long b15   # the lamp"}),
    ("part LED1 led red in b10 b15 long b10", {}),
])
def test_what_the_list_leaves_open_can_be_answered(server: Running, line: str, seen: dict[str, str]) -> None:
    answer = server.ask("/page", CLEAR.replace("part LED1 led red in b10 b15 long b10", line)).json

    assert {sight["words"]: sight["text"] for sight in answer["sights"]} == seen


def test_a_claim_takes_the_place_of_a_claim() -> None:
    surveyed = survey([examples.text_of("seed-tray-mister-pin-order-open")], load_library())[0]
    texts = [sight.text for sight in sights_of(surveyed)]

    assert len(texts) == 2
    assert all(text.count(" as ") == 1 and text.count("measured") == 1 for text in texts)


def test_the_build_sheet_is_for_a_list_that_is_clear(server: Running) -> None:
    refused = server.ask("/slips", REVERSED)

    assert server.ask("/slips", CLEAR).json["summary"]["simulated"] > 10
    assert (refused.status, "WILL NOT WORK" in refused.detail) == (422, True)


@pytest.mark.parametrize(("path", "kind", "begins"), [
    ("/draw", "image/svg+xml", "<svg"), ("/diagram", "image/svg+xml", "<svg"),
    ("/meter-sheet", "application/xhtml+xml", "<section"),
    ("/report", "text/html; charset=utf-8", "<!DOCTYPE html>"), ("/meter", "application/json", "{"),
])
def test_what_is_drawn_comes_in_its_media_type(server: Running, path: str, kind: str, begins: str) -> None:
    answer = server.ask(path, CLEAR)

    assert (answer.status, answer.headers["content-type"]) == (200, kind)
    assert answer.body.decode().startswith(begins)


# ── looked up ─────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("path", "expected"), [
    ("/parts", lambda: families(load_library())),
    ("/parts?words=2222", lambda: search(load_library(), "2222")),
    ("/parts/1N4001", lambda: card_of(load_library().entries["1N4001"], load_library())),
    ("/parts/led%20red", lambda: card_of(load_library().entries["led red"], load_library())),
])
def test_parts_are_those_of_the_library(server: Running, path: str, expected: Any) -> None:
    assert json.loads(msgspec.json.encode(expected())) == server.ask(path).json


def test_rules_and_examples_are_those_that_ship(server: Running) -> None:
    assert rules.explain("no-clamp").means == server.ask("/why/no-clamp").json["means"]
    assert list(examples.names()) == [each["name"] for each in server.ask("/examples").json]
    assert examples.text_of("dusk-lamp") == server.ask("/examples/dusk-lamp").body.decode()


# ── refused ───────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("path", "body", "headers", "status", "says"), [
    ("/check", "{", JSON, 400, "This is no JSON in the form"),
    ("/check", '{"text": 3}', JSON, 400, "Expected `str`, got `int`"),
    ("/check", '{"text": "", "file": "/etc/hosts"}', JSON, 400, "unknown field `file`"),
    ("/check", "<list/>", {"content-type": "application/xml"}, 415, "this is application/xml"),
    ("/check", "x" * 300_000, TEXT, 413, "larger than the 256 KB"),
    ("/check", "\n" * 2_500, TEXT, 422, "A list may have 2000 lines; this one has 2501."),
    ("/check", "".join(f"R{n} 220 in a1 a5\n" for n in range(501)), TEXT, 422, "A list may have 500 parts; this one has 501."),
    ("/class", CLEAR, TEXT, 415, "multipart/form-data"),
    ("/parts/no-such-part", None, None, 404, "No part is called 'no-such-part'"),
    ("/parts/7", None, None, 404, "No part is called '7'"),
    ("/questions/no-such-part", None, None, 404, "No part is called"),
    ("/why/no-such-rule", None, None, 404, "No rule is called"),
    ("/examples/..%2Fcli", None, None, 404, "nothing at this address"),
    ("/no-such-page", None, None, 404, "nothing at this address"),
    ("/check", None, None, 405, "does not take GET"),
])
def test_a_refusal_says_why(server: Running, path: str, body: str | None, headers: dict[str, str] | None, status: int,
                            says: str) -> None:
    answer = server.ask(path, body, headers)

    assert (answer.status, answer.headers["content-type"]) == (status, "application/problem+json")
    assert says in answer.detail
    assert {"title", "status", "detail"} == set(answer.json)


def test_a_body_that_hides_its_length_is_counted(server: Running) -> None:
    connection = HTTPConnection("127.0.0.1", server.port, timeout=60)
    connection.request("POST", "/check", (b"# a comment\n" * 1000 for _ in range(30)), TEXT, encode_chunked=True)
    response = connection.getresponse()

    assert (response.status, json.loads(response.read())["title"]) == (413, HTTPStatus.REQUEST_ENTITY_TOO_LARGE.phrase)
    connection.close()


# ── described ─────────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_description_names_every_route_and_no_other() -> None:
    inner = application(Settings(workers=1))._inner
    routes = {(route.path.replace(":path}", "}"), method.lower()) for route in inner.routes  # type: ignore[attr-defined]
              for method in route.methods - {"HEAD"}}
    pages = {("/", "get"), ("/class", "get"), ("/static/{name}", "get")}

    assert routes - pages == {(name, path.method) for name, path in PATHS.items()}
    assert set(api.JOB_OF) == {name for name, path in PATHS.items() if path.takes == "list"}


def test_the_description_is_openapi_with_whole_references(server: Running) -> None:
    described = server.ask("/openapi.json").json
    text = json.dumps(described)
    names = {name.split('"')[0] for name in text.split('"#/components/schemas/')[1:]}

    assert described == json.loads(json.dumps(document()))
    assert (described["openapi"], described["info"]["version"]) == ("3.1.0", VERSION)
    assert names <= set(described["components"]["schemas"])
    for schema in described["components"]["schemas"].values():
        Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize(("path", "route", "body"), [
    ("/check", "/check", CLEAR), ("/check", "/check", UNREADABLE), ("/page", "/page", REVERSED), ("/slips", "/slips", CLEAR),
    ("/meter", "/meter", CLEAR), ("/parts", "/parts", None), ("/parts?words=led", "/parts", None),
    ("/parts/74HC595", "/parts/{name}", None), ("/questions/led%20red", "/questions/{name}", None),
    ("/questions/wire", "/questions/{name}", None), ("/why/too-hot", "/why/{rule}", None), ("/examples", "/examples", None),
])
def test_what_is_answered_is_as_described(server: Running, path: str, route: str, body: str | None) -> None:
    described = server.ask("/openapi.json").json
    schema = described["paths"][route][PATHS[route].method]["responses"]["200"]["content"]["application/json"]["schema"]
    validator = Draft202012Validator({**schema, "components": described["components"]})

    assert [] == [error.message for error in validator.iter_errors(server.ask(path, body).json)]
    assert not validator.is_valid({"detail": "not an answer"}) or schema == {"type": "object"}


def test_a_refusal_is_as_described(server: Running) -> None:
    described = server.ask("/openapi.json").json
    validator = Draft202012Validator({"$ref": "#/components/schemas/Problem", "components": described["components"]})

    assert validator.is_valid(server.ask("/why/no-such-rule").json)
    assert not validator.is_valid({"detail": "no status"})
