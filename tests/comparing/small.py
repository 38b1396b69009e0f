"""Small made-up lists: a few parts with their pins on nets by chance, and the same with something done to it."""

from __future__ import annotations

from random import Random

KINDS = ("220", "1k", "220", "led red", "1N4148", "2N2222A", "motor 9V 100mA", "100n")
PINS = {"led": "AK", "1N4148": "AK", "2N2222A": "EBC"}


def random_list(chance: Random, parts: int, nets: int) -> list[str]:
    """Lines: a supply on the first two nets, and so many parts."""
    lines = ["supply PS 9V", "wire PS.+ to @n0", "wire PS.- to @n1"]
    for number in range(parts):
        kind = chance.choice(KINDS)
        lines.append(f"part X{number} {kind}")
        pins = PINS.get(kind.split()[0], "12")
        for pin in pins:
            if chance.random() < 0.93:
                lines.append(f"wire X{number}.{pin} to @n{chance.randrange(nets)}")
    return lines


def mutated(lines: list[str], chance: Random, nets: int) -> list[str]:
    """One thing done to it: an end moved, a wire or a part left out, another part, a part too many."""
    lines = list(lines)
    wires = [number for number, line in enumerate(lines) if line.startswith("wire")]
    parts = [number for number, line in enumerate(lines) if line.startswith("part")]
    what = chance.choice(("move", "move", "cut", "join", "value", "out", "more", "turn"))
    if what == "move":
        number = chance.choice(wires)
        lines[number] = lines[number].split("@")[0] + f"@n{chance.randrange(nets)}"
    elif what == "cut":
        del lines[chance.choice(wires)]
    elif what == "join":
        lines.append(f"wire @n{chance.randrange(nets)} to @n{chance.randrange(nets)}")
    elif what == "value" and parts:
        number = chance.choice(parts)
        lines[number] = lines[number].replace("220", "4k7").replace("2N2222A", "BC547B").replace("100n", "10n")
    elif what == "out" and parts:
        name = lines[chance.choice(parts)].split()[1]
        lines = [line for line in lines if f" {name} " not in line and f" {name}." not in line]
    elif what == "more":
        lines += ["part X9 1k", f"wire X9.1 to @n{chance.randrange(nets)}", f"wire X9.2 to @n{chance.randrange(nets)}"]
    elif what == "turn":
        name = lines[chance.choice(parts)].split()[1] if parts else "PS"
        swap = str.maketrans("AK12EC", "KA21CE")
        lines = [line.replace(f" {name}.{line.split('.')[1][0]}", f" {name}.{line.split('.')[1][0].translate(swap)}")
                 if line.startswith(f"wire {name}.") else line for line in lines]
    return chance.sample(lines, len(lines))
