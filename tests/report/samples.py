"""Reports made by hand, one for each verdict and each odd case, shared by the tests of all formats.

The numbers are invented; what they are worth is tested elsewhere. Here only their print matters.
"""

from __future__ import annotations

from checker.report.model import Edit, Evidence, Finding, Fix, Report, Span, State, Summary

MISTER = (
    "# Seed-tray mister: the pump stage",
    'title "Seed-tray mister, pump stage"',
    "board half",
    "supply PACK 9V limit 2A on L+ L-",
    "part   U1   controller-5v",
    "part   PUMP motor 9V 100mA stall 300mA",
    "part   Q1   PN2222A in c10 c11 c12 flat faces a as E B C",
    "part   R1   220     in b11 b16",
    "part   D1   1N4001  in d12 d18 band d12",
    "wire U1.D9 to a16",
)
HIGH = {"U1.D9": "high"}
REVERSED = Finding(
    rule="diode-reversed",
    severity="damage",
    parts=("D1",),
    points=("d12",),
    span=Span(9, 32, 9, 40),
    message="D1 is the wrong way round",
    why="Its band should point to the plus side of the pump. As it is, it shorts the pack through Q1 once Q1 is on.",
    evidence=(Evidence(quantity="power", of="Q1", value=8.4, unit="W", limit=0.625, state=HIGH),),
    consequences=tuple(
        Finding(rule=rule, severity="fault", span=Span(line, 1, line, 5), message=message)
        for rule, line, message in (
            ("too-much-power", 7, "Q1 gets 13 times the power it can stand"),
            ("supply-sags", 4, "PACK sags to 6.1 V"),
            ("expectation-missed", 6, "PUMP carries 2 mA when U1.D9 is high"),
        )
    ),
    fixes=(Fix("turn D1 round: band to d18", (Edit(9, "part   D1   1N4001  in d12 d18 band d18"),), True),),
)
TIGHT = Finding(
    rule="supply-sags",
    severity="note",
    parts=("PACK",),
    span=Span(4, 1, 4, 12),
    message="PACK has little in reserve when the pump starts",
)
DO_NOT_POWER = Report(
    legwise="0.1",
    file="mister.legs",
    title="Seed-tray mister, pump stage",
    by="Ida",
    verdict="do-not-power",
    headline="D1 is the wrong way round: Q1 would burn out the moment U1.D9 goes high.",
    findings=(REVERSED, TIGHT),
    assumed=("R1 is 1/4 W, 5 %", "U1 runs from USB"),
    states=(State(HIGH, "steady", {"Q1.C": 0.15}, {"PUMP": 0.098}),),
    advice=("If power has already been on, suspect Q1 first: base to emitter should read about 0.7 V in diode test.",),
    summary=Summary(damage=1, note=1),
    lines=MISTER,
)
UNREADABLE = Report(
    legwise="0.1",
    file="-",
    verdict="unreadable",
    headline="1 line could not be read; the rest was checked all the same and nothing was found in it.",
    findings=(
        Finding(
            rule="syntax",
            severity="look",
            span=Span(3, 19, 3, 19),
            message="the wire stops after 'to'",
            why="A wire needs two ends, like: wire a5 to b7",
        ),
    ),
    summary=Summary(look=1),
    lines=("board half", "supply 9v-block on L+ L-", "wire red e18   to "),
)
WILL_NOT_WORK = Report(
    legwise="0.1",
    file="tide.legs",
    by="Noor",
    verdict="will-not-work",
    headline="The float switch is never read: the grounds of U1 and PACK are not joined.",
    findings=(
        Finding(
            rule="grounds-not-joined",
            severity="fault",
            parts=("U1", "PACK"),
            span=Span(2, 1, 4, 12),
            message="no wire joins the ground of U1 to the minus of PACK",
            why="Current has no way back.",
            evidence=(
                Evidence(
                    quantity="voltage",
                    of="U1.D2",
                    value=0.4,
                    unit="V",
                    limit=3.0,
                    least=True,
                    state={"S1": "pressed", "U1.D9": "input"},
                    reading={"Q1": "E B C"},
                ),
            ),
            fixes=(Fix("join U1.GND to the minus rail", (Edit(5, "wire U1.GND to L-5"),), True),),
        ),
    ),
    summary=Summary(fault=1),
    lines=("board half", "supply PACK 9V on L+ L-", "part U1 controller-5v", "wire U1.D2 to a3"),
)
LOOK_FIRST = Report(
    legwise="0.1",
    file="prop.legs",
    title="Stage lantern",
    verdict="look-first",
    headline="Which leg of Q1 is which decides: one order works, the other burns it.",
    findings=(
        Finding(
            rule="pin-order-varies",
            severity="look",
            parts=("Q1",),
            span=Span(1, 9, 1, 15),
            message="a 2N2222 is sold as E-B-C and as C-B-E",
            evidence=(Evidence(quantity="gain", of="Q1", value=12.0, unit=""),),
        ),
    ),
    advice=("With a meter in diode test, red on the middle leg: the lower reading is the collector.",),
    summary=Summary(look=1),
    lines=("part Q1 2N2222 in c10 c11 c12 flat faces a",),
)
CLEAR = Report(
    legwise="0.1",
    file="signal.legs",
    title="Model signal",
    verdict="clear",
    headline="Nothing in this list overloads a part, and everything it is asked to do it does.",
    assumed=("R1 is 1/4 W, 5 %",),
    advice=("If it does not work all the same: the program, a dead part or a bad contact.",),
    lines=("board half",),
)
SAMPLES = {
    "do-not-power": DO_NOT_POWER,
    "unreadable": UNREADABLE,
    "will-not-work": WILL_NOT_WORK,
    "look-first": LOOK_FIRST,
    "clear": CLEAR,
}
