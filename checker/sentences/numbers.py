"""Sentences about numbers: too much current, voltage, power; shorts; coils."""

from __future__ import annotations

from checker.rules.base import Found
from checker.sentences.words import allowed, gets, listed, measured, out_of_reach, part, point
from grammar import show_quantity


def _of(found: Found) -> str:
    return found.facts.get("of", part(found))


def _recovering(found: Found) -> str:
    return (f"It takes {measured(found, 1)} to block when {found.facts['coil']} is switched on again, and until then the "
            f"{measured(found, 3)} of {found.facts['coil']} flow through {found.facts['switch'] or 'the switch'} at the "
            f"whole {measured(found, 4)}")


def _wanted(found: Found) -> str:
    return show_quantity(float(found.facts["wanted"]), "A")


def _peak(found: Found) -> str:
    return (f"The coil's {measured(found, 1)} drive {_of(found)} to {measured(found)}; it can take {allowed(found)}. "
            f"Each time {measured(found, 2)} go there")


SENTENCES = {
    ("too-much-current", "part"): (
        lambda f: f"{_of(f)} carries {measured(f)}, more than its {allowed(f)}",
        lambda f: "With more than that it overheats and fails"),
    ("too-much-current", "small"): (
        lambda f: f"{_of(f)} carries {measured(f)}, more than its {allowed(f)}",
        lambda f: f"It is too small for {f.facts['load']}, which wants {_wanted(f)}, whatever its base or gate gets"),
    ("too-much-current", "fuse"): (
        lambda f: f"the fuse {part(f)} blows: {measured(f)} flow",
        lambda f: f"It is made for {allowed(f)}"),
    ("too-much-current", "polyfuse"): (
        lambda f: f"the fuse {part(f)} trips: {measured(f)} flow",
        lambda f: f"From {allowed(f)} on it lets next to nothing through until it has cooled down"),
    ("too-much-current", "contact"): (
        lambda f: f"a contact of the board carries {measured(f)}: {_of(f)}",
        lambda f: f"Its spring and the jumper can take {allowed(f)} at most; above it the plastic around them melts"),
    ("too-much-current", "contact-advised"): (
        lambda f: f"a contact of the board carries {measured(f)}: {_of(f)}",
        lambda f: f"For long, {allowed(f)} is as much as its spring is good for; a second jumper beside it helps"),
    ("no-current-limit", "junction"): (
        lambda f: f"nothing limits the current through {part(f)}: {measured(f)}",
        lambda f: f"It can take {allowed(f)}, and no resistor is in its way"),
    ("no-current-limit", "base"): (
        lambda f: f"no resistor between {point(f, 1)} and the base of {part(f)}: {measured(f)}",
        lambda f: f"The pin gives at most {allowed(f)}, and the base takes {measured(f, 1)}"),
    ("too-much-voltage", "part"): (
        lambda f: gets(_of(f), measured(f), allowed(f)),
        lambda f: "With more than that it breaks down, and may never work again"),
    ("too-much-voltage", "range"): (
        lambda f: f"{_of(f)} gets {measured(f)}, and it is made for {allowed(f)} at most",
        lambda f: "It may work and last, but its maker promises neither"),
    ("too-much-voltage", "pin"): (
        lambda f: f"{_of(f)} is driven past its own supply",
        lambda f: ". ".join(said for said in (
            f"Its protection diode then carries {measured(f)}; it can take {allowed(f)}", out_of_reach(f)) if said)),
    ("too-much-power", ""): (
        lambda f: f"{part(f)} has to shed {measured(f)}, more than its {allowed(f)}",
        lambda f: "It gets too hot to touch and fails"),
    ("too-hot", "saves-itself"): (
        lambda f: f"{part(f)} would reach {measured(f)} inside with the motor held still",
        lambda f: f"Its limit is {allowed(f)}: it then switches itself off until it has cooled"),
    ("too-hot", ""): (
        lambda f: f"{part(f)} reaches {measured(f)} inside",
        lambda f: f"Its limit is {allowed(f)}, in a room of 40 °C"),
    ("pin-overload", "pin"): (
        lambda f: f"pin {_of(f)} carries {measured(f)}, more than its {allowed(f)}",
        lambda f: "Even for a moment it can take no more than that, and for long less"),
    ("pin-overload", "pins"): (
        lambda f: f"the pins {listed(f.points)} carry up to {measured(f)} each, straight into {f.facts['load']}",
        lambda f: f"A pin can take {allowed(f)} for a moment, and less for long"),
    ("pin-overload", "all"): (
        lambda f: f"the pins of {part(f)} carry {measured(f)} together, more than {allowed(f)}",
        lambda f: "Each may be within its own limit, but their sum heats the chip"),
    ("pin-overload", "amplifier"): (
        lambda f: f"{_of(f)} is an output and lies on {f.facts['rail']}",
        lambda f: f"It drives against it with {measured(f)}, all that it can, and nothing comes out of it"),
    ("pin-overload", "usual"): (
        lambda f: f"pin {_of(f)} carries {measured(f)}, above the recommended {allowed(f)}",
        lambda f: "No limit is passed; the pin's voltage sags a little"),
    ("outputs-fighting", ""): (
        lambda f: f"{_of(f)} and {f.facts['others']} drive against each other",
        lambda f: f"{measured(f)} flow from one into the other; a pin can take {allowed(f)}"),
    ("supply-overload", "output"): (
        lambda f: f"{point(f)} has to give {measured(f)}, more than its {allowed(f)}",
        lambda f: "The regulator or fuse behind it overheats"),
    ("supply-overload", "limit"): (
        lambda f: f"{part(f)} reaches its current limit of {allowed(f)}",
        lambda f: "Its voltage then falls, and nothing gets what it needs"),
    ("supply-overload", "fuse"): (
        lambda f: f"{part(f)} has to give {measured(f)}, more than the {allowed(f)} of its fuse",
        lambda f: "The fuse opens"),
    ("supply-overload", "rated"): (
        lambda f: f"{part(f)} has to give {measured(f)}, more than the {allowed(f)} it is made for",
        lambda f: "Its voltage sags and it gets warm"),
    ("supply-sags", "supply"): (
        lambda f: f"{part(f)} sags to {measured(f)}",
        lambda f: f"Below {allowed(f)} what hangs on it stops working or resets"),
    ("supply-sags", "chip"): (
        lambda f: f"{point(f)} gets {measured(f)} and needs {allowed(f)}",
        lambda f: f"{part(f)} does not work reliably"),
    ("supply-sags", "regulator"): (
        lambda f: f"{part(f)} gets {measured(f)} and needs {allowed(f)} to give {f.facts['output']} V",
        lambda f: f"It gives {measured(f, 1)} instead"),
    ("supplies-fighting", "supplies"): (
        lambda f: f"{listed(f.parts)} push current into each other: {measured(f)}",
        lambda f: "Two supplies on one rail are never exactly equal; the stronger one feeds the other backwards"),
    ("supplies-fighting", "usb"): (
        lambda f: f"{listed(f.parts[1:])} pushes {measured(f)} back into the USB port of {part(f)}",
        lambda f: "With the cable plugged in, two 5 V sources meet at the 5V pin"),
    ("supply-shorted", "joined"): (
        lambda f: f"plus and minus of {part(f)} are joined: a short of {measured(f)}",
        lambda f: "Wires and cells get hot at once"),
    ("supply-shorted", "contacts"): (
        lambda f: f"{listed(f.facts['contacts'].split())} join{'' if ' ' in f.facts['contacts'] else 's'} plus and minus of "
        f"{part(f)}: a short of {measured(f)}",
        lambda f: "Nothing but contacts is in the way of the current, and they weld together"),
    ("supply-shorted", "collapsed"): (
        lambda f: f"{part(f)} is all but shorted: {measured(f)} flow",
        lambda f: "Its voltage collapses, and what carries the current gets hot"),
    ("rails-shorted", ""): (
        lambda f: f"rails {listed(f.points)} are joined: a short of {measured(f)} across {part(f)}",
        lambda f: "Wires and cells get hot at once"),
    ("no-clamp", "peak"): (lambda f: f"nothing takes the current of {part(f)} when it is switched off", _peak),
    ("no-clamp", "near"): (
        lambda f: f"{_of(f)} comes near its limit when {part(f)} is switched off: {measured(f)} of {allowed(f)}",
        lambda f: "That rests on an inductance that was assumed; a coil with more takes it past the limit. A diode across "
        f"{part(f)} settles it"),
    ("no-clamp", "arc"): (
        lambda f: f"the contact of {f.facts['switch']} sparks when it opens {part(f)}",
        lambda f: f"{measured(f)} go into the spark each time; a diode across {part(f)} spares the contact"),
    ("hazardous-voltage", "mains"): (
        lambda f: f"{part(f)} is mains voltage",
        lambda f: "This tool does not clear mains circuits: local codes and a licensed electrician do"),
    ("hazardous-voltage", "high"): (
        lambda f: f"{part(f)} gives {measured(f)}: more than is safe to touch",
        lambda f: f"Above {allowed(f)} this tool clears nothing: local codes and licensed practice apply"),
    ("hazardous-voltage", "series"): (
        lambda f: f"{listed(f.parts)} add up to {measured(f)}: more than is safe to touch",
        lambda f: f"Above {allowed(f)} this tool clears nothing: local codes and licensed practice apply"),
    ("clamp-too-slow", "heat"): (
        lambda f: f"{part(f)} is too slow a diode for pulses of {measured(f, 2)}: {_of(f)} has to shed {measured(f)}",
        lambda f: f"{_recovering(f)}. {_of(f)} sheds at most {allowed(f)}"),
    ("clamp-too-slow", "share"): (
        lambda f: f"{part(f)} is a slow diode for pulses of {measured(f, 2)}",
        lambda f: f"{_recovering(f)}: {measured(f, 5)} more heat there"),
}
