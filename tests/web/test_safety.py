"""What must not happen: markup from a list, another host, another page, another name, files, a log of what was pasted.

The headers are those that the OWASP Secure Headers Project recommends and W3C's Content Security Policy Level 3 defines.
"""

from __future__ import annotations

import base64
import io
import json
import re
import uuid
import zipfile
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.web.running import TEXT, Running, running
from tests.web.test_api import CLEAR

STATIC = Path(__file__).parents[2] / "checker" / "web" / "static"
EVIL = """<img src=x onerror=alert(1)><script>alert(2)</script>'"`${7*7}</title></svg>"""
EVIL_NAME = "<img/src=x/onerror=alert(1)>"
PIECES = ("/draw", "/diagram", "/meter-sheet", "/report")
FIELDS = {
    "title": f'title "{EVIL}"\n{CLEAR}',
    "author": f"{CLEAR}by {EVIL}\n",
    "comment": f"{CLEAR}# {EVIL}\n",
    "name of a part": CLEAR.replace("LED1", EVIL_NAME),
    "name of a supply": CLEAR.replace("PACK", EVIL_NAME),
    "what a part is": CLEAR.replace("led red", EVIL_NAME),
    "value": CLEAR.replace("470", f"470{EVIL_NAME}"),
    "hole": CLEAR.replace("a10", EVIL_NAME),
    "mark": CLEAR.replace("long b10", f"long {EVIL_NAME}"),
    "point of a wire": CLEAR.replace("c15", EVIL_NAME),
    "node": CLEAR.replace("c15", f"@{EVIL_NAME}"),
    "board": CLEAR.replace("board half", f"board {EVIL_NAME} half"),
    "claim": f"{CLEAR}part Q1 PN2222A in h10 h11 h12 as {EVIL_NAME} B C\n",
    "bands": f"{CLEAR}part R9 bands red {EVIL_NAME} in h20 h25\n",
    "code": f"{CLEAR}part C9 code {EVIL_NAME} in h20 h25\n",
    "pin of a controller": f"{CLEAR}part U1 controller-5v\npin U1.{EVIL_NAME} output\n",
    "expectation": f"{CLEAR}expect {EVIL_NAME} lit when {EVIL_NAME} {EVIL_NAME}\n",
    "keep": f"{CLEAR}keep {EVIL_NAME} apart from PACK\n",
    "whole line": f"{CLEAR}{EVIL}\n",
    "what is no text": f"{CLEAR}\x00\x1b[2J\u202e\u2028{EVIL}\n",
}


class Tags(HTMLParser):
    """Every tag and attribute of a page as a browser reads it."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes.update(name for name, _ in attributes)


def runs(text: str) -> set[str]:
    """What could run in a piece of markup."""
    found = Tags(text)
    bad = found.tags & {"script", "img", "iframe", "object", "embed", "base", "form", "foreignobject"}
    return bad | {name for name in found.attributes if name.startswith("on") or name in ("style", "srcdoc")}


@pytest.mark.parametrize("field", FIELDS)
def test_no_field_of_a_list_becomes_markup(server: Running, field: str) -> None:
    for path in PIECES:
        answer = server.ask(path, FIELDS[field])
        if answer.status == 200:
            text = answer.body.decode()
            assert runs(text) == set(), path
            if path != "/report":
                ElementTree.fromstring(text)
        else:
            assert (answer.status, answer.headers["content-type"]) == (422, "application/problem+json")


def test_what_could_run_is_seen() -> None:
    assert runs(f"<p>{EVIL}</p>") == {"img", "script", "onerror"}
    assert runs("<p style='x'>&lt;script&gt;</p>") == {"style"}


def form(files: list[tuple[str, str, bytes]]) -> tuple[bytes, dict[str, str]]:
    """A form of files, each with its field and its name."""
    edge = uuid.uuid4().hex
    body = b""
    for field, name, content in files:
        quoted = name.replace("\\", "\\\\").replace('"', "%22")
        head = f'--{edge}\r\ncontent-disposition: form-data; name="{field}"; filename="{quoted}"\r\n\r\n'
        body += head.encode() + content + b"\r\n"
    return body + f"--{edge}--\r\n".encode(), {"content-type": f"multipart/form-data; boundary={edge}"}


def packed(entries: dict[str, bytes]) -> bytes:
    """A zip."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries.items():
            archive.writestr(name, content)
    return stream.getvalue()


