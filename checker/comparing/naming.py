"""Names for what is compared: terminals, nets and parts, in the words of the given list.

Input: the variant that is told. Output: short phrases. A net of the reference is named by the part on it that says most,
under the name that this part has in the given list.
"""

from __future__ import annotations

from checker.bench.model import BenchPart
from checker.comparing.form import Form, Joint
from checker.comparing.shapes import ANY
from checker.comparing.spots import Spots
from checker.comparing.variants import Variant
from grammar import show_quantity
from parts_library.schema import (
    AnyEntry,
    Bipolar,
    Capacitor,
    Chip,
    Controller,
    Jfet,
    Led,
    Mosfet,
    Regulator,
    Resistor,
    SupplyKind,
    Thyristor,
)

OF_THE_REFERENCE = " of the reference"

LEG_WORDS = {"E": "emitter", "B": "base", "C": "collector", "G": "gate", "D": "drain", "S": "source"}
PIN_WORDS = {"A": "anode", "K": "cathode", "+": "plus", "-": "minus", "W": "wiper", "coil": "coil"}

_RANKS: tuple[tuple[type, ...], ...] = ((SupplyKind,), (Controller,), (Bipolar, Mosfet, Jfet, Thyristor, Regulator, Chip))
"""Which part names a net best: a supply, a controller, what has named legs, then anything with polarity, then the rest."""


class Names:
    """Phrases for one variant."""

    def __init__(self, variant: Variant) -> None:
        self.pair, self.pairing = variant.pair, variant.pairing
        self.reference, self.given = variant.pair.reference, variant.pair.given
        self.back = {other: one for one, (other, _) in self.pairing.blocks.items()}
        self.spots = Spots(self.given.circuit)

    # ── terminals ─────────────────────────────────────────────────────────────────────────────────────────────────

    def pin(self, form: Form, block: int, joint: Joint) -> str:
        """A terminal: "Q1's base", "U1.D9", "R2"; "POT1's end 1"."""
        name, pin = form.name(block), joint.terminal.pins[0]
        entry = form.blocks[block].entry
        if isinstance(entry, Controller | Chip) or form.blocks[block].parent is not None:
            return f"{name}.{pin}"
        if joint.terminal.label == ANY:
            return name
        word = pin_word(entry, joint.terminal.label)
        return f"{name}'s {word}" if word else f"{name}.{pin}"

    def leg(self, block: int, joint: Joint) -> str:
        """The same for a hand that has to find it: "R2's leg in b16"."""
        said = self.pin(self.given, block, joint)
        where = self.place(block, joint)
        return said if where == said or "." in where else f"{said}'s leg" if joint.terminal.label == ANY else said

    def place(self, block: int, joint: Joint) -> str:
        """The hole of a given terminal, or its name off the board. Of several pins the first that something is at."""
        key = self.given.blocks[block].key
        circuit = self.given.circuit
        used = [pin for pin in joint.terminal.pins if (key, pin) in circuit.touched] or list(joint.terminal.pins)
        return circuit.place_of[key, used[0]]

    # ── nets ──────────────────────────────────────────────────────────────────────────────────────────────────────

    def reference_net(self, net: int, apart_from: int | None = None) -> str:
        """A net of the reference in words of the given list; ``apart_from`` is a block that does not name it."""
        said, own = self.reference_net_named(net, apart_from)
        return f"{said}{OF_THE_REFERENCE}" if own else said

    def reference_net_named(self, net: int, apart_from: int | None = None) -> tuple[str, bool]:
        """The same, and True where only the reference has what it is named by."""
        places = [(self._rank(self.reference, block), block, joint) for block, joint in self.reference.nets[net]
                  if block != apart_from]
        if not places:
            return "nothing", False
        known = [place for place in places if place[1] in self.pairing.blocks] or places
        _, block, number = min(known)
        if block not in self.pairing.blocks:
            return self.pin(self.reference, block, self.reference.blocks[block].joints[number]), True
        other, match = self.pairing.blocks[block]
        return self.pin(self.given, other, self.given.blocks[other].joints[match[number]]), False

    def given_net(self, net: int, apart_from: set[tuple[int, int]] | None = None) -> str:
        """A given net in words; ``apart_from`` are terminals that do not name it."""
        owner = {other: one for one, other in self.pairing.nets.items()}.get(net)
        places = [place for place in self.given.nets[net] if place not in (apart_from or set())]
        own = [place for place in places if self._belongs(place, owner)] or places
        if not own:
            return "nothing"
        _, block, number = min((self._rank(self.given, block), block, number) for block, number in own)
        return self.pin(self.given, block, self.given.blocks[block].joints[number])

    def _belongs(self, place: tuple[int, int], owner: int | None) -> bool:
        block, number = place
        if owner is None or block not in self.back:
            return False
        one = self.back[block]
        return self.reference.blocks[one].joints[self.pairing.blocks[one][1].index(number)].net == owner

    def _rank(self, form: Form, block: int) -> int:
        entry = form.blocks[block].entry
        for rank, types in enumerate(_RANKS):
            if isinstance(entry, types):
                return rank
        return 3 if any(joint.terminal.label != ANY for joint in form.blocks[block].joints) else 4

    def rank(self, block: int) -> int:
        """How well a given block names a net: the less the better."""
        return self._rank(self.given, block)

    def spot(self, net: int | None, near: str = "") -> str:
        """A free place on a given net, or ""; the nearest one to ``near``, a hole, on the same board before any other."""
        if net is None:
            return ""
        nets = self.circuit_nets(net)
        return self.spots.take(self.spots.nearest(nets, near)[0] or self.spots.first(nets))

    def circuit_nets(self, net: int) -> list[int]:
        """The nets of the circuit behind a net of the form, which may be several behind a button's double legs."""
        pins = [(self.given.blocks[block].key, pin) for block, number in self.given.nets.get(net, ())
                for pin in self.given.blocks[block].joints[number].terminal.pins]
        circuit = self.given.circuit
        return list(dict.fromkeys([*([net] if net in circuit.members else []), *(circuit.pin_net[pin] for pin in pins)]))


