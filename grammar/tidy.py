"""Make a pasted line plain before the grammar sees it, without moving a character.

Input: one line as given. Output: a line of the same length, in which everything that carries no meaning is a blank:
the comment, the time of a message, a list bullet or number, words that only lead in ("then", "we"), closing punctuation,
the lines of a table, "the" and "hole"; also a heading ("Parts:"). Smart quotes, dashes, arrows and blanks become plain.
As every character keeps its column, spans in the tidy line are spans in the given one.
"""

from __future__ import annotations

import re

_PLAIN = str.maketrans({
    "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ", "\u3000": " ", "\u200b": " ", "\ufeff": " ", "\t": " ",
    "\v": " ", "\f": " ", "\r": " ", "\u2028": " ", "\u2029": " ", "\x85": " ",
    "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "‘": "'", "’": "'",
    "–": "-", "—": "-", "‐": "-", "‑": "-", "‒": "-", "−": "-",
    "⟶": "→", "➔": "→", "➜": "→", "⇒": "→", "➝": "→",
    "\u03bc": "\u00b5", "\u2126": "\u03a9", "½": "½",
} | {chr(0xFF01 + place): chr(0x21 + place) for place in range(94)})  # fmt: skip
"""The last ones are the full-width forms of Unicode, which are ASCII typed on another keyboard."""

_BULLET = re.compile(r"\s*(?:[-*•·>](?=\s)|\(?\d{1,3}[.)](?=\s)|\(?[a-z]\)(?=\s)|\[[ xX]?\](?=\s))\s*")
_RULE = re.compile(r"[\s`~=_*|-]*(?:```\w*)?\s*")
_CLOCK = r"\d{1,2}:\d{2}(?::\d{2})?(?: ?[ap]\.?m\.?)?"
_DAY = r"\d{1,4}[./-]\d{1,2}[./-]\d{1,4}"
_NO_SENDER = (
    r"(?!\s*(?-i:[A-Z][A-Z0-9_-]*[a-z]?)\s*:|[^:]*\d"
    r"|\s*(?:title|by|author|board|supply|battery|part|wire|jumper|power|pin|keep|expect)\b)"
)
_SENDER = rf"{_NO_SENDER}\s*[^\W\d][\w .'-]{{0,40}}:(?=\s)"
"""Who wrote a message: no name of a part, which is in capitals or has a number, and no keyword."""
_TIME = re.compile(
    rf"\s*(?:\[(?:{_DAY},? )?{_CLOCK}(?:,? {_DAY})?\](?:{_SENDER})?|{_DAY},? {_CLOCK}\s+-(?:{_SENDER})?|{_CLOCK}(?:\s+-)?)(?=\s)",
    re.IGNORECASE)
_LEAD_IN = re.compile(
    r"\s*(?:(?:and|then|also|next|now|first|finally|please|i|we|an?|there is)[\s,]+)+"
    r"(?=[a-z]{2}|[a-z]\d|\d{3}|\d+([.,]\d+)?\s?(?:k|v|r|ohm|Ω|[nuµ]f)\w*\b)",
    re.IGNORECASE,
)
_PUT_A_WIRE = re.compile(
    r"\s*(?:put|add|place|insert|run|lay|plug|use|take)(?: +in)? +(?:(?:an?|one|another) +)?"
    r"(?=(?:the +)?(?:(?:dark +|light +)?(?:black|brown|red|orange|yellow|green|blue|violet|grey|white|purple|gray|pink"
    r"|turquoise) +)?"
    r"(?:jump(?:er)?|wire|cable)(?: +(?:wire|cable))? )", re.IGNORECASE)
_KEYWORD_AND_DASH = re.compile(
    r"(\s*(?:board|supply|battery|part|wire|jumper|power|pin|keep|expect)\s+)-(?=\s+(?!(?:rails?|to|into|onto|and|->)(?!\S)))",
    re.IGNORECASE)
_HEADING = re.compile(
    r"\s*(?:\*\*)?(?:parts|parts? list|components|wires|wiring|connections|supplies)(?:\*\*)?:?(?:\*\*)?\s*", re.IGNORECASE
)
_QUOTES = re.compile(r"[\"`|\[\]*]|(?<!\w)'|'(?!\w)")
_NOISE = re.compile(r"(?<![^\s,()])(?:the|holes?|(?<!left )(?<!right )(?<!hand )rails?(?=\s+[lr][+-]))(?=\s+\S)"
                    r"|(?<=\s[lr][+-] )rails?(?![^\s,()])", re.IGNORECASE)
_COMMENT = re.compile(r"#|(?<!\S)//|(?<!\S)/\*.*\*/\s*$")
_FREE_TEXT = re.compile(r"\s*(?:title|by|author)\b", re.IGNORECASE)
_CLOSING = re.compile(r"[\s.;,!]+$")


def tidy(line: str) -> str:
    """The line in plain form, of the same length; all blanks where it says nothing."""
    plain = line.translate(_PLAIN)
    plain = _blank(plain, comment_starts(plain), len(plain))
    for in_front in (_TIME, _BULLET, _BULLET):
        if match := in_front.match(plain):
            plain = _blank(plain, 0, match.end())
    if _HEADING.fullmatch(plain):
        return " " * len(line)
    if _RULE.fullmatch(plain):
        return " " * len(line)
    if is_free_text(plain):
        return plain
    if match := _LEAD_IN.match(plain):
        plain = _blank(plain, 0, match.end())
    if match := _PUT_A_WIRE.match(plain):
        plain = _blank(plain, 0, match.end())
    if match := _KEYWORD_AND_DASH.match(plain):
        plain = _blank(plain, match.end() - 1, match.end())
    if match := _CLOSING.search(plain):
        plain = _blank(plain, match.start(), len(plain))
    plain = _QUOTES.sub(" ", plain)
    return _NOISE.sub(lambda match: " " * len(match[0]), plain)


def is_free_text(plain: str) -> bool:
    """Whether the line is a title or an author, whose words are not the language's."""
    return _FREE_TEXT.match(plain) is not None


def comment_starts(line: str) -> int:
    """Where the comment starts: the first ``#``, ``//`` behind a blank or ``/* … */`` to the end, not between two quotes of
    any kind."""
    plain = line.translate(_PLAIN)
    for match in _COMMENT.finditer(plain):
        if plain.count('"', 0, match.start()) % 2 == 0 or '"' not in plain[match.start():]:
            return match.start()
    return len(line)


def _blank(line: str, start: int, end: int) -> str:
    return line[:start] + " " * (end - start) + line[end:]
