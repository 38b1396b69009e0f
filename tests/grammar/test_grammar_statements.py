"""Every statement of the language, one line each, with the tree it gives."""

from __future__ import annotations

import pytest

from tests.grammar.plain_tree import statements

ONE_LINERS = [
    ('title "Tide tank"', "Title(text=Tide tank)"),
    ("title Tide tank, #2", "Title(text=Tide tank)"),
    ('title "Tide tank #2"', "Title(text=Tide tank #2)"),
    ('by "Ana B."', "Author(text=Ana B.)"),
    ("board half", "Board(size=half)"),
    ("board TOP full rails split", "Board(size=full, name=TOP, rails=split)"),
    ("supply PACK 9V limit 2A on L+ L-", "Supply(name='PACK', words=['9V'], limit='2A', terminals=[L+ L-])"),
    ("supply PACK aa-pack-4", "Supply(name='PACK', words=['aa-pack-4'])"),
    ("supply USB usb-port on L+12 L-12", "Supply(name='USB', words=['usb-port'], terminals=[L+12 L-12])"),
    ("part U1 controller-5v", "Part(name='U1', words=['controller-5v'])"),
    (
        "part PUMP motor 9V 100mA stall 300mA",
        "Part(name='PUMP', words=['motor' '9V' '100mA' 'stall' '300mA'])",
    ),
    (
        "part Q1 PN2222A in c10 c11 c12 flat faces a as E B C",
        "Part(name='Q1', words=['PN2222A'], place=PlacedIn(points=[c10 c11 c12]), "
        "marks=[MarkFaces(mark=flat, column=a)], claim=Claim(pins=['E' 'B' 'C']))",
    ),
    (
        "part Q1 PN2222A in c10 d11 c12 as E B C measured",
        "Part(name='Q1', words=['PN2222A'], place=PlacedIn(points=[c10 d11 c12]), "
        "claim=Claim(pins=['E' 'B' 'C'], measured=True))",
    ),
    ("part R1 220 in b11 b16", "Part(name='R1', words=['220'], place=PlacedIn(points=[b11 b16]))"),
    ("part R1 220 in b11 L+", "Part(name='R1', words=['220'], place=PlacedIn(points=[b11 L+]))"),
    (
        "part D1 1N4001 in d12 d18 band d18",
        "Part(name='D1', words=['1N4001'], place=PlacedIn(points=[d12 d18]), marks=[MarkAt(mark=band, point=d18)])",
    ),
    (
        "part U2 NE555 across 10-13 notch row 10",
        "Part(name='U2', words=['NE555'], place=PlacedAcross(first_row=10, last_row=13, left_column=e, "
        "right_column=f), marks=[Notch(row=10)])",
    ),
    (
        "part U3 ATmega328P across LOW:5-18 c-h dot c5",
        "Part(name='U3', words=['ATmega328P'], place=PlacedAcross(first_row=5, last_row=18, left_column=c, "
        "right_column=h, board=LOW), marks=[MarkAt(mark=dot, point=c5)])",
    ),
    (
        "part S1 button across 20-22 turned",
        "Part(name='S1', words=['button'], place=PlacedAcross(first_row=20, last_row=22, left_column=e, "
        "right_column=f, turned=True))",
    ),
    (
        "part S1 button in e20 f20 e22 f22 turned",
        "Part(name='S1', words=['button'], place=PlacedIn(points=[e20 f20 e22 f22], turned=True))",
    ),
    (
        "part V2 7805 in j5 j6 j7 tab faces right",
        "Part(name='V2', words=['7805'], place=PlacedIn(points=[j5 j6 j7]), marks=[MarkFaces(mark=tab, towards=right)])",
    ),
    (
        "part V1 7805 in c5 c6 c7 tab faces j as IN GND OUT",
        "Part(name='V1', words=['7805'], place=PlacedIn(points=[c5 c6 c7]), marks=[MarkFaces(mark=tab, column=j)], "
        "claim=Claim(pins=['IN' 'GND' 'OUT']))",
    ),
    (
        "part R1 bands red violet brown gold in b5 b9",
        "Part(name='R1', place=PlacedIn(points=[b5 b9]), bands=['red' 'violet' 'brown' 'gold'])",
    ),
    ("part C2 100n code 104 in b5 b9", "Part(name='C2', words=['100n'], place=PlacedIn(points=[b5 b9]), code='104')"),
    ("wire a5 to b7", "Wire(points=[a5 b7])"),
    ("wire red a5 to b7 to c9", "Wire(points=[a5 b7 c9], colour=red)"),
    ("wire U1.D9 to a16", "Wire(points=[U1.D9 a16])"),
    ("wire PUMP.1 to @pump", "Wire(points=[PUMP.1 @pump])"),
    ("wire black L-10 to TOP:a10", "Wire(points=[L-10 TOP:a10], colour=black)"),
    ("wire GND to L-", "Wire(points=[?GND L-])"),
    ("power U1 vin", "Power(name='U1', ways=[vin])"),
    ("power U1 off", "Power(name='U1', ways=[off])"),
    ("pin U1.D9 pwm", "PinRole(pins=[U1.D9], roles=[pwm])"),
    ("pin U1.D9 pwm 20kHz", "PinRole(pins=[U1.D9], roles=[pwm], frequency='20kHz')"),
    ("pin U1.D2 input pullup", "PinRole(pins=[U1.D2], roles=[input pullup])"),
    ("keep MAINS apart from U1", "Keep(one='MAINS', other='U1')"),
    (
        "expect PUMP carries 80mA to 120mA when U1.D9 high",
        "Expect(subject=?PUMP, verb=carries, bound=Bound(low=0.08, high=0.12, unit=A), "
        "conditions=[Condition(subject=U1.D9, state=high)])",
    ),
    ("expect PUMP carries under 1mA", "Expect(subject=?PUMP, verb=carries, bound=Bound(high=0.001, unit=A))"),
    ("expect R1 dissipates over 0.1W", "Expect(subject=?R1, verb=dissipates, bound=Bound(low=0.1, unit=W))"),
    ("expect Z1 drops about 0.5V", "Expect(subject=?Z1, verb=drops, bound=Bound(low=0.45, high=0.55, unit=V))"),
    ("expect a10 at 4.5V to 5.5V", "Expect(subject=a10, verb=at, bound=Bound(low=4.5, high=5.5, unit=V))"),
    (
        "expect LED1 lit when S1 pressed and POT1 at 50%",
        "Expect(subject=?LED1, verb=lit, conditions=[Condition(subject=?S1, state=pressed) "
        "Condition(subject=?POT1, state=at, amount='50%')])",
    ),
    ("expect U1.D3 low", "Expect(subject=U1.D3, verb=low)"),
]