def downloads(answer: dict[str, list[dict[str, str]]]) -> Iterator[tuple[str, str]]:
    """Every page that can be saved, those in the archive too."""
    for each in answer["downloads"]:
        content = base64.b64decode(each["content"])
        if each["name"].endswith(".zip"):
            with zipfile.ZipFile(io.BytesIO(content)) as archive:
                for name in archive.namelist():
                    assert not name.startswith(("/", "\\")) and ".." not in name.split("/")
                    if name.endswith(".html"):
                        yield name, archive.read(name).decode()
        elif each["name"].endswith(".html"):
            yield each["name"], content.decode()


def test_no_name_of_a_file_or_entry_becomes_markup_or_a_path(server: Running) -> None:
    archive = packed({f"../../{EVIL_NAME}.legs": CLEAR.encode(), "/etc/passwd.legs": FIELDS["title"].encode(),
                      "a\\..\\..\\b.legs": CLEAR.encode(), "=1+1.legs": CLEAR.encode()})
    body, headers = form([("lists", f"{EVIL_NAME}.zip", archive), ("lists", f"../{EVIL_NAME}.legs", FIELDS["author"].encode())])
    answer = server.ask("/class", body, headers)
    pages = dict(downloads(answer.json))

    assert (answer.status, len(answer.json["rows"])) == (200, 5)
    assert len(pages) >= 7
    assert {name: runs(text) for name, text in pages.items()} == {name: set() for name in pages}


@pytest.mark.parametrize(("files", "says"), [
    ([("lists", "a.zip", b"no zip")], ""),
    ([("lists", "a.legs", CLEAR.encode()), ("marks", "m.toml", b"[[")], "m.toml is not TOML"),
    ([("lists", "a.legs", CLEAR.encode()), ("roster", "r.csv", b"x,y\n1,2\n")], "no column 'identifier'"),
    ([("reference", "a.legs", CLEAR.encode())], "Choose what was handed in"),
    ([("lists", "a.zip", packed({}))], "There is no list"),
])
def test_a_class_that_cannot_be_read_is_refused_or_has_it_in_its_row(server: Running, files: list[tuple[str, str, bytes]],
                                                                    says: str) -> None:
    body, headers = form(files)
    answer = server.ask("/class", body, headers)

    assert answer.status in ((400, 422) if says else (200, 422))
    assert says in answer.body.decode()


# ── headers and pages ─────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("path", "body"), [("/", None), ("/class", None), ("/static/page.js", None), ("/check", CLEAR),
                                            ("/report", CLEAR), ("/no-such-page", None), ("/check", "x" * 300_000)])
def test_every_answer_has_the_headers_of_safety(server: Running, path: str, body: str | None) -> None:
    headers = server.ask(path, body).headers
    policy = dict(part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";"))

    assert re.fullmatch(r"'self' 'nonce-[\w-]{20,}'", policy.pop("style-src"))
    assert policy == {"default-src": "'none'", "script-src": "'self'", "img-src": "'self'", "connect-src": "'self'",
                      "base-uri": "'none'", "form-action": "'self'", "frame-ancestors": "'none'"}
    assert (headers["x-content-type-options"], headers["referrer-policy"]) == ("nosniff", "no-referrer")
    assert headers["cross-origin-opener-policy"] == headers["cross-origin-resource-policy"] == "same-origin"
    assert not {"set-cookie", "server", "access-control-allow-origin"} & set(headers)


def test_a_nonce_is_used_once(server: Running) -> None:
    policies = {server.ask("/").headers["content-security-policy"] for _ in range(3)}

    assert len(policies) == 3


