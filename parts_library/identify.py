"""What a part or a supply is, from the words on its line; and what was assumed on the way.

Input: the words (kind and values as written), the part's name, colour bands or a capacitor code. Output: ``Identified``:
the library's entry with the stated values filled in, a plain sentence for every default that was used, and a problem for
every word that does not fit. A part number comes first, then a kind, then a value. Nothing is misread in silence: a
value that disagrees with the letter of the name, or with the bands, is a problem.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import isclose
from typing import TYPE_CHECKING

import msgspec

from grammar.quantities import show_quantity
from parts_library.assumptions import assumed_of, completed
from parts_library.kinds import Kind, find_kind, generic
from parts_library.letters import agrees, called, claims, letters_of, stands_for
from parts_library.markings import CodeReading, MarkingError, is_preferred, read_bands, read_code
from parts_library.schema import AnyEntry, Capacitor, Farads, Ohms, Percent, Potentiometer, Resistor, Volts
from parts_library.supplies import identify_supply
from parts_library.values import Filled, capacitor_number, fill_values
from parts_library.vocabulary import LIKELY_KINDS
from parts_library.words import Identified, Token, WordProblem, tokens_of

if TYPE_CHECKING:
    from parts_library.loader import Library

__all__ = ["Identified", "WordProblem", "identify", "identify_supply"]


def identify(words: Sequence[str], *, name: str, bands: Sequence[str] = (), code: str | None = None,
             library: Library) -> Identified:
    """What the part ``name`` is.

    ``words`` are kind and values as written; ``bands`` colours from first to last; ``code`` the code on a capacitor. The
    part's own quantities come back in SI units, in the fields of the entry."""
    tokens = tokens_of(words)
    if not tokens and code is not None and claims(name, Resistor) and (contrary := _code_on_a_resistor(code, name)):
        return Identified(None, problems=(contrary,))
    kind = _kind(tokens, name, bands, code, library)
    if kind.entry is None:
        return Identified(None, problems=(kind.problem,) if kind.problem else (), kind_word=kind.word)
    rest = [token for token in tokens if token.index not in kind.used]
    if contrary := _contradiction(kind, rest, name):
        return Identified(None, problems=(contrary,), kind_word=kind.word)
    entry, polar_note = _right_capacitor(kind, rest, code, name, library)
    filled = fill_values(entry, rest, name)
    filled, marked = _with_marking(filled, bands, code, name)
    done, missing = completed(filled, name)
    problems = (*filled.problems, *marked, *missing)
    if _fatal(problems):
        return Identified(None, (), problems, kind.word)
    assumed = (*polar_note, *done.notes, *_as_written(rest, done.entry, name), *assumed_of(done, name))
    return Identified(done.entry, assumed, problems, kind.word)


def _fatal(problems: Sequence[WordProblem]) -> bool:
    """Whether a value is unknown because of a problem; a contradiction of bands leaves the stated value standing."""
    return any(problem.label != "value-contradicts-bands" for problem in problems)


def _kind(tokens: tuple[Token, ...], name: str, bands: Sequence[str], code: str | None, library: Library) -> Kind:
    if not tokens and bands:
        return Kind(generic(library, Resistor), how="value")
    if not tokens and code is not None:
        return Kind(generic(library, Capacitor), how="value")
    return find_kind(tokens, name, library)


def _contradiction(kind: Kind, rest: Sequence[Token], name: str) -> WordProblem | None:
    """Where the letters of the name stand for another family than the one found."""
    entry = kind.entry
    if entry is None or agrees(name, entry):
        return None
    index = min(kind.used) if kind.used else rest[0].index if rest else 0
    meant = stands_for(name)
    if kind.how == "value" and rest:
        written = rest[0].text
        if claims(name, Capacitor) and not rest[0].prefix and isinstance(entry, Resistor) and not _has_unit(rest[0]):
            return capacitor_number(rest[0])
        kind_word = LIKELY_KINDS.get(letters_of(name) or "") if isinstance(entry, Resistor) else None
        kind_word = kind_word if kind_word in ("pot", "ldr", "thermistor") else None
        write = f"write {kind_word} {written}" if kind_word else "write what it is"
        return WordProblem(index, "bad-value", f"{name} reads like {meant}, and {written} is {_family(entry)}: {write}, or give "
                           "it another name", f"{kind_word} {written}" if kind_word else None)
    return WordProblem(index, "ambiguous-part", f"{name} reads like {meant}, but {kind.word or entry.name} is {called(entry)}: "
                       f"give it another name")


def _code_on_a_resistor(code: str, name: str) -> WordProblem | None:
    """The code of a capacitor where the name says resistor: its digits count picofarads there, and ohms here."""
    try:
        ohms = read_code(code).picofarads
    except MarkingError:
        return None
    written = show_quantity(float(f"{ohms:.3g}"), "").replace(" ", "")
    return WordProblem(0, "bad-value", f"code {code} is for capacitors, and {name} reads like a resistor", written)


def _has_unit(token: Token) -> bool:
    return token.quantity is not None and token.quantity.unit != ""


def _family(entry: AnyEntry) -> str:
    return {"Resistor": "a resistance", "Capacitor": "a capacitance", "Inductor": "an inductance"}.get(
        type(entry).__name__, called(entry))


