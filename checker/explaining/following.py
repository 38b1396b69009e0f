"""Following: which finding is only what another one brings with it, so that a fix of its own would mend nothing.

Input: two findings and the circuit they were found in; output: whether one goes under the other.
"""

from __future__ import annotations

from collections.abc import Sequence

from checker.circuit.model import Circuit
from checker.operating.variables import stiff_nets
from checker.rules.base import Found
from parts_library.schema import Load, Relay, Stepper

BURNING_RULES = ("too-much-voltage", "too-much-current", "too-much-power", "too-hot", "pin-overload")
STARVED_RULES = ("supply-sags", "never-conducts", "weak-drive", "level-mismatch", "expectation-missed", "never-switches")
FLOWING_RULES = ("too-much-current", "too-much-power", "too-hot", "no-current-limit", "pin-overload", "supply-overload",
                 "supply-sags", "too-much-voltage")
"""What flows where a part that should limit it is bridged, or where a supply is shorted."""


class Following:
    """The findings of one circuit, held against each other."""

    def __init__(self, circuit: Circuit | None) -> None:
        self._circuit = circuit

    @property
    def lines(self) -> int:
        """How many lines the list has."""
        return len(self._circuit.bench.tree.lines) if self._circuit is not None else 0

    def follows(self, root: Found, other: Found) -> bool:
        """True for what a fix of its own would not mend: what hangs on a regulator that gets too little in, what a chip that
        is fed backwards does to itself, what flows through a bridged part or a short."""
        if root is other or root.key == other.key:
            return False
        if root.rule == "supply-sags" and root.case == "regulator":
            return other.rule in STARVED_RULES and other.case != "regulator"
        if root.rule == "chip-stopped":
            return other.rule in STARVED_RULES and bool(set(root.facts["behind"].split()) & set(other.parts))
        if root.rule == "chip-reversed":
            return other.rule in BURNING_RULES and set(other.parts) <= set(root.parts)
        if root.rule == "part-bridged":
            return other.rule in FLOWING_RULES and bool(self._beside(root) & set(other.parts))
        if root.rule == "supply-shorted":
            return other.rule in (*FLOWING_RULES, "never-conducts", "never-settles") and self._is_shorted(root, other)
        return False

    def goes_with(self, root: Found, other: Found) -> bool:
        """True where one overload shows twice, and neither has a fix: a pin that carries a coil also takes its clamp current;
        several pins carry the same motor; a supply that gives too much sags."""
        if self.follows(root, other):
            return True
        shared = set(root.parts) & set(other.parts)
        if root.rule == "pin-overload":
            return bool(shared) and (other.rule in ("no-clamp", "too-much-voltage") or (
                other.rule == "pin-overload" and bool(self._loads_at(root) & self._loads_at(other))))
        if root.rule == "supply-overload":
            return other.rule == "supply-sags" and bool(shared)
        if root.rule == other.rule == "expectation-missed":
            return bool(shared)
        if root.rule == "too-much-current":
            return (other.rule in ("too-much-power", "too-hot") and root.parts[:1] == other.parts[:1]) or (
                other.rule in ("supply-overload", "supply-sags") and self._is_at_supply(root, other))
        if root.rule in ("no-return-path", "led-reversed"):
            return other.rule == "never-conducts" and bool(shared)
        return root.rule == other.rule == "never-conducts" and bool(self._beside(root) & set(other.parts))

    def _is_at_supply(self, root: Found, other: Found) -> bool:
        """True where the part that carries too much lies at the supply that gives it, or at what that supply no longer feeds."""
        circuit = self._circuit
        if circuit is None:
            return False
        own, its = ({circuit.pin_net[name.lower(), pin] for name in found.parts if (part := circuit.bench.part(name)) is not None
                     for pin in part.pins} for found in (root, other))
        return bool(own & its)

    def _is_shorted(self, root: Found, other: Found) -> bool:
        """True where a finding is about the shorted supply, or about a part between its two ends."""
        if not root.parts or set(root.parts) & set(other.parts):
            return True
        circuit = self._circuit
        supply = circuit.bench.part(root.parts[0]) if circuit is not None else None
        return circuit is not None and supply is not None and any(
            {supply.name.lower()} & {key for pin in part.pins for key, _ in circuit.pins_on[circuit.pin_net[name.lower(), pin]]}
            for name in other.parts if (part := circuit.bench.part(name)) is not None)

    def _beside(self, root: Found) -> set[str]:
        """The names of the parts in series with a bridged one: on its net, and on from there, but not past a source."""
        circuit = self._circuit
        part = circuit.bench.part(root.parts[0]) if circuit is not None and root.parts else None
        if circuit is None or part is None:
            return set()
        stiff = stiff_nets(circuit)
        names, border = {part.name.lower()}, {circuit.pin_net[part.name.lower(), pin] for pin in part.pins}
        seen: set[int] = set()
        while border := border - seen:
            seen |= border
            keys = {key for net in border for key, _ in circuit.pins_on[net]} - names
            names |= keys
            border = {circuit.pin_net[key, pin] for key in keys for pin in circuit.part(key).pins
                      if len(circuit.part(key).pins) <= 3} - stiff
        return {circuit.part(key).name for key in names}

    def _loads_at(self, found: Found) -> set[str]:
        """The motors and coils on the net of the pin that a finding is about."""
        circuit = self._circuit
        if circuit is None:
            return set()
        nets = {circuit.pin_net[key, pin] for point in found.points if "." in point
                for key, _, pin in [point.partition(".")] for key in [key.lower()] if (key, pin) in circuit.pin_net}
        return {key for net in nets for key, _ in circuit.pins_on[net]
                if isinstance(circuit.part(key).entry, Load | Relay | Stepper)}


def leading(found: Sequence[Found], following: Following) -> list[Found]:
    """Those that follow from none of the others."""
    return [f for f in found if not any(following.follows(cause, f) for cause in found)] or list(found)
