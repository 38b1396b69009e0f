"""The form of the parts library: one typed struct a kind of part, each field with its unit.

The TOML files below ``data/`` and a user's own ``--parts`` file have this form. Quantities are written the way people
write them (``"40V"``, ``"4k7"``, ``"220mA"``) and read by ``grammar.quantities``; a wrong unit, an unknown field or a
missing one is refused with file, entry and field. Where a value is from: ``sources`` names documents and the facts they
cover; ``from_memory`` names the facts nobody has sourced yet. Every fact is under one of the two.
"""

from __future__ import annotations

from typing import ClassVar, Literal, TypeAlias

from msgspec import Struct


class UnitFloat(float):
    """A float that was written with a unit; ``unit`` is the spelling of ``grammar.quantities``."""

    unit: ClassVar[str] = ""


class Volts(UnitFloat):
    unit = "V"


class Amps(UnitFloat):
    unit = "A"


class Ohms(UnitFloat):
    unit = "ohm"


class Farads(UnitFloat):
    unit = "F"


class Henries(UnitFloat):
    unit = "H"


class Watts(UnitFloat):
    unit = "W"


class Seconds(UnitFloat):
    unit = "s"


class Joules(UnitFloat):
    unit = "J"


class Celsius(UnitFloat):
    unit = "degC"


class KelvinPerWatt(UnitFloat):
    unit = "K/W"


class Percent(UnitFloat):
    """A percentage, kept as a fraction: ``"5%"`` is 0.05."""

    unit = "%"


class Level(Struct, frozen=True):
    """A logic level: volts above ground, plus a share of the supply voltage.

    Written ``"2V"`` or ``"70%"`` (of the supply)."""

    volts: float = 0.0
    share: float = 0.0


