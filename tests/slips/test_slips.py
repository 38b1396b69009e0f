"""Where to look twice: which slips are made of a list, which of them are destructive, what the sheet says.

The pump stage is that of DESIGN.md section 2; what each of its slips does is worked out by hand beside it. Ratings are
those of the parts library: PN2222A 600 mA, 625 mW, emitter to base 6 V; a controller pin 40 mA, its protection diode 1 mA.
"""

from __future__ import annotations

import json

import pytest
from msgspec import structs

from checker.bench.inventory import lay_out
from checker.checking import check
from checker.circuit.build import connect
from checker.examples import names, text_of
from checker.fixes.draft import applied
from checker.judge import READING_RULES
from checker.report import Page
from checker.report.model import Evidence
from checker.seating.seat import seat
from checker.slips import Sheet, Slip, render, slips_of
from checker.slips.generator import all_slips
from checker.slips.model import Entry
from grammar import read
from parts_library import load_library

LIBRARY = load_library()
PUMP = text_of("seed-tray-mister")


def slips_in(text: str) -> list[Slip]:
    """The slips of a list, none simulated."""
    seated = seat(lay_out(read(text), LIBRARY)[0])
    return all_slips(connect(seated, seated.readings[0])[0])


def sheet_of(text: str) -> Sheet:
    return slips_of(text, check(text, file="list.legs"), LIBRARY)


def rules_of(sheet: Sheet) -> dict[tuple[str, str, str], str]:
    """What each destructive slip does, by what to look at, how it belongs and how it is after the slip."""
    return {(one.slip.at, one.slip.right, one.slip.wrong): one.rule for entry in sheet.entries for one in entry.slips}


@pytest.fixture(scope="module")
def pump() -> Sheet:
    return sheet_of(PUMP)


# ── the pump stage, by hand ───────────────────────────────────────────────────────────────────────────────────────

BLACK, GROUND = "the black wire from L-10 to a10", "the wire from U1.GND to L-5"

DESTRUCTIVE = {
    # plus through D1, forward, and Q1 to minus: with D9 high nothing but Q1's gain limits it
    ("D1", "its band belongs to d18", "turned round"): "too-much-power",
    # without D1 the winding's 100 mA drive the collector past its 40 V when D9 goes low
    ("D1", "its leg belongs in d12", "in d11"): "no-clamp",
    ("D1", "its leg belongs in d12", "in d13"): "no-clamp",
    ("D1", "its leg belongs in d18", "in d19"): "no-clamp",
    ("D1", "it is on the board", "left out"): "no-clamp",
    # (5 V - 0.9 V) over the pin's 25 Ω and little else: over 100 mA; with 22 Ω, (5 - 0.9) / 47 is 87 mA: both over 40 mA
    ("R1", "nothing else joins the rows of its two legs", "bridged by a wire"): "no-current-limit",
    ("R1", "it is 220 Ω", "22 Ω taken"): "pin-overload",
    # from the collector's row, at 9 V while Q1 is off, through 220 Ω into a pin of a 5 V part: over 1 mA
    ("R1", "its leg belongs in b11", "in a12"): "too-much-voltage",
    # the collector at minus, the emitter at 9 V through the pump: 9 V less the base's 0.7 V and more stand against 6 V
    ("Q1", "its flat faces a", "turned round"): "too-much-voltage",
    # both leads in one rail
    ("PACK", "its plus belongs to L+", "in L-"): "supply-shorted",
    ("PACK", "its minus belongs to L-", "in L+"): "supply-shorted",
    # L- is then 9 V above L+, which the collector junction and D1 pass on to the pin through 220 Ω
    ("PACK", "plus belongs to L+, minus to L-", "leads exchanged"): "too-much-voltage",
    # the controller's ground at the pack's plus: its pin is 9 V above the pack's minus
    (GROUND, "its end belongs in L-5", "in L+5"): "too-much-voltage",
    # the emitter at 9 V, the base at 0 V through 220 Ω while D9 is low
    (BLACK, "its end belongs in L-10", "in L+10"): "too-much-voltage",
}

