"""Where power comes from: every supply, and every controller that hands its 5 V or 3.3 V on."""

from __future__ import annotations

from collections.abc import Iterator

from checker.circuit.model import Circuit


def feeds(circuit: Circuit) -> Iterator[tuple[str, str, str]]:
    """Key, plus pin and minus pin of every supply that is wired up, and of every controller whose 5V or 3V3 is used."""
    for key, part in circuit.bench.parts.items():
        if part.is_supply and all((key, pin) in circuit.touched for pin in ("+", "-")):
            yield key, "+", "-"
        elif part.is_controller:
            for pin in ("5V", "3V3"):
                if (key, pin) in circuit.touched:
                    yield key, pin, "GND"


def feed_name(circuit: Circuit, key: str, plus: str) -> str:
    """``PACK`` or ``U1.5V``."""
    name = circuit.part(key).name
    return name if plus == "+" else f"{name}.{plus}"