@pytest.mark.parametrize("path", ["/", "/class"])
def test_a_page_holds_no_script_and_no_style_of_its_own(server: Running, path: str) -> None:
    text = server.ask(path).body.decode()
    found = Tags(text)

    assert "style" not in found.tags | found.attributes
    assert {name for name in found.attributes if name.startswith("on")} == set()
    assert re.findall(r"<script([^>]*)>(.*?)</script>", text) == [
        (f' type="module" src="/static/{"class" if path == "/class" else "page"}.js"', "")]


def test_nothing_is_asked_of_another_host(server: Running) -> None:
    names = [path.name for path in STATIC.iterdir() if path.suffix in (".js", ".css", ".svg")]
    pages = {name: server.ask(f"/static/{name}").body.decode() for name in names} | {
        path: server.ask(path).body.decode() for path in ("/", "/class")}
    hosts = {found for text in pages.values() for found in re.findall(r"(?:https?:)?//[a-z][\w.-]*\.[a-z]{2,}", text)}

    assert hosts <= {"http://www.w3.org"}  # The name of the SVG namespace; nothing is there to fetch.
    assert len(pages) > 10


def test_the_code_of_the_page_reads_no_string_as_markup() -> None:
    sinks = re.compile(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(|new Function|srcdoc|localStorage|cookie")
    own = {path.name: sinks.findall(path.read_text(encoding="utf-8"))
           for path in STATIC.glob("*.js") if path.name != "codemirror.js"}

    assert own == {name: [] for name in own}
    assert sinks.findall("a.innerHTML = b") == ["innerHTML"]


def test_the_editor_comes_with_its_licences() -> None:
    licences = (STATIC / "codemirror-licences.txt").read_text(encoding="utf-8")
    packages = json.loads((STATIC.parent / "editor_source" / "package.json").read_text(encoding="utf-8"))["dependencies"]

    assert all(f"== {name} {version}\n" in licences for name, version in packages.items())


# ── who may ask ───────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("host", "status"), [
    ("localhost", 200), ("127.0.0.1", 200), ("127.0.0.1:8642", 200), ("[::1]:8642", 200), ("LOCALHOST:1", 200),
    ("evil.example", 421), ("localhost.evil.example", 421), ("127.0.0.1.evil.example:8642", 421), ("192.168.1.7:8642", 421),
    ("", 421), ("localhost@evil.example", 421),
])
def test_only_names_of_this_machine_are_answered_to(server: Running, host: str, status: int) -> None:
    assert status == server.ask("/", headers={"host": host}).status
    assert status == server.ask("/check", CLEAR, {**TEXT, "host": host}).status


@pytest.mark.parametrize(("host", "status"), [
    ("localhost", 200), ("192.168.1.7:8642", 200), ("[fd00::7]", 200), ("bench-pc", 200), ("evil.example", 421),
])
def test_a_server_for_others_answers_to_addresses_and_to_the_names_it_was_given(host: str, status: int) -> None:
    with running("--host", "0.0.0.0", "--name", "bench-pc", "--workers", "1") as server:
        assert status == server.ask("/", headers={"host": host}).status


@pytest.mark.parametrize(("origin", "status"), [(None, 200), ("own", 200), ("http://evil.example", 403), ("null", 403)])
def test_a_page_of_another_host_cannot_send_a_list(server: Running, origin: str | None, status: int) -> None:
    own = f"http://127.0.0.1:{server.port}"
    headers = {**TEXT, "host": f"127.0.0.1:{server.port}"} | ({"origin": origin.replace("own", own)} if origin else {})

    assert status == server.ask("/check", CLEAR, headers).status


def test_a_list_is_never_taken_for_a_file(server: Running) -> None:
    answer = server.ask("/check", "/etc/passwd\nfile:///etc/passwd\n@/etc/passwd\n")

    assert answer.json["verdict"] == "unreadable"
    assert "root:" not in answer.body.decode()


def test_the_log_holds_no_list_and_no_query() -> None:
    with running("--log", "--workers", "1") as server:
        server.ask("/check", CLEAR)
        server.ask("/parts?words=secret")
        server.process.terminate()
        _, log = server.process.communicate(timeout=60)

    assert "POST /check 200" in log
    assert "GET /parts 200" in log
    assert not re.search("Tide|LED1|secret", log)