HARMLESS = [
    ("R1", "ends exchanged"), ("PUMP", "ends exchanged"),  # the same circuit
]

NOT_WORKING = [
    ("Q1", "left out"), ("R1", "left out"), ("the wire from PUMP.1 to b12", "left out"),  # nothing flows
    (BLACK, "in a11"),  # the base at minus; the pin gives 5 V / 245 Ω, 20 mA, which it stands
    ("the red wire from e18 to L+18", "in L-18"),  # both ends of the pump at minus
]


def test_the_destructive_slips_of_the_pump_stage_are_those_found_by_hand(pump: Sheet) -> None:
    assert DESTRUCTIVE == rules_of(pump)


@pytest.mark.parametrize(("at", "wrong"), [*HARMLESS, *NOT_WORKING])
def test_a_slip_that_destroys_nothing_is_simulated_and_not_listed(pump: Sheet, at: str, wrong: str) -> None:
    assert (at, wrong) in {(slip.at, slip.wrong) for slip in slips_in(PUMP)}
    assert (at, wrong) not in {(named, slip) for named, _, slip in rules_of(pump)}


def test_the_counts_add_up_and_only_what_changes_nothing_is_left(pump: Sheet) -> None:
    rest = pump.simulated - pump.destructive - pump.not_working - pump.unsettled

    assert (len(slips_in(PUMP)), len(DESTRUCTIVE)) == (pump.simulated, pump.destructive)
    assert (len(HARMLESS), 0) == (rest, pump.unsettled)


def test_a_slip_is_listed_exactly_where_check_says_do_not_power(pump: Sheet) -> None:
    """The same answer as when the list with the slip is checked alone."""
    listed = {one.slip.edits for entry in pump.entries for one in entry.slips}
    lines = PUMP.splitlines()
    refused = {slip.edits for slip in slips_in(PUMP) if check(applied(lines, slip.edits)).verdict == "do-not-power"}

    assert refused == listed


def test_each_part_is_one_entry_and_the_worst_comes_first(pump: Sheet) -> None:
    weights = [entry.slips[0].weight for entry in pump.entries]

    assert len({entry.at for entry in pump.entries}) == len(pump.entries)
    assert sorted(weights, reverse=True) == weights
    assert all(entry.slips[0].weight == max(one.weight for one in entry.slips) for entry in pump.entries)


# ── slips as edits ────────────────────────────────────────────────────────────────────────────────────────────────

SUPPLY = "supply PACK 5V on L+ L-\n"


