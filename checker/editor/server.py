"""The language server: an editor's questions in the Language Server Protocol, answered by ``answers``.

pygls (the extra ``editor``) speaks the protocol; here its types are turned into ours and back. Columns come and go in the
unit that the editor asked for (UTF-16 unless it says otherwise): the library's codec turns them into characters. A list is
checked a moment after the last change, in a thread of its own, and an older check is forgotten.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from typing import Any

from lsprotocol import types
from pygls.lsp.server import LanguageServer
from pygls.workspace import TextDocument

from checker.checking import check
from checker.editor import answers
from checker.editor.answers import Place
from checker.report.model import Edit, Finding, Report
from checker.version import VERSION
from parts_library import Library, load_library

PAUSE = 0.2
"""Seconds after the last key until a list is checked: a hand types about five letters a second."""

SEVERITIES = {"danger": types.DiagnosticSeverity.Error, "damage": types.DiagnosticSeverity.Error,
              "fault": types.DiagnosticSeverity.Warning, "look": types.DiagnosticSeverity.Information,
              "note": types.DiagnosticSeverity.Hint}
KINDS = {"keyword": types.CompletionItemKind.Keyword, "part": types.CompletionItemKind.Class,
         "name": types.CompletionItemKind.Variable, "pin": types.CompletionItemKind.Field}


class ListServer(LanguageServer):
    """The server with what it remembers: the library, the newest report of each list, and the check that is waiting."""

    def __init__(self) -> None:
        super().__init__("legwise", VERSION)
        self.library: Library = load_library()
        self.reports: dict[str, tuple[str, Report]] = {}
        self.waiting: dict[str, asyncio.Task[None]] = {}


def serve() -> None:
    """Serves over standard input and output until the editor ends it."""
    server().start_io()


def server() -> ListServer:
    """A server with all its features."""
    made = ListServer()
    _checking(made)
    _reading(made)
    _changing(made)
    return made


# ── places ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _characters(document: TextDocument, position: types.Position) -> tuple[int, int]:
    plain = document.position_codec.position_from_client_units(document.lines, position)
    return plain.line, plain.character


def _range(document: TextDocument, line: int, start: int, end_line: int, end: int) -> types.Range:
    """A range in the editor's units, from lines and columns that count from 0."""
    wanted = types.Range(types.Position(line, start), types.Position(end_line, end))
    return document.position_codec.range_to_client_units(document.lines, wanted)


def _of_place(document: TextDocument, place: Place) -> types.Range:
    return _range(document, place.line, place.start, place.line, place.end)


def _of_finding(document: TextDocument, finding: Finding) -> types.Range:
    span = finding.span
    return _range(document, span.line - 1, span.column - 1, span.end_line - 1, span.end_column - 1)


# ── findings while typing ─────────────────────────────────────────────────────────────────────────────────────────


def _checking(made: ListServer) -> None:
    @made.feature(types.TEXT_DOCUMENT_DID_OPEN)
    async def opened(ls: ListServer, params: types.DidOpenTextDocumentParams) -> None:
        _check_soon(ls, params.text_document.uri, 0.0)

    @made.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    async def changed(ls: ListServer, params: types.DidChangeTextDocumentParams) -> None:
        _check_soon(ls, params.text_document.uri, PAUSE)

    @made.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    async def closed(ls: ListServer, params: types.DidCloseTextDocumentParams) -> None:
        uri = params.text_document.uri
        if uri in ls.waiting:
            ls.waiting.pop(uri).cancel()
        ls.reports.pop(uri, None)
        ls.text_document_publish_diagnostics(types.PublishDiagnosticsParams(uri, []))


def _check_soon(ls: ListServer, uri: str, pause: float) -> None:
    if uri in ls.waiting:
        ls.waiting[uri].cancel()
    ls.waiting[uri] = asyncio.get_running_loop().create_task(_check_after(ls, uri, pause))


async def _check_after(ls: ListServer, uri: str, pause: float) -> None:
    await asyncio.sleep(pause)
    document = ls.workspace.get_text_document(uri)
    text, version = document.source, document.version
    report = await asyncio.get_running_loop().run_in_executor(None, check, text)
    ls.reports[uri] = (text, report)
    ls.text_document_publish_diagnostics(types.PublishDiagnosticsParams(
        uri, [_diagnostic(document, finding) for finding in answers.all_findings(report)], version))


def _diagnostic(document: TextDocument, finding: Finding) -> types.Diagnostic:
    said = [finding.message, *finding.why.splitlines(), *(f"Fix, checked: {fix.say}" for fix in finding.fixes[:1])]
    return types.Diagnostic(range=_of_finding(document, finding), message="\n".join(said), source="legwise",
                            severity=SEVERITIES[finding.severity], code=finding.rule)


