"""The headline of a report and its closing sentences."""

from __future__ import annotations

from collections.abc import Sequence

from checker.bench.model import Bench
from checker.judge import READING_RULES
from checker.rules.base import Found
from checker.sentences.findings import message_of
from checker.sentences.placing_by_hand import turning_of
from parts_library.schema import Bipolar, Capacitor, Chip, Controller, Diode, Led, Mosfet, Regulator, SupplyKind

QUICK_TESTS: dict[type, str] = {
    Bipolar: "diode test from base to each other leg: 0.5-0.8 V one way, open the other",
    Mosfet: "gate to source and gate to drain must be open; drain to source a diode one way only",
    Diode: "diode test: about 0.6 V one way, open the other",
    Led: "it must light with 5 V and 1 kΩ",
    Controller: "a pin that is set high with nothing on it must give the board's logic voltage",
    Chip: "put in a new one and feel whether it stays cold",
    Regulator: "with nothing on its output it must give its voltage and stay cold",
    Capacitor: "a bulge, a smell or a low resistance both ways means replace it",
}
LARGE_FARADS = 0.005
WIRING_IS_RIGHT = "If it still does not work, the wiring in the list is not the reason"
"""How the sentence begins that names the next suspects."""


def headline_for(verdict: str, roots: Sequence[Found]) -> str:
    """One sentence that says what the verdict rests on."""
    if verdict == "clear" and roots:
        return "Nothing is over its limits and everything gets its current; the notes say what could be better"
    if verdict == "clear":
        return "The wiring does what it should: nothing is over its limits and everything gets its current"
    first = roots[0] if roots else None
    said = message_of(first) if first is not None else ""
    if verdict == "unreadable":
        return f"Line {first.span.line}: {said}" if first is not None else "Part of the list could not be read"
    starts_with_name = any(character.isdigit() or character.isupper() for character in said.split(" ")[0])
    return said if starts_with_name else said[:1].upper() + said[1:]


def advice_for(verdict: str, roots: Sequence[Found], bench: Bench) -> tuple[str, ...]:
    """Closing sentences: next suspects when the wiring is right, what to test after damage, usual cautions."""
    said = []
    if verdict == "clear":
        program = "the program, " if bench.controllers() or bench.roles else ""
        said.append(f"{WIRING_IS_RIGHT}: next suspects are {program}a dead part or a bad contact")
    if any(found.rule in READING_RULES for found in roots) and bench.tree.statements:
        said.append("The rest of the list was checked all the same: mend what could not be read, and check again")
    said.extend(turning_of(bench))
    said.extend(_suspects(roots, bench))
    said.extend(_cautions(bench))
    return tuple(said)


def _suspects(roots: Sequence[Found], bench: Bench) -> list[str]:
    """After a damage: which part to suspect if power has already been on, with a quick test."""
    said = []
    for found in roots:
        if found.severity in ("danger", "damage"):
            names = [e.of.split(".")[0].split(" ")[0] for e in found.evidence] + list(found.parts)
            for name in dict.fromkeys(names):
                part = bench.part(name)
                test = QUICK_TESTS.get(type(part.entry)) if part is not None else None
                if test is not None:
                    said.append(f"If power has already been on, suspect {name}: {test}")
                    break
    return list(dict.fromkeys(said))


def _is_coin(entry: SupplyKind) -> bool:
    """True for the small primary cells, lithium and alkaline."""
    return entry.chemistry == "lithium-manganese" or entry.name.lower() == "lr44"


def _cautions(bench: Bench) -> list[str]:
    entries = [part.entry for part in bench.parts.values() if part.entry is not None]
    said = []
    cells = [e for e in entries if isinstance(e, SupplyKind)]
    if any(_is_coin(e) for e in cells):
        said.append("Coin cells: never charge or short them, and keep them from small children, who can die from swallowing one")
    if any(e.chemistry.lower().startswith("li") and not _is_coin(e) for e in cells):
        said.append("Lithium cells burn when shorted or overcharged: use a protected cell and a proper charger")
    if any(isinstance(e, Capacitor) and (e.farads or 0.0) >= LARGE_FARADS for e in entries):
        said.append("Large capacitors stay charged after power is off: discharge them through a resistor")
    if any(isinstance(e, SupplyKind) and "lead" in e.chemistry.lower() for e in entries):
        said.append("Lead-acid batteries give hundreds of amps: fuse the lead at the battery")
    return said