@pytest.mark.parametrize(
    ("text", "at", "wrong", "line"),
    [
        ("part D1 1N4001 in d12 d18 band d18\n", "D1", "turned round", "part D1 1N4001 in d12 d18 band d12"),
        ("part D1 1N4001 in d12 d18 band d18\n", "D1", "in d19", "part D1 1N4001 in d12 d19 band d19"),
        ("part D1 1N4001 in d12 L+18 band L+18\n", "D1", "in L-18", "part D1 1N4001 in d12 L-18 band L-18"),
        ("part S1 button across 20-22\n", "S1", "a quarter round", "part S1 button across 20-22 turned"),
        ("part U2 NE555 across 10-13 notch row 10\n", "U2", "turned round", "part U2 NE555 across 10-13 notch row 13"),
        ("part U2 NE555 across 10-13 notch row 10\n", "U2", "in rows 11-14", "part U2 NE555 across 11-14 notch row 11"),
        ("part U2 NE555 across 10-13 dot e10\n", "U2", "in rows 9-12", "part U2 NE555 across 9-12 dot e9"),
        ("part U2 NE555 in e10 e11 e12 e13 f13 f12 f11 f10\n", "U2", "turned round",
         "part U2 NE555 in e10 e11 e12 e13 f13 f12 f11 f10 as CONT THRES DISCH VCC GND TRIG OUT RESET measured"),
        # a leg in the next leg's row: which leg it is stays as it was seated
        ("part Q1 PN2222A in c10 c11 c12 flat faces a\n", "Q1", "in b11",
         "part Q1 PN2222A in b11 c11 c12 as E B C measured"),
        ("part R1 4k7 in a5 a10\n", "R1", "470 Ω taken", "part R1 470R in a5 a10"),
        ("part R1 resistor in a5 a10 bands yellow violet red gold\n", "R1", "470 Ω taken",
         "part R1 resistor in a5 a10 bands yellow violet brown gold"),
        ("wire red a5 to b7 to c9\n", "the red wire from a5 to b7 to c9", "in b8", "wire red a5 to b8 to c9"),
        ("wire red a5 to b7 to c9\n", "the red wire from a5 to b7 to c9", "left out", "wire b7 to c9"),
        ("wire red a5 to L+7\n", "the red wire from a5 to L+7", "in L-7", "wire red a5 to L-7"),
        ("part M1 motor 5V 100mA\nwire M1.1 to a5\n", "M1", "ends exchanged", "wire M1.2 to a5"),
    ],
)
def test_a_slip_is_an_edit_of_the_list(text: str, at: str, wrong: str, line: str) -> None:
    made = [edit.text for slip in slips_in(SUPPLY + text) if (slip.at, slip.wrong) == (at, wrong) for edit in slip.edits]

    assert line in made


def test_an_end_goes_into_a_row_that_is_in_use_and_once_into_one_that_is_not() -> None:
    ends = [slip.wrong for slip in slips_in(SUPPLY + "wire a5 to L+\nwire a6 to L-\n") if slip.right == "its end belongs in a5"]

    assert ["in b6", "in a4"] == ends


def test_a_part_that_is_left_out_takes_along_the_lines_that_name_it() -> None:
    text = SUPPLY + "part LED1 led red in b10 b15 long b10\nexpect LED1 lit\nwire a15 to L-\n"
    slip = next(slip for slip in slips_in(text) if (slip.at, slip.wrong) == ("LED1", "left out"))

    assert [(2, ""), (3, "")] == [(edit.line, edit.text) for edit in slip.edits]


@pytest.mark.parametrize("name", [name for name in names() if "verdict clear" in text_of(name) or "#:" not in text_of(name)])
def test_every_slip_of_a_shipped_list_can_be_read(name: str) -> None:
    text = text_of(name)
    for slip in slips_in(text):
        bench, early = lay_out(read(applied(text.splitlines(), slip.edits)), LIBRARY)
        unread = [each.rule for each in (*early, *seat(bench).mishaps) if each.rule in READING_RULES and each.severity == "fault"]

        assert (slip, []) == (slip, unread)


# ── the sheet ─────────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_page_has_a_box_for_each_part_the_worst_first_and_the_counts(pump: Sheet) -> None:
    page = render("terminal", pump, Page(width=80))
    boxes = [line for line in page.splitlines() if line.startswith("[ ] ")]

    assert boxes[0] == "[ ] look twice at PACK: its plus belongs to L+"
    assert "[ ] look twice at D1: its band belongs to d18\n    turned round: Q1 has to shed 13.4 W, more than its 625 mW" in page
    assert len(pump.entries) == len(boxes)
    assert "40 slips simulated: 14 destructive, 24 merely do not work, 2 change nothing that\nmatters." in page


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_the_page_keeps_to_its_width_and_loses_no_word(pump: Sheet, width: int) -> None:
    page = render("terminal", pump, Page(width=width))

    assert max(map(len, page.splitlines())) <= width
    assert render("terminal", pump, Page(width=96)).split() == page.split()