# ── cards, completion, definitions ────────────────────────────────────────────────────────────────────────────────


def _reading(made: ListServer) -> None:
    @made.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(ls: ListServer, params: types.HoverParams) -> types.Hover | None:
        document = ls.workspace.get_text_document(params.text_document.uri)
        card = answers.card_at(document.source, *_characters(document, params.position), ls.library)
        if card is None:
            return None
        words = types.MarkupContent(types.MarkupKind.Markdown, f"```text\n{card[0].rstrip()}\n```")
        return types.Hover(words, _of_place(document, card[1]))

    @made.feature(types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=[" ", "."]))
    def complete(ls: ListServer, params: types.CompletionParams) -> types.CompletionList:
        document = ls.workspace.get_text_document(params.text_document.uri)
        offers = answers.completions_at(document.source, *_characters(document, params.position), ls.library)
        return types.CompletionList(is_incomplete=len(offers) >= answers.MOST_KINDS, items=[
            types.CompletionItem(label=offer.text, detail=offer.says, kind=KINDS[offer.kind]) for offer in offers])

    @made.feature(types.TEXT_DOCUMENT_DEFINITION)
    def define(ls: ListServer, params: types.DefinitionParams) -> types.Location | None:
        document = ls.workspace.get_text_document(params.text_document.uri)
        place = answers.definition_of(document.source, *_characters(document, params.position))
        return types.Location(document.uri, _of_place(document, place)) if place is not None else None

    @made.feature(types.TEXT_DOCUMENT_REFERENCES)
    def refer(ls: ListServer, params: types.ReferenceParams) -> list[types.Location]:
        document = ls.workspace.get_text_document(params.text_document.uri)
        places = answers.uses_at(document.source, *_characters(document, params.position))
        return [types.Location(document.uri, _of_place(document, place)) for place in places]


# ── fixes, new names, layout ──────────────────────────────────────────────────────────────────────────────────────


def _changing(made: ListServer) -> None:
    @made.feature(types.TEXT_DOCUMENT_CODE_ACTION, types.CodeActionOptions([types.CodeActionKind.QuickFix]))
    def mend(ls: ListServer, params: types.CodeActionParams) -> list[types.CodeAction]:
        document = ls.workspace.get_text_document(params.text_document.uri)
        text, report = ls.reports.get(document.uri, ("", None))
        if report is None or text != document.source:
            return []
        return [_action(document, *fix) for fix in answers.fixes_at(report, params.range.start.line)]

    @made.feature(types.TEXT_DOCUMENT_RENAME)
    def rename(ls: ListServer, params: types.RenameParams) -> types.WorkspaceEdit | None:
        document = ls.workspace.get_text_document(params.text_document.uri)
        places = answers.uses_at(document.source, *_characters(document, params.position))
        if not places or not answers.is_name(params.new_name):
            return None
        edits = [types.TextEdit(_of_place(document, place), params.new_name) for place in places]
        return types.WorkspaceEdit(changes={document.uri: edits})

    @made.feature(types.TEXT_DOCUMENT_FORMATTING)
    def lay_out(ls: ListServer, params: types.DocumentFormattingParams) -> list[types.TextEdit]:
        document = ls.workspace.get_text_document(params.text_document.uri)
        return [types.TextEdit(_range(document, 0, 0, len(document.lines), 0), answers.laid_out(document.source))]


def _action(document: TextDocument, finding: Finding, say: str, edits: Iterable[Edit]) -> types.CodeAction:
    changes: dict[str, Any] = {document.uri: [_text_edit(document, edit) for edit in edits]}
    return types.CodeAction(title=say, kind=types.CodeActionKind.QuickFix, diagnostics=[_diagnostic(document, finding)],
                            edit=types.WorkspaceEdit(changes=changes), is_preferred=say == finding.fixes[0].say)


def _text_edit(document: TextDocument, edit: Edit) -> types.TextEdit:
    """One edit of a fix: a line replaced, taken out, or added at the end."""
    lines = [line.rstrip("\r\n") for line in document.lines]
    if edit.line > len(lines):
        end = document.source == "" or document.source.endswith("\n")
        last = len(lines) - 1 if lines else 0
        at = (len(lines), 0) if end else (last, len(lines[last]) if lines else 0)
        return types.TextEdit(_range(document, *at, *at), f"{edit.text}\n" if end else f"\n{edit.text}")
    if not edit.text:
        return types.TextEdit(_range(document, edit.line - 1, 0, edit.line, 0), "")
    return types.TextEdit(_range(document, edit.line - 1, 0, edit.line - 1, len(lines[edit.line - 1])), edit.text)