def pin_word(entry: AnyEntry, label: str) -> str:
    """What the pin of a part is called, or "" where its letter is all there is."""
    if label in LEG_WORDS and not isinstance(entry, Bipolar | Mosfet | Jfet | Thyristor):
        return ""
    return LEG_WORDS.get(label) or PIN_WORDS.get(label, "")


def part_in_words(part: BenchPart) -> str:
    """What a part is: "220 Ω", "red LED", "PN2222A"."""
    entry = part.entry
    if isinstance(entry, Resistor) and entry.ohms:
        return show_quantity(entry.ohms, "ohm")
    if isinstance(entry, Capacitor) and entry.farads:
        return show_quantity(entry.farads, "F")
    words = [word.text for word in part.statement.words]
    if isinstance(entry, Led):
        return led_in_words(entry)
    return " ".join(words) or (entry.name if entry is not None else "part")


def led_in_words(entry: Led) -> str:
    """"red LED" for the entry called led red."""
    return f"{entry.name[4:]} LED" if entry.name.startswith("led ") else entry.name


def thing_in_words(part: BenchPart) -> str:
    """The part as something to take in the hand: "a 220 Ω resistor", "an LM358"."""
    noun = "resistor" if isinstance(part.entry, Resistor) else "capacitor" if isinstance(part.entry, Capacitor) else ""
    said = part_in_words(part)
    return with_article(said if noun in said else f"{said} {noun}")


_SPELT_LIKE_A_VOWEL = "AEFHILMNORSX8"


def with_article(words: str) -> str:
    """"a red LED", "an LM358": a number of a type is spelt letter by letter, so that M is said em."""
    spelt = len(words) > 1 and words[0].isupper() and not words[1].islower()
    return f"an {words}" if words[:1] in (_SPELT_LIKE_A_VOWEL if spelt or words[:1].isdigit() else "aeioAEIO") else f"a {words}"