class _Fact(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Base of small records: a misspelt field is an error rather than a fact that is silently lost."""


class Source(_Fact, frozen=True):
    """Where facts are from: a document, its maker or publisher, its revision or date, and what it covers
    (``pins``, ``ratings``, ``model``, or the name of one field)."""

    title: str
    maker: str
    revision: str = ""
    facts: tuple[str, ...] = ("pins", "ratings", "model")


class Order(_Fact, frozen=True):
    """Another pin order that the type is sold in. ``pins`` is in numeric order of the package; ``marked`` says what is
    printed or who sells it that way, ``tell`` how to tell it with a meter."""

    pins: tuple[str, ...]
    marked: str = ""
    tell: str = ""


class Gain(_Fact, frozen=True):
    """Current gain (collector over base current) at a collector current; what the datasheet leaves out stays None."""

    ic: Amps
    min: float | None = None
    typ: float | None = None
    max: float | None = None


class Saturation(_Fact, frozen=True):
    """Collector-emitter voltage (``vce_max``, or ``vce`` typical) with the given currents flowing."""

    ic: Amps
    ib: Amps
    vce: Volts | None = None
    vce_max: Volts | None = None
    vbe_max: Volts | None = None


class Forward(_Fact, frozen=True):
    """A point of a forward characteristic: ``volts`` (typical) and ``volts_max`` at ``amps``."""

    amps: Amps
    volts: Volts
    volts_max: Volts | None = None


class OnResistance(_Fact, frozen=True):
    """Channel resistance at a gate drive: ``ohms`` typical, ``ohms_max`` guaranteed."""

    vgs: Volts
    ohms_max: Ohms
    ohms: Ohms | None = None
    id: Amps | None = None


class Spread(_Fact, frozen=True):
    """The smallest, typical and largest value that is sold; a plain number."""

    min: float
    typ: float
    max: float


class VoltSpread(_Fact, frozen=True):
    """The smallest, typical and largest voltage that is sold."""

    min: Volts
    typ: Volts
    max: Volts


class AmpSpread(_Fact, frozen=True):
    """The smallest, typical and largest current that is sold."""

    min: Amps
    typ: Amps
    max: Amps


class Entry(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, tag_field="kind"):
    """What every entry has.

    ``name`` is the part number or generic name as one would ask for it; ``say`` a few plain words on what it is;
    ``package`` a key of packages.toml, or "off-board" for things wired by their leads; ``pins`` the names in numeric
    order; ``pin_aliases`` other names people write for a pin (family-wide synonyms are added by the loader);
    ``other_orders`` every other order it is sold in; ``max_power`` the dissipation it may have at 25 °C ambient,
    ``thermal_resistance`` junction to ambient without heat sink, ``max_junction`` the limit of the junction;
    ``thermal_shutdown`` for a part that switches itself off when it gets too hot.
    """

    name: str
    say: str
    package: str
    pins: tuple[str, ...]
    aliases: tuple[str, ...] = ()
    pin_aliases: dict[str, tuple[str, ...]] = {}
    other_orders: tuple[Order, ...] = ()
    letters: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    from_memory: tuple[str, ...] = ()
    max_power: Watts | None = None
    thermal_resistance: KelvinPerWatt | None = None
    max_junction: Celsius | None = None
    thermal_shutdown: bool = False


class Bipolar(Entry, frozen=True, tag="bipolar"):
    """An NPN or PNP transistor, Darlingtons included. Voltages are absolute maxima and positive for both polarities."""

    polarity: Literal["npn", "pnp"]
    vceo: Volts
    vebo: Volts
    ic: Amps
    gain: tuple[Gain, ...]
    vcbo: Volts | None = None
    ib: Amps | None = None
    saturation: tuple[Saturation, ...] = ()
    vbe_on: Forward | None = None
    reverse_gain: Spread | None = None
    darlington: bool = False
    clamp_diode: bool = False
    photo: bool = False


class Mosfet(Entry, frozen=True, tag="mosfet"):
    """An enhancement MOSFET. Voltages are positive for both polarities; ``vgs`` is the gate's absolute maximum."""

    polarity: Literal["n", "p"]
    vds: Volts
    vgs: Volts
    id: Amps
    threshold: VoltSpread
    on_resistance: tuple[OnResistance, ...]
    body_diode: Forward | None = None
    avalanche_energy: Joules | None = None


class Jfet(Entry, frozen=True, tag="jfet"):
    """A junction FET: it conducts until its gate is driven past the source. Voltages are positive for both polarities:
    ``idss`` the drain current with gate and source joined, ``pinch_off`` the gate voltage that ends it, ``gate_voltage`` the
    reverse voltage of its gate, ``gate_current`` what the gate stands forwards."""

    polarity: Literal["n", "p"]
    idss: AmpSpread
    pinch_off: VoltSpread
    gate_voltage: Volts
    gate_current: Amps


class Thyristor(Entry, frozen=True, tag="thyristor"):
    """A thyristor (A K G), or with ``two_way`` a triac (MT1 MT2 G): once its gate has fired it, it conducts until its current
    falls below ``holding``. ``voltage`` is what it blocks, ``current`` its rated current, ``trigger`` the gate current that
    fires it, ``on_state`` its voltage while it conducts, ``gate_reverse`` and ``gate_current`` what the gate stands."""

    voltage: Volts
    current: Amps
    trigger: AmpSpread
    holding: Amps
    on_state: Forward
    gate_current: Amps
    gate_reverse: Volts
    trigger_voltage: Volts = Volts(0.7)
    two_way: bool = False


class Diode(Entry, frozen=True, tag="diode"):
    """A rectifier, switching or Schottky diode: ``vrrm`` repetitive reverse voltage, ``current`` average forward,
    ``surge`` a single half wave, ``recovery`` reverse recovery time."""

    use: Literal["rectifier", "switching", "schottky"]
    vrrm: Volts
    current: Amps
    forward: tuple[Forward, ...]
    surge: Amps | None = None
    recovery: Seconds | None = None


class Zener(Entry, frozen=True, tag="zener"):
    """A zener diode: ``voltage`` at ``test_current``, there with the slope ``impedance``."""

    voltage: Volts | None = None
    tolerance: Percent = Percent(0.05)
    test_current: Amps | None = None
    impedance: Ohms | None = None


class Led(Entry, frozen=True, tag="led"):
    """A light-emitting diode: ``current`` the absolute maximum in continuous running, ``usual_current`` what it is
    specified at, ``reverse_voltage`` its absolute maximum."""

    colour: str
    forward: tuple[Forward, ...]
    current: Amps
    usual_current: Amps
    reverse_voltage: Volts


class LedMember(_Fact, frozen=True):
    """One LED inside a package; ``like`` names the entry whose electrical data it has."""

    name: str
    anode: str
    cathode: str
    like: str


class LedGroup(Entry, frozen=True, tag="led-group"):
    """Several LEDs in one package: RGB, seven-segment, bar. ``joined`` are pairs of pins that are one conductor inside."""

    members: tuple[LedMember, ...]
    joined: tuple[tuple[str, str], ...] = ()


class Resistor(Entry, frozen=True, tag="resistor"):
    """A fixed resistor."""

    ohms: Ohms | None = None
    tolerance: Percent = Percent(0.05)
    power: Watts = Watts(0.25)


class Capacitor(Entry, frozen=True, tag="capacitor"):
    """A capacitor; ``polarised`` ones have pins + and -. ``reverse_voltage`` is what it stands the wrong way round."""

    type: Literal["ceramic", "film", "electrolytic", "tantalum"]
    farads: Farads | None = None
    voltage: Volts | None = None
    polarised: bool = False
    reverse_voltage: Volts | None = None

    @property
    def resonates(self) -> bool:
        """True for crystals and resonators, which carry no current and hold no voltage."""
        return self.package == "CRYSTAL-2"


class Inductor(Entry, frozen=True, tag="inductor"):
    """A coil: inductance, winding resistance, current rating."""

    henries: Henries | None = None
    ohms: Ohms = Ohms(1.0)
    current: Amps | None = None


class Potentiometer(Entry, frozen=True, tag="potentiometer"):
    """A potentiometer, pins 1 W 3. ``wiper_current`` is the limit of the track under the wiper."""

    ohms: Ohms | None = None
    power: Watts = Watts(0.1)
    tolerance: Percent = Percent(0.2)
    wiper_current: Amps | None = None


class SensorResistor(Entry, frozen=True, tag="sensor-resistor"):
    """A resistor that follows light or temperature: ``ohms`` the named value, ``low`` and ``high`` the ends of its range;
    ``low_when`` and ``high_when`` name them (bright/dark, hot/cold)."""

    ohms: Ohms
    low: Ohms
    high: Ohms
    low_when: str
    high_when: str
    power: Watts = Watts(0.1)
    voltage: Volts | None = None


class Contact(_Fact, frozen=True):
    """Two pins that are joined in the named positions; an empty ``when`` means always."""

    pins: tuple[str, str]
    when: tuple[str, ...] = ()


class Switch(Entry, frozen=True, tag="switch"):
    """Buttons and switches. ``positions`` in the order at rest first."""

    positions: tuple[str, ...]
    contacts: tuple[Contact, ...]
    voltage: Volts
    current: Amps
    momentary: bool = False


class Fuse(Entry, frozen=True, tag="fuse"):
    """A fuse, or with ``resets`` a polymer one."""

    current: Amps | None = None
    ohms: Ohms = Ohms(0.1)
    resets: bool = False


class Load(Entry, frozen=True, tag="load"):
    """A two-lead load that turns current into work: motor, solenoid, lamp, buzzer, speaker, heater, pump, fan.

    Rated voltage over rated current is its running resistance; ``stall_current`` (a motor held still) or
    ``inrush_current`` (a cold lamp) the worst. ``voltage_max`` is what it stands for long. ``inductance`` makes it a coil.
    ``lights`` and ``turns`` say which words of ``expect`` fit. ``one_way`` loads conduct in one direction only.
    """

    type: Literal["motor", "solenoid", "lamp", "buzzer", "speaker", "heater"]
    voltage: Volts | None = None
    current: Amps | None = None
    ohms: Ohms | None = None
    voltage_min: Volts | None = None
    voltage_max: Volts | None = None
    stall_current: Amps | None = None
    inrush_current: Amps | None = None
    inductance: Henries | None = None
    one_way: bool = False


class Relay(Entry, frozen=True, tag="relay"):
    """A relay: coil pins A1 A2, and ``contacts`` with positions "released" and "pulled-in"."""

    voltage: Volts | None = None
    ohms: Ohms | None = None
    current: Amps | None = None
    must_operate: Percent = Percent(0.75)
    must_release: Percent = Percent(0.1)
    inductance: Henries | None = None
    contacts: tuple[Contact, ...] = ()
    contact_voltage: Volts | None = None
    contact_current: Amps | None = None


class Stepper(Entry, frozen=True, tag="stepper"):
    """A unipolar stepper: ``coils`` are pin pairs, each of ``ohms``."""

    voltage: Volts
    ohms: Ohms
    coils: tuple[tuple[str, str], ...]
    inductance: Henries | None = None


class SupplyKind(Entry, frozen=True, tag="supply"):
    """A battery, USB port or adapter. ``voltage`` nominal; ``fresh`` and ``spent`` (three-quarters used) the ends of its
    life with their internal resistances; ``limit`` a current it gives at most, ``limit_by`` what does the limiting;
    ``rated`` the current it is made to give."""

    chemistry: str
    voltage: Volts | None = None
    resistance: Ohms = Ohms(0.1)
    fresh: Volts | None = None
    spent: Volts | None = None
    spent_resistance: Ohms | None = None
    rated: Amps | None = None
    limit: Amps | None = None
    limit_by: Literal["electronics", "fuse", "nothing"] = "nothing"
    mains: bool = False


class Regulator(Entry, frozen=True, tag="regulator"):
    """A linear regulator. ``output`` is the set voltage, for an adjustable one the reference between OUT and ADJ
    (``adjustable``). ``dropout`` at rated current; ``vin_max`` absolute, ``vin_operating`` the highest in which it is
    specified where that is less; ``current`` rated; ``limit`` at which it limits."""

    output: Volts
    dropout: Volts
    vin_max: Volts
    current: Amps
    limit: Amps
    quiescent: Amps
    vin_operating: Volts | None = None
    tolerance: Percent = Percent(0.04)
    adjustable: bool = False
    negative: bool = False
    min_load: Amps | None = None


class Input(_Fact, frozen=True):
    """A group of like inputs of a chip, module or board.

    ``low_max`` and ``high_min`` are the guaranteed thresholds; ``above_supply`` and ``below_ground`` how far the pin may be
    driven past its rails; ``voltage_max`` an absolute limit above ground instead; ``clamped`` where it has diodes to the
    rails; ``pull_up``/``pull_down`` built-in resistors; ``ohms`` its input resistance to ground; ``may_float`` where it
    may stay open; ``analog`` where it has no thresholds; ``switched_by``: of the channels of an analogue switch, the inputs
    that select them."""

    pins: tuple[str, ...]
    low_max: Level | None = None
    high_min: Level | None = None
    above_supply: Volts | None = None
    below_ground: Volts | None = None
    voltage_max: Volts | None = None
    clamped: bool = True
    pull_up: Ohms | None = None
    pull_down: Ohms | None = None
    ohms: Ohms | None = None
    clamp_current: Amps | None = None
    may_float: bool = False
    analog: bool = False
    supply: str | None = None
    switched_by: tuple[str, ...] = ()


class Output(_Fact, frozen=True):
    """A group of like outputs.

    ``style``: push-pull drives both ways, open-collector only to ground, high-side only to the supply. ``ohms_high`` and
    ``ohms_low`` with ``drop_high`` and ``drop_low`` are its Thevenin equivalents toward the rails; ``current`` the absolute
    maximum of a pin, ``usual_current`` the recommended one. ``follows``: for each pin the input it follows ("IN1",
    "!IN1" for inverted, "!(1A & 1B)" for a gate); without it both states are looked at. ``one_at``: never more than one of
    the pins is at this level (a decoder, a ring counter, the digits of a scanned display). ``enabled_by``: for each pin (one
    for all will do) the input that switches it on ("!OE" where low does); off, it lets go. ``set_by`` names the pin whose
    current sets theirs: they give ``times`` as much, whatever hangs on them (in a scanned display, the mean of one LED), and
    for each further digit in use the supply gives as much again. ``held_by``: the input during which
    the outputs stay as they were, whatever they follow. ``clamped``: diodes to both rails."""

    pins: tuple[str, ...]
    style: Literal["push-pull", "open-collector", "high-side"] = "push-pull"
    ohms_high: Ohms = Ohms(50.0)
    ohms_low: Ohms = Ohms(50.0)
    drop_high: Volts = Volts(0.0)
    drop_low: Volts = Volts(0.0)
    current: Amps | None = None
    usual_current: Amps | None = None
    voltage_max: Volts | None = None
    follows: tuple[str, ...] = ()
    one_at: Literal["high", "low"] | None = None
    enabled_by: tuple[str, ...] = ()
    held_by: tuple[str, ...] = ()
    set_by: str | None = None
    times: float = 1.0
    clamped: bool = True
    supply: str | None = None


class Amplifier(_Fact, frozen=True):
    """An op amp or comparator: how near its output comes to the rails and what it can source and sink at least, and at most
    where its short-circuit current has a limit; ``open_collector`` outputs only sink, to the ground or to the pin ``emitter``."""

    output: str
    plus: str
    minus: str
    headroom_high: Volts = Volts(1.5)
    headroom_low: Volts = Volts(0.02)
    source: Amps = Amps(0.02)
    sink: Amps = Amps(0.01)
    source_most: Amps | None = None
    sink_most: Amps | None = None
    gain: float = 100000.0
    open_collector: bool = False
    emitter: str | None = None


class Element(_Fact, frozen=True):
    """One element of an equivalent circuit between pins or inner nodes (any other name). ``repeat`` n writes it n times
    with ``{n}`` in node names replaced by 1 … n.

    ``device``: resistor (``ohms``), diode (anode, cathode; ``forward``, ``breakdown``), npn and pnp (collector, base,
    emitter; ``gain``, ``volts`` at ``amps`` of base-emitter, ``resistance`` in the collector), nmos and pmos (drain, gate,
    source; ``threshold``, ``on_ohms``, ``volts`` the width of the threshold), source (plus, minus; ``volts``,
    ``resistance``), transfer (sensed plus, sensed minus, out plus, out minus; ``siemens``)."""

    device: Literal["resistor", "diode", "npn", "pnp", "nmos", "pmos", "source", "transfer"]
    nodes: tuple[str, ...]
    ohms: Ohms | None = None
    forward: tuple[Forward, ...] = ()
    breakdown: Volts | None = None
    gain: Spread | None = None
    volts: Volts | None = None
    amps: Amps | None = None
    resistance: Ohms | None = None
    threshold: VoltSpread | None = None
    on_ohms: Ohms | None = None
    siemens: float | None = None
    repeat: int = 1


class PinLimit(_Fact, frozen=True):
    """A limit between two pins (or of the current into one): names with ``{n}`` repeat as in Element.

    ``quantity``: voltage (``of`` two pins, plus first; judged in that direction) or current (``of`` one pin)."""

    quantity: Literal["voltage", "current"]
    of: tuple[str, ...]
    volts: Volts | None = None
    amps: Amps | None = None
    repeat: int = 1


class Stop(_Fact, frozen=True):
    """What an input that rules over others does: while ``when`` (a logic function of inputs, "!RESET") is true, ``outputs``
    stay at a ``level``: low, high, still (as they are: no clock is taken), loading (only what is loaded passes) or open
    (switched off)."""

    when: str
    outputs: tuple[str, ...]
    level: Literal["low", "high", "still", "loading", "open"]


class Made(_Fact, frozen=True):
    """A supply that a module makes for others: at ``pin`` at least ``volts``, regulated down from the pin ``source``, below which
    it stays by ``dropout``, and ``current`` at most. Beside another supply of its voltage it gives nothing."""

    pin: str
    source: str
    volts: Volts
    dropout: Volts
    current: Amps


class Chip(Entry, frozen=True, tag="chip"):
    """An integrated circuit or a module with printed pins: what its supply, inputs and outputs look like from outside.

    ``supply``/``ground`` name the pins (``more_supplies`` and ``more_grounds`` the others; ``separate`` those of
    ``more_grounds`` that are not joined to the ground inside and need a wire of their own). ``supply_min`` and ``supply_max``
    are the range in which it works, ``supply_absolute`` the limit; ``supply_current`` what it draws in the middle of the
    range, ``supply_peak`` at worst. ``circuit`` and ``amplifiers`` are equivalent circuits; ``makes`` supplies for others;
    ``limits`` further ratings; ``total_current`` through supply or ground pin; ``unused`` pins without a connection;
    ``stops`` what its resets, enables and inhibits hold; ``led_needs`` the current from A to K at which a coupler with a logic
    or triac output switches for sure.
    ``supply_resistance_reversed`` is what it looks like with the supply reversed."""

    type: Literal["logic", "driver", "opto", "amplifier", "timer", "memory", "converter", "sensor", "display", "module",
                  "servo", "reference", "microcontroller"]
    supply: str | None = None
    ground: str | None = None
    more_supplies: tuple[str, ...] = ()
    more_grounds: tuple[str, ...] = ()
    separate: tuple[str, ...] = ()
    supply_min: Volts | None = None
    supply_max: Volts | None = None
    supply_absolute: Volts | None = None
    supply_current: Amps | None = None
    supply_peak: Amps | None = None
    total_current: Amps | None = None
    inputs: tuple[Input, ...] = ()
    outputs: tuple[Output, ...] = ()
    amplifiers: tuple[Amplifier, ...] = ()
    circuit: tuple[Element, ...] = ()
    makes: tuple[Made, ...] = ()
    limits: tuple[PinLimit, ...] = ()
    stops: tuple[Stop, ...] = ()
    led_needs: Amps | None = None
    unused: tuple[str, ...] = ()
    wants_decoupling: bool = True

    @property
    def supply_pins(self) -> tuple[str, ...]:
        """All pins of its supplies and grounds, the main ones first."""
        return tuple(pin for pin in (self.supply, self.ground, *self.more_supplies, *self.more_grounds) if pin is not None)


class Controller(Entry, frozen=True, tag="controller"):
    """A controller board. ``logic`` is its supply of the pins; ``pins_out`` digital and analogue pins; currents a pin:
    recommended and absolute; ``total_current`` of all; ``pin_ohms`` an output's resistance, ``pull_up`` the internal one,
    ``pin_absolute`` how far above the logic supply a pin may be; ``vin_min``/``vin_max`` what VIN takes, ``vin_absolute`` the
    limit; ``usb_current`` what the 5V pin gives on USB, ``vin_current`` on VIN, ``aux_*`` of the 3V3 pin."""

    logic: Volts
    digital: tuple[str, ...]
    analog: tuple[str, ...]
    pwm: tuple[str, ...]
    low_max: Level
    high_min: Level
    pin_usual: Amps
    pin_absolute: Amps
    total_current: Amps
    above_supply: Volts
    below_ground: Volts
    pin_ohms: Ohms
    pull_up: Ohms
    vin_min: Volts
    vin_max: Volts
    vin_absolute: Volts
    usb_current: Amps
    vin_current: Amps
    aux_voltage: Volts
    aux_current: Amps
    own_current: Amps
    clamp_current: Amps = Amps(0.001)


AnyEntry: TypeAlias = (
    Bipolar | Mosfet | Jfet | Thyristor
    | Diode | Zener | Led | LedGroup | Resistor | Capacitor | Inductor | Potentiometer | SensorResistor
    | Switch | Fuse | Load | Relay | Stepper | SupplyKind | Regulator | Chip | Controller
)


class Package(_Fact, frozen=True):
    """A package as it meets a breadboard.

    ``form``: to92 (flat side), to220 (tab), dip (notch or dot, two rows), axial (band possible), radial (two legs down),
    button (four legs), inline (a row of pins), off-board. ``marks`` are the marks that can be seen on it. ``pitch`` the
    distance between neighbouring legs as moulded and ``reach`` the farthest apart that neighbouring legs can be bent, in
    holes of 2.54 mm; ``width`` for two rows: the distance between them in holes; ``legs`` for two rows with gaps: the places
    that have a leg, counted as if none were missing; ``breadboard`` says whether it fits one."""

    name: str
    form: Literal["to92", "to220", "dip", "axial", "radial", "button", "inline", "off-board"]
    say: str
    pins: int | None = None
    marks: tuple[str, ...] = ()
    pitch: float = 1.0
    reach: float = 1.0
    width: float | None = None
    legs: tuple[int, ...] = ()
    breadboard: bool = True
    sources: tuple[Source, ...] = ()
    from_memory: tuple[str, ...] = ()

    def numbers(self, count: int) -> tuple[int, ...]:
        """The places of ``count`` legs, as they are counted on the package: 1, 2, 3 and so on but for gaps."""
        return self.legs or tuple(range(1, count + 1))