def test_the_json_holds_every_destructive_slip_with_its_edit_and_evidence(pump: Sheet) -> None:
    found = json.loads(render("json", pump, Page()))
    slips = {(each["at"], one["right"], one["wrong"]): one for each in found["look_twice"] for one in each["slips"]}
    shorted = slips["PACK", "its plus belongs to L+", "in L-"]

    assert {"simulated": 40, "destructive": 14, "not_working": 24, "unsettled": 0} == found["summary"]
    assert DESTRUCTIVE == {key: one["rule"] for key, one in slips.items()}
    assert ["supply PACK 9V limit 2A on L- L-"] == [edit["text"].split("#")[0].strip() for edit in shorted["edits"]]
    assert ("current", "A") == (shorted["evidence"][0]["quantity"], shorted["evidence"][0]["unit"])


def test_a_sheet_without_a_destructive_slip_says_so(pump: Sheet) -> None:
    harmless = structs.replace(pump, simulated=3, destructive=0, not_working=1, unsettled=1, entries=())
    page = render("terminal", harmless, Page())

    assert "3 slips simulated: 0 destructive, 1 merely does not work, 1 changes nothing" in page
    assert "1 could not be computed" in page and "No single slip of these destroys anything." in page


# nothing is placed: there are no rows and no holes, only leads
SIREN = """
supply PACK aa-pack-4
part S1 button
part Q1 2N3904
part R1 2k2
part BZ1 buzzer 5V 30mA
part D1 1N4148
wire PACK.+ to S1.1 to BZ1.+ to D1.K
wire S1.3 to R1.1
wire R1.2 to Q1.B
wire Q1.E to PACK.-
wire BZ1.- to Q1.C to D1.A
"""


@pytest.mark.parametrize(("at", "wrong", "right"), [
    ("D1", "leads exchanged", "its band belongs to BZ1.+, its other end to Q1.C"),
    ("BZ1", "leads exchanged", "its red lead belongs to S1.1 and D1.K, its other end to Q1.C"),
    ("PACK", "leads exchanged", "plus belongs to S1.1, minus to Q1.E"),
    ("R1", "bridged by a wire", "nothing else joins its two legs"),
])
def test_without_places_it_says_what_each_lead_belongs_to(at: str, wrong: str, right: str) -> None:
    assert right in {slip.right for slip in slips_in(SIREN) if (slip.at, slip.wrong) == (at, wrong)}


CART = """
board full rails joined
supply BAT aa-pack-6 on L+ L-
part U1 controller-5v
part U2 L293D across 30-37 notch row 30
part M1 motor 6V 200mA stall 550mA
wire red L+28 to L+29
wire red a37 to L+37
wire red U1.5V to R+
wire black U1.GND to R-
wire black R-2 to L-2
wire red R+30 to j30
wire red R+29 to a30
wire a31 to U1.D2
wire a36 to U1.D3
wire black a33 to L-33
wire black j33 to R-33
wire M1.1 to b32
wire M1.2 to b35
pin U1.D2 and U1.D3 output
"""


def test_a_pin_that_drives_a_motor_is_told_and_not_what_happens_afterwards() -> None:
    """The motor takes 200 mA, a pin of the controller gives 40 mA; that nothing takes its current afterwards comes second."""
    entry = next(one for one in sheet_of(CART).entries if one.at == "the wire from M1.1 to b32")

    assert entry.slips[0].rule != "no-clamp"
    assert entry.slips[0].message.startswith("pin U1.D2 carries ")


def test_a_temperature_beyond_all_use_is_said_once(pump: Sheet) -> None:
    """A part that reaches 1560 °C by the numbers has long failed: "more than 400 °C" says all."""
    first = pump.entries[0]
    hot = structs.replace(first.slips[0], message="U2 reaches more than 400 °C inside", evidence=(
        Evidence(quantity="temperature", of="U2", value=1560.0, unit="degC", limit=150.0),))
    page = render("terminal", structs.replace(pump, entries=(Entry(first.at, first.line, (hot,)),)), Page(width=80))

    assert "U2 reaches more than 400 °C inside\n" in page
    assert "1560" not in page