def _right_capacitor(kind: Kind, rest: Sequence[Token], code: str | None, name: str,
                     library: Library) -> tuple[AnyEntry, tuple[str, ...]]:
    """A capacitor of no stated type: from 1 µF on an electrolytic one, below a ceramic one."""
    entry = kind.entry
    assert entry is not None
    if not isinstance(entry, Capacitor) or (kind.word and kind.word.lower() not in ("capacitor", "cap", "condenser")):
        return entry, ()
    farads = next((token.quantity.value for token in rest if token.quantity and token.quantity.unit in ("F", "")), 0.0)
    if farads >= 1e-6 and code is None:
        found = generic(library, Capacitor, type="electrolytic")
        return found or entry, (f"{name} is an aluminium electrolytic capacitor, with a + and a - leg",)
    found = generic(library, Capacitor, type="ceramic")
    return found or entry, (f"{name} is a ceramic capacitor, which fits either way round",)


def _with_marking(filled: Filled, bands: Sequence[str], code: str | None, name: str) -> tuple[Filled, tuple[WordProblem, ...]]:
    try:
        if bands:
            return _with_bands(filled, bands, name)
        if code is not None:
            return _with_code(filled, read_code(code), code, name)
    except MarkingError as error:
        return filled, (WordProblem(0, "bad-value", str(error), of="bands" if bands else "code"),)
    return filled, ()


def _with_bands(filled: Filled, bands: Sequence[str], name: str) -> tuple[Filled, tuple[WordProblem, ...]]:
    entry = filled.entry
    if not isinstance(entry, Resistor):
        return filled, (WordProblem(0, "bad-value", f"bands are read on resistors, and {name} is {called(entry)}", of="bands"),)
    reading = read_bands(bands)
    printed = show_quantity(reading.ohms, "ohm")
    if "ohms" in filled.stated and entry.ohms is not None and not isclose(entry.ohms, reading.ohms, rel_tol=1e-6):
        message = f"the bands {' '.join(bands)} are {printed}, and {show_quantity(entry.ohms, 'ohm')} is stated"
        return filled, (WordProblem(0, "value-contradicts-bands", message, printed.replace(" ", ""), of="bands"),)
    notes = filled.notes
    if reading.from_other_end is not None and "ohms" not in filled.stated:
        other = show_quantity(reading.from_other_end, "ohm")
        notes = (*notes, f"the bands of {name} are read as {printed}; from the other end they would be {other}")
    changes: dict[str, object] = {"ohms": Ohms(reading.ohms)}
    if "tolerance" not in filled.stated:
        changes["tolerance"] = Percent(reading.tolerance)
    stated = filled.stated | {"ohms", "tolerance"}
    return Filled(msgspec.structs.replace(entry, **changes), stated, filled.problems, notes), ()


def _with_code(filled: Filled, reading: CodeReading, code: str, name: str) -> tuple[Filled, tuple[WordProblem, ...]]:
    entry = filled.entry
    if isinstance(entry, Potentiometer):
        return _with_code_of_ohms(filled, code, name)
    if not isinstance(entry, Capacitor):
        return filled, (WordProblem(0, "bad-value", f"a code is read on capacitors, and {name} is {called(entry)}", of="code"),)
    farads = float(f"{reading.picofarads * 1e-12:.9g}")
    if "farads" in filled.stated and entry.farads is not None and not isclose(entry.farads, farads, rel_tol=1e-6):
        message = f"the code {code} is {show_quantity(farads, 'F')}, and {show_quantity(entry.farads, 'F')} is stated"
        suggestion = show_quantity(farads, "F").replace(" ", "")
        return filled, (WordProblem(0, "value-contradicts-bands", message, suggestion, of="code"),)
    changes: dict[str, object] = {"farads": Farads(farads)}
    if reading.volts is not None and "voltage" not in filled.stated:
        changes["voltage"] = Volts(reading.volts)
    return Filled(msgspec.structs.replace(entry, **changes), filled.stated | {"farads"}, filled.problems, filled.notes), ()


def _with_code_of_ohms(filled: Filled, code: str, name: str) -> tuple[Filled, tuple[WordProblem, ...]]:
    """``code 103`` on a trimmer: two figures and the number of noughts (common practice of makers, from memory)."""
    entry = filled.entry
    assert isinstance(entry, Potentiometer)
    if not re.fullmatch(r"[1-9]\d[0-7]", code):
        return filled, (WordProblem(0, "bad-value", f"{code} is no code of a potentiometer, which has three digits", of="code"),)
    ohms = float(f"{code[:2]}e{code[2]}")
    printed = show_quantity(ohms, "ohm")
    if "ohms" in filled.stated and entry.ohms is not None and not isclose(entry.ohms, ohms, rel_tol=1e-6):
        message = f"the code {code} is {printed}, and {show_quantity(entry.ohms, 'ohm')} is stated"
        return filled, (WordProblem(0, "value-contradicts-bands", message, printed.replace(" ", ""), of="code"),)
    return Filled(msgspec.structs.replace(entry, ohms=Ohms(ohms)), filled.stated | {"ohms"}, filled.problems, filled.notes), ()


def _as_written(rest: Sequence[Token], entry: AnyEntry, name: str) -> tuple[str, ...]:
    """A three-digit number that is no preferred value but a likely code: ``103`` is taken as 103 ohm, and said to be."""
    if not isinstance(entry, Resistor) or letters_of(name) is None:
        return ()
    for token in rest:
        if token.is_digits and len(token.text) == 3 and token.text[2] not in "01" and token.quantity is not None:
            value = token.quantity.value
            if not is_preferred(value, "E96") and not is_preferred(value, "E24"):
                meant = float(f"{token.text[:2]}e{token.text[2]}")
                code = f"printed on a part, {token.text} would be {show_quantity(meant, 'ohm')}"
                return (f"{name} is taken as {token.text} Ω as written; {code}",)
    return ()
