"""``legwise parts --template`` and what a report says of a kit's entry in place of a shipped one."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.cli import main

LIST = "board half\nsupply P 5V on L+ L-\npart Q1 2N3904 in c10 c11 c12 flat faces a\npart R1 10k in a11 L+11\n" \
       "part R2 330 in a12 L+12\nwire a10 to L-\n"
OWN = """[[part]]
kind = "bipolar"
name = "2N3904"
say = "a transistor of our own"
package = "TO-92"
pins = ["E", "B", "C"]
polarity = "npn"
vceo = "40V"
vebo = "6V"
ic = "200mA"
gain = [{ ic = "10mA", min = 100 }]
from_memory = ["pins", "ratings", "model"]
"""


def test_the_printed_template_can_be_used_as_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert 0 == main(["parts", "--template"])
    kit = tmp_path / "kit.toml"
    kit.write_text(capsys.readouterr().out, "utf-8")

    assert 0 == main(["part", "DRAWER-NPN", "--parts", str(kit)])


def test_the_report_says_that_an_entry_is_the_kits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kit, wired = tmp_path / "kit.toml", tmp_path / "wired.legs"
    kit.write_text(OWN, "utf-8")
    wired.write_text(LIST, "utf-8")

    main(["check", str(wired), "--parts", str(kit)])

    assert "Assumed: Q1 is the 2N3904 of the kit, not the one that ships" in capsys.readouterr().out
