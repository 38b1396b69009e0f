"""The language server, spoken to by a client over standard input and output as an editor does."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from lsprotocol import types
from pygls.lsp.client import BaseLanguageClient

ROOT = Path(__file__).parents[2]
URI = "file:///tide-tank.legs"
LIST = """\
title "µ-lamp 🐚"
board half
supply PACK 9V on L+ L-
part R1 470 in a5 a10
part LED1 led red in b10 b15 long b15
wire L+ to c5
wire c15 to L-
"""
HERE = types.TextDocumentIdentifier(URI)
Told = Callable[[], Awaitable[types.PublishDiagnosticsParams]]

PATIENCE = 120
"""Seconds after which a server that says nothing is given up: a bound against hanging for ever, not a speed."""


async def talked(ask: Callable[[BaseLanguageClient, Told], Awaitable[Any]]) -> Any:
    """What a conversation gives, with the list opened and the server ended in an orderly way."""
    client = BaseLanguageClient("test", "1")
    told: asyncio.Queue[types.PublishDiagnosticsParams] = asyncio.Queue()

    @client.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
    def _(params: types.PublishDiagnosticsParams) -> None:
        told.put_nowait(params)

    await client.start_io(sys.executable, "-m", "checker", "editor", cwd=str(ROOT))
    await client.initialize_async(types.InitializeParams(capabilities=types.ClientCapabilities()))
    client.initialized(types.InitializedParams())
    client.text_document_did_open(types.DidOpenTextDocumentParams(types.TextDocumentItem(URI, "legs", 1, LIST)))
    try:
        return await asyncio.wait_for(ask(client, told.get), PATIENCE)
    finally:
        await client.shutdown_async(None)
        client.exit(None)
        await client.stop()


def place(line: int, column: int) -> types.Position:
    return types.Position(line, column)


def test_a_slip_is_marked_and_its_checked_fix_cures_it() -> None:
    async def ask(client: BaseLanguageClient, told: Told) -> Any:
        marked = (await told()).diagnostics
        here = types.Range(place(4, 0), place(4, 0))
        actions = await client.text_document_code_action_async(
            types.CodeActionParams(HERE, here, types.CodeActionContext(marked)))
        new = actions[0].edit.changes[URI][0]
        text = "\n".join(new.new_text if n == new.range.start.line else line for n, line in enumerate(LIST.splitlines())) + "\n"
        client.text_document_did_change(types.DidChangeTextDocumentParams(
            types.VersionedTextDocumentIdentifier(2, URI), [types.TextDocumentContentChangeWholeDocument(text)]))
        return marked, actions, (await told()).diagnostics

    marked, actions, after = asyncio.run(talked(ask))

    assert [("led-reversed", 4)] == [(one.code, one.range.start.line) for one in marked]
    assert "turn LED1 round: longer leg to b10" == actions[0].title
    assert [] == list(after)


def test_cards_completion_names_and_layout_are_answered() -> None:
    async def ask(client: BaseLanguageClient, told: Told) -> Any:
        await told()
        hover = await client.text_document_hover_async(types.HoverParams(HERE, place(4, 6)))
        offered = await client.text_document_completion_async(types.CompletionParams(HERE, place(6, 2)))
        defined = await client.text_document_definition_async(types.DefinitionParams(HERE, place(2, 8)))
        renamed = await client.text_document_rename_async(types.RenameParams(HERE, place(3, 6), "R7"))
        laid = await client.text_document_formatting_async(
            types.DocumentFormattingParams(HERE, types.FormattingOptions(4, True)))
        return hover, offered, defined, renamed, laid

    hover, offered, defined, renamed, laid = asyncio.run(talked(ask))

    assert "led red" in hover.contents.value
    assert "wire" in [item.label for item in offered.items]
    assert 2 == defined.range.start.line
    assert ["R7"] == [edit.new_text for edit in renamed.changes[URI]]
    assert laid[0].new_text.startswith('title "µ-lamp 🐚"\nboard half\nsupply PACK 9V ')
