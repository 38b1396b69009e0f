"""Lists in other words: another order, other names, values, capitals, layout. What they mean stays.

Each change is a function (text, chance) -> text; where nothing fits it gives the statements as they were.
"""

from __future__ import annotations

import re
from decimal import Decimal
from random import Random

from msgspec import structs

from grammar.layout import laid_out
from grammar.syntax_tree import Author, Bare, Expect, Keep, Part, Pin, PinRole, Power, Statement, Supply, Title, Word
from tests.properties.lists import statements_of, written
from tests.properties.points import with_points

# ── order ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def shuffled(text: str, chance: Random) -> str:
    """The statements in another order."""
    statements = list(statements_of(text))
    chance.shuffle(statements)
    return written(statements)


# ── names ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def renamed(text: str, chance: Random) -> str:
    """Every part under another name with the same letters. The numbers are beyond the last row of a board, where C70 is no
    hole; a name that is a word of the list too (LAMP lamp) stays, as the word would change with it."""
    statements = statements_of(text)
    named = [s for s in statements if isinstance(s, Part | Supply)]
    words = {word.text.lower() for s in named for word in s.words}
    names = [s.name.text for s in named if s.name.text.lower() not in words]
    numbers = chance.sample(range(64, 100), len(names))
    new = {name.lower(): re.sub(r"\d+$", "", name) + str(number) for name, number in zip(names, numbers)}
    return written([_named_anew(statement, new) for statement in statements])


def _named_anew(statement: Statement, new: dict[str, str]) -> Statement:
    def word(one: Word) -> Word:
        return structs.replace(one, text=new.get(one.text.lower(), one.text))

    def point(one: object) -> object:
        if isinstance(one, Pin):
            return structs.replace(one, part=new.get(one.part.lower(), one.part))
        return structs.replace(one, text=new.get(one.text.lower(), one.text)) if isinstance(one, Bare) else one

    if isinstance(statement, Keep):
        return structs.replace(statement, one=word(statement.one), other=word(statement.other))
    if isinstance(statement, Part | Supply | Power):
        statement = structs.replace(statement, name=word(statement.name))
    return with_points(statement, point)


# ── values ────────────────────────────────────────────────────────────────────────────────────────────────────────

_POWER = {"p": -12, "n": -9, "u": -6, "m": -3, "": 0, "k": 3, "M": 6}
_NUMBER = re.compile(r"(?P<number>\d+(?:[.,]\d+)?)(?P<prefix>[pnuµmkM]?)(?P<unit>V|A|F|Hz|R|Ω|)")
_LETTER_AS_POINT = re.compile(r"(?P<whole>\d+)(?P<letter>[RkMV])(?P<part>\d+)")
_FITTING = {"": "kM", "R": "kM", "F": "pnu", "A": "m", "V": "m", "Hz": "k"}
_UNIT_OF_KIND = {"R": "", "C": "F"}


def respelt(text: str, chance: Random) -> str:
    """Values in other spellings of the same number: 4k7, 4.7k, 4700, 4,7k, 4k7Ω; 100n, 0.1uF, 0,1µF; 220mA, 0.22A."""
    return written([_respelt(statement, chance) for statement in statements_of(text)])


def _respelt(statement: Statement, chance: Random) -> Statement:
    if isinstance(statement, Part):
        kind = _UNIT_OF_KIND.get(re.sub(r"\d+$", "", statement.name.text.upper()))
        return structs.replace(statement, words=tuple(_word(word, kind, chance) for word in statement.words))
    if isinstance(statement, Supply):
        limit = _word(statement.limit, None, chance) if statement.limit is not None else None
        return structs.replace(statement, words=tuple(_word(word, None, chance) for word in statement.words), limit=limit)
    if isinstance(statement, PinRole) and statement.frequency is not None:
        return structs.replace(statement, frequency=_word(statement.frequency, None, chance))
    if isinstance(statement, Expect) and statement.bound is not None:
        bound = re.sub(r"(?<![\w.,])[\d.,]+(m?V|m?A)\b", lambda m: spelling(m[0], None, chance), statement.bound.text)
        return structs.replace(statement, bound=structs.replace(statement.bound, text=bound))
    return statement


def _word(word: Word, kind: str | None, chance: Random) -> Word:
    return structs.replace(word, text=spelling(word.text, kind, chance))


def spelling(value: str, kind: str | None, chance: Random) -> str:
    """Another spelling of a value. ``kind`` is the unit that is meant where none is written, None where it is not known."""
    number, unit = _read(value, kind)
    if number is None:
        return value
    spellings = [_plain(number, unit)] if number < 1_000_000 and number >= Decimal("0.01") else []
    for prefix in _FITTING[unit]:
        scaled = number.scaleb(-_POWER[prefix])
        if Decimal("0.01") <= scaled < 100_000:
            spellings.append(_plain(scaled, prefix + unit))
            if unit == "" and scaled >= 1 and scaled != scaled.to_integral():
                whole, _, part = f"{scaled.normalize():f}".partition(".")
                spellings.append(f"{whole}{prefix}{part}")
    if unit == "F":
        spellings += [s.replace("u", "µ") for s in spellings if "u" in s] + [s[:-1] for s in spellings if s[-2] in "pnu"]
    if unit in ("", "R"):
        spellings += [s + "Ω" for s in spellings if not s.endswith("R")]
    spellings += [s.replace(".", ",") for s in spellings if "." in s]
    return chance.choice(spellings) if spellings else value


def _read(value: str, kind: str | None) -> tuple[Decimal | None, str]:
    """The number in plain units, and its unit; None for what is no such value."""
    if match := _LETTER_AS_POINT.fullmatch(value):
        letter = match["letter"]
        if letter != "V" and kind != "":
            return None, ""
        number = Decimal(f"{match['whole']}.{match['part']}")
        return (number, "V") if letter == "V" else (number.scaleb(_POWER["" if letter == "R" else letter]), "")
    match = _NUMBER.fullmatch(value)
    if match is None:
        return None, ""
    unit = match["unit"].replace("Ω", "R") or (kind if kind is not None else "?")
    if unit not in _FITTING or (kind == "F" and not match["prefix"]):
        return None, ""
    return Decimal(match["number"].replace(",", ".")).scaleb(_POWER[match["prefix"].replace("µ", "u")]), unit


def _plain(number: Decimal, unit: str) -> str:
    return f"{number.normalize():f}{unit}"


# ── capitals and layout ───────────────────────────────────────────────────────────────────────────────────────────


def in_capitals(text: str, chance: Random) -> str:
    """The words of the list all in capitals, or all small. Numbers with their units stay: m is milli and M mega."""
    change = chance.choice((str.upper, str.lower))
    return "".join(_in_case(line, change) for line in _lines(text))


def _in_case(line: str, change: object) -> str:
    assert callable(change)
    return re.sub(r"(?<![\w.+-])[A-Za-z@][^\s]*", lambda m: change(m[0]), line)


def _lines(text: str) -> list[str]:
    return [written([s]) for s in statements_of(text) if not isinstance(s, Title | Author)]


def tidied(text: str, chance: Random) -> str:
    """The list laid out, from lines with too many blanks in them."""
    loose = "".join(re.sub(" ", lambda m: " " * chance.randint(1, 4), line) + "\n" * chance.randint(0, 3)
                    for line in _lines(text))
    return laid_out(loose)