@pytest.mark.parametrize(("line", "tree"), ONE_LINERS, ids=[line for line, _ in ONE_LINERS])
def test_a_statement_gives_its_tree(line: str, tree: str) -> None:
    assert [tree] == statements(line)


@pytest.mark.parametrize(
    "name", ["ON", "LONG", "BAND", "USB", "TO", "AND", "FROM", "RED", "WIRE", "PART", "WHEN", "IN"]
)
def test_a_keyword_is_a_name_where_a_name_is_due(name: str) -> None:
    part = f"part {name} led red in d12 d14 long d12"

    assert statements(part)[0].startswith(f"Part(name='{name}', words=['led' 'red']")
    assert [f"Wire(points=[{name}.A a5])"] == statements(f"wire {name}.A to a5")
    assert [f"Keep(one='{name}', other='PACK')"] == statements(f"keep {name} apart from PACK")


CLAUSES = ["in c10 c11 c12", "flat faces a", "as E B C measured", "PN2222A"]


@pytest.mark.parametrize("turn", range(4))
def test_the_clauses_of_a_part_stand_in_any_order(turn: int) -> None:
    turned = CLAUSES[turn:] + CLAUSES[:turn]

    assert statements("part Q1 " + " ".join(CLAUSES)) == statements("part Q1 " + " ".join(turned))
    assert statements("part Q1 " + " ".join(CLAUSES)) == statements("part Q1 " + ", ".join(reversed(turned)))
