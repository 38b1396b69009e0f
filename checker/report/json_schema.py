"""The JSON report described as JSON Schema (draft 2020-12), made from the structs of the model.

What the structs do not say is put in here: the words of the contract (severities, verdicts, phases), that every key is
always there, that lines and columns count from 1, and that a number which is not finite is written as null. Run
``python -m checker.report.json_schema`` to write ``report.schema.json`` anew after a change of the model.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Any

import msgspec

from checker.report.model import SEVERITIES, VERDICTS, Report

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_TITLE = "What legwise check --format json prints: one report, or an array of them where several lists were named"
_OPTIONAL = {"State": ("coil", "energy", "release")}
"""What is only there where a coil is switched off."""

_LEFT_OUT = {"Report": ("lines",)}
_NUMBER: dict[str, Any] = {"anyOf": [{"type": "number"}, {"type": "null"}]}
_COUNT: dict[str, Any] = {"type": "integer", "minimum": 0}
_FROM_ONE: dict[str, Any] = {"type": "integer", "minimum": 1}
_SLUG: dict[str, Any] = {"type": "string", "pattern": "^[a-z]+(-[a-z]+)*$"}
_CONTRACT: dict[str, dict[str, dict[str, Any]]] = {
    "Report": {"verdict": {"enum": list(VERDICTS)}},
    "Finding": {"severity": {"enum": list(SEVERITIES)}, "rule": _SLUG, "message": {"type": "string", "minLength": 1}},
    "Evidence": {"value": _NUMBER},
    "Edit": {"line": _FROM_ONE},
    "Span": dict.fromkeys(("line", "column", "end_line", "end_column"), _FROM_ONE),
    "State": {"phase": {"enum": ["steady", "switch-off"]}} | {
        name: {"type": "object", "additionalProperties": _NUMBER} for name in ("voltages", "currents")},
    "Summary": dict.fromkeys(SEVERITIES, _COUNT),
}


def made() -> str:
    """The schema as text, from the structs as they are."""
    defined = msgspec.json.schema(Report)["$defs"]
    one = {"$ref": "#/$defs/Report"}
    schema = {"$schema": _DIALECT, "title": _TITLE, "anyOf": [one, {"type": "array", "items": one}],
              "$defs": {name: _fitted(name, defined[name]) for name in sorted(defined)}}
    return msgspec.json.format(msgspec.json.encode(schema), indent=2).decode("utf-8") + "\n"


def _fitted(name: str, struct: dict[str, Any]) -> dict[str, Any]:
    """One struct as the JSON has it: no defaults, for nothing is left out; the contract's words in place of any text."""
    properties = {key: {word: said for word, said in value.items() if word != "default"}
                  for key, value in struct["properties"].items() if key not in _LEFT_OUT.get(name, ())}
    properties |= _CONTRACT.get(name, {})
    return {"type": "object", "description": " ".join(struct["description"].split()), "properties": properties,
            "required": [key for key in properties if key not in _OPTIONAL.get(name, ())]}


def shipped() -> str:
    """The schema as it is shipped."""
    return files("checker.report").joinpath("report.schema.json").read_text(encoding="utf-8")


if __name__ == "__main__":
    Path(__file__).with_name("report.schema.json").write_text(made(), encoding="utf-8")
