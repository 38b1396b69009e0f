"""Lists written anew in other words that mean the same circuit: other names, holes, order of lines, ways of wires.

Input: a text and a source of chance. Output: a text. What is changed here is what a comparison must not see.
"""

from __future__ import annotations

import re
from random import Random

import networkx as nx

from checker.circuit.model import Circuit
from checker.seating.boards import COLUMNS, Strip, name_of
from checker.seating.seat import all_points
from checker.survey import wire_up
from grammar import read
from grammar.syntax_tree import Hole, Part, PlacedIn, Wire, WiringList
from parts_library import load_library
from parts_library.schema import Capacitor, Fuse, Inductor, Load, Resistor, SensorResistor

LIBRARY = load_library()


def circuit_of(text: str) -> Circuit:
    return wire_up(text, LIBRARY).circuits[0]


def rewritten(text: str, chance: Random) -> str:
    """All of it at once: every change below that fits the list."""
    for change in (wires_relaid, holes_moved, legs_exchanged, renamed, shuffled):
        text = change(text, chance)
    return text


def statements(tree: WiringList) -> list[str]:
    """The statements without comments, one a line."""
    lines = [tree.lines[s.span.line - 1][s.span.column - 1:s.span.end_column - 1] for s in tree.statements]
    return [line.strip() for line in lines]


def shuffled(text: str, chance: Random) -> str:
    """The lines in another order."""
    lines = statements(read(text))
    chance.shuffle(lines)
    return "\n".join(lines) + "\n"


def renamed(text: str, chance: Random) -> str:
    """Every part under another name with the same letters. The numbers are beyond the last row of a board, where C70 can be
    no hole; a name that is a word of the list too (LAMP lamp) stays."""
    circuit = circuit_of(text)
    letters: dict[str, list[str]] = {}
    words = {word.text.lower() for part in circuit.bench.parts.values() for word in part.statement.words}
    for part in circuit.bench.parts.values():
        if part.name.lower() not in words:
            letters.setdefault(re.sub(r"\d+$", "", part.name), []).append(part.name)
    new: dict[str, str] = {}
    for stem, names in letters.items():
        numbers = chance.sample(range(64, 100), len(names))
        new.update({name.lower(): f"{stem}{number}" for name, number in zip(names, numbers)})
    names = "|".join(map(re.escape, sorted(new, key=len, reverse=True)))
    pattern = re.compile(rf"(?<![.\w@:-])({names})(?![\w:-])", re.IGNORECASE)
    return "\n".join(pattern.sub(lambda m: new[m[1].lower()], line) for line in statements(read(text))) + "\n"


def legs_exchanged(text: str, chance: Random) -> str:
    """The legs or leads of parts without polarity the other way round."""
    lines = statements(read(text))
    for part in circuit_of(text).bench.parts.values():
        plain = isinstance(part.entry, Resistor | SensorResistor | Inductor | Fuse) \
            or (isinstance(part.entry, Capacitor | Load) and part.pins == ("1", "2"))
        if not plain or chance.random() < 0.4 or not isinstance(part.statement, Part):
            continue
        if isinstance(part.statement.place, PlacedIn):
            one, other = (point.text for point in part.statement.place.points)
            lines = [re.sub(rf"\bin\s+{re.escape(one)}\s+{re.escape(other)}", f"in {other} {one}", line)
                     if re.match(rf"part\s+{part.name}\b", line, re.IGNORECASE) else line for line in lines]
        elif not part.placed:
            lines = [re.sub(rf"\b({part.name})\.([12])\b", lambda m: f"{m[1]}.{3 - int(m[2])}", line)
                     if line.startswith("wire") else line for line in lines]
    return "\n".join(lines) + "\n"


def holes_moved(text: str, chance: Random) -> str:
    """Wire ends in other free holes of their strips."""
    tree, circuit = read(text), circuit_of(text)
    taken = {name_of(p).lower() for p in all_points(circuit.bench) if isinstance(p, Hole)}
    for seat in circuit.reading.seats.values():
        taken |= {name_of(spot).lower() for spot in seat.legs.values()}
    lines = list(tree.lines)
    ends = [point for s in tree.statements if isinstance(s, Wire) for point in s.points if isinstance(point, Hole)]
    for point in sorted(ends, key=lambda point: -point.span.column):
        prefix = f"{point.board}:" if point.board else ""
        half = COLUMNS[:5] if point.column in COLUMNS[:5] else COLUMNS[5:]
        free = [hole for column in half if (hole := f"{prefix}{column}{point.row}").lower() not in taken]
        if free:
            hole = chance.choice(free)
            taken.add(hole.lower())
            line = lines[point.span.line - 1]
            lines[point.span.line - 1] = line[:point.span.column - 1] + hole + line[point.span.end_column - 1:]
    return "\n".join(lines) + "\n"


def wires_relaid(text: str, chance: Random) -> str:
    """The ends of the wires of each net joined in another order, one wire a stretch."""
    tree, circuit = read(text), circuit_of(text)
    if any(isinstance(c, Strip) for c in circuit.uncertain):
        return text
    lines = [line for line, s in zip(statements(tree), tree.statements) if not isinstance(s, Wire)]
    for net, members in circuit.members.items():
        ends: dict[object, list[str]] = {}
        for jumper in circuit.jumpers:
            if circuit.net_of[jumper.conductors[0]] == net:
                for conductor, end in zip(jumper.conductors, jumper.ends):
                    ends.setdefault(conductor, []).append(end)
        if not ends:
            continue
        tree_of = _random_tree(list(ends), chance, circuit, members)
        lines += [f"wire {chance.choice(ends[one])} to {chance.choice(ends[other])}" for one, other in tree_of]
    return "\n".join(lines) + "\n"


def _random_tree(conductors: list[object], chance: Random, circuit: Circuit,
                 members: tuple[object, ...]) -> list[tuple[object, object]]:
    """Pairs of conductors that join them all."""
    joined: nx.Graph[object] = nx.Graph()
    joined.add_nodes_from(members)
    joined.add_edges_from((one, other) for one, other, data in circuit.conductors.subgraph(members).edges(data=True)
                          if "wire" not in data)
    chance.shuffle(conductors)
    pairs = []
    for one, other in zip(conductors, conductors[1:]):
        if not nx.has_path(joined, one, other):
            joined.add_edge(one, other)
            pairs.append((one, other))
    return pairs


def connections_only(text: str, chance: Random) -> str:
    """The same circuit with no board: every part by its leads, every net a named node."""
    circuit = circuit_of(text)
    lines = []
    for part in circuit.bench.parts.values():
        # off the board a button of which only 1 and 2 are named has two leads: this one has four legs
        words = " ".join("button-4" if word.text == "button" else word.text for word in part.statement.words)
        statement = part.statement
        bands = f" bands {' '.join(b.text for b in statement.bands)}" if isinstance(statement, Part) and statement.bands else ""
        code = f" code {statement.code.text}" if isinstance(statement, Part) and statement.code else ""
        lines.append(f"{'part' if isinstance(statement, Part) else 'supply'} {part.name} {words}{bands}{code}")
    names = chance.sample(range(1, 2000), len(circuit.members))
    for (key, pin), net in circuit.pin_net.items():
        if len(circuit.pins_on[net]) > 1:
            lines.append(f"wire {circuit.part(key).name}.{pin} to @n{names[list(circuit.members).index(net)]}")
    for (key, pin), (roles, _) in circuit.bench.roles.items():
        lines.append(f"pin {circuit.part(key).name}.{pin} {' '.join(roles)}")
    chance.shuffle(lines)
    return "\n".join(lines) + "\n"
