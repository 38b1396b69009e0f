"""The page for a list in a real browser: paste, see, mend, undo, share; by mouse and by keyboard; wide, narrow and dark.

After every test the browser must have had nothing to complain of: no script or style was refused, nothing was missing.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from selenium.webdriver import Keys
from selenium.webdriver.support.select import Select

from checker.examples import text_of
from tests.browser.desk import Desk
from tests.web.test_safety import EVIL, packed

CLEAR = """\
title "Tide tank lamp"
board half
supply PACK 9V limit 1A on L+ L-
part R1 470 in a5 a10
part LED1 led red in b10 b15 long b10
wire L+ to c5
wire c15 to L-
"""
REVERSED = CLEAR.replace("long b10", "long b15")
APPLY, SHOW = ".apply", ".show"


def test_a_faulty_list_is_cured_by_pasting_it_and_pressing_once_and_undo_takes_it_back(desk: Desk) -> None:
    desk.paste(REVERSED)
    desk.verdict("DO NOT POWER")
    assert "LED1 is the wrong way round" in desk.text("#headline")
    assert desk.text("#findings h2").endswith("LED1 is the wrong way round")

    desk.press(APPLY)
    desk.verdict("CLEAR")
    assert desk.list().strip() == CLEAR.strip()
    assert "Undo takes it back" in desk.text("#told")

    desk.press("#undo")
    desk.verdict("DO NOT POWER")
    assert desk.list().strip() == REVERSED.strip()


def test_a_misspelt_word_is_put_right_by_pressing_once(desk: Desk) -> None:
    desk.paste(CLEAR.replace("wire L+", "wrie L+"))
    desk.verdict("COULD NOT READ ALL OF IT")
    desk.press(APPLY)
    desk.verdict("CLEAR")

    assert desk.list().strip() == CLEAR.strip()


def test_what_is_seen_on_the_board_is_answered_by_pressing_once(desk: Desk) -> None:
    desk.paste(CLEAR.replace(" long b10", ""))
    desk.verdict("LOOK FIRST")
    assert desk.faults() == []
    desk.press(".see")
    desk.verdict("CLEAR")

    assert desk.list().strip() == CLEAR.strip()


def test_what_is_wrong_is_underlined_and_lit_up_on_the_board(desk: Desk) -> None:
    desk.paste(REVERSED)
    desk.verdict("DO NOT POWER")
    assert "LED1" in desk.text(".slip-damage")

    desk.press(SHOW)
    lit = desk.until(lambda: [each.get_attribute("data-part") for each in desk.all("#panel-board .lit")])
    assert "LED1" in lit
    assert "LED1" in desk.text(".cm-line.shining")

    desk.press(SHOW)
    assert desk.all(".lit, .shining") == []


def test_what_stands_beside_a_list(desk: Desk) -> None:
    desk.paste(CLEAR)
    desk.verdict("CLEAR")
    for tab, inside in (("diagram", "svg"), ("meter", ".meter table"), ("slips", ".twice input"), ("card", ".card-drawing")):
        if tab == "card":
            desk.browser.execute_script("document.querySelectorAll('.cm-line')[4].scrollIntoView()")
            desk.all(".cm-line")[4].click()
        desk.press(f"#tab-{tab}")
        desk.find(f"#panel-{tab} {inside}")
    assert "led red" in desk.text("#panel-card h3")


def test_an_example_is_opened_from_the_menu(desk: Desk) -> None:
    Select(desk.find("#example")).select_by_value("puppet-nose")
    desk.press("#open-example")
    desk.verdict("CLEAR")

    assert "#:" not in desk.list()
    assert desk.list().splitlines()[-1].strip() == text_of("puppet-nose").splitlines()[-1].split("#")[0].strip()


def test_a_link_carries_the_list(desk: Desk) -> None:
    desk.paste(REVERSED + "# a lamp of 9 V ± 5 %, Ω\n")
    desk.verdict("DO NOT POWER")
    written = desk.list()
    desk.press("#share")
    link = desk.until(lambda: desk.browser.current_url if "#list=1." in desk.browser.current_url else "")
    desk.fresh(link.removeprefix(desk.address))

    desk.verdict("DO NOT POWER")
    assert desk.list() == written

    desk.press(APPLY)
    desk.verdict("CLEAR")
    desk.browser.refresh()
    desk.verdict("CLEAR")
    assert desk.browser.current_url == f"{desk.address}/"


@pytest.mark.parametrize("link", ["#list=1.%%%", "#list=1.AAAA", "#list=1."])
def test_a_broken_link_says_so(desk: Desk, link: str) -> None:
    desk.fresh(f"/{link}")

    desk.until(lambda: "broken" in desk.text("#told"))


def test_a_line_is_added_by_answering(desk: Desk) -> None:
    desk.paste(CLEAR)
    desk.verdict("CLEAR")
    desk.press("#ask")
    Select(desk.find("#helper-kind")).select_by_value("part")
    desk.find("#helper-words").send_keys("1N4001")
    desk.press("#helper-found button")
    desk.find("#helper-answer-1").send_keys("c20 c25")
    Select(desk.find("#helper-answer-2")).select_by_value("c25")
    assert desk.text("#helper-line") == "part D1 1N4001 in c20 c25 band c25"

    desk.press("#helper-add")
    desk.until(lambda: "part D1 1N4001 in c20 c25 band c25" in desk.list())
    assert desk.faults() == []


def test_words_are_offered_from_the_library_and_the_list(desk: Desk) -> None:
    desk.paste(CLEAR)
    desk.verdict("CLEAR")
    desk.keys(Keys.CONTROL, Keys.END)
    desk.keys("part Q1 PN22")
    desk.until(lambda: any("PN2222A" in each.text for each in desk.all(".cm-tooltip-autocomplete li")))
    desk.keys(Keys.ESCAPE, Keys.ENTER, "wire LED1.")
    desk.until(lambda: any(each.text == "LED1.A" for each in desk.all(".cm-tooltip-autocomplete li")))
    desk.keys(Keys.ESCAPE)


def test_a_faulty_list_is_cured_by_keyboard_alone(desk: Desk) -> None:
    desk.browser.execute_script("document.body.focus()")
    desk.tab_to(".skip")
    desk.keys(Keys.ENTER)
    assert desk.browser.execute_script("return document.activeElement.id") == "verdict"
    desk.browser.get(f"{desk.address}/")
    desk.tab_to("#example")
    desk.keys("Puppet nose: battery")
    desk.tab_to("#open-example")
    desk.keys(Keys.ENTER)
    desk.verdict("DO NOT POWER")
    desk.tab_to(".cm-content")
    desk.tab_to(APPLY)
    desk.keys(Keys.ENTER)
    desk.verdict("CLEAR")
    assert desk.browser.execute_script("return document.activeElement.id") == "verdict"

    desk.tab_to("[role=tab]")
    desk.keys(Keys.ARROW_RIGHT)
    assert desk.find("#panel-diagram svg")


def test_nothing_in_a_list_runs(desk: Desk) -> None:
    desk.browser.execute_script("window.alert = () => { window.ran = true; }")
    desk.paste(f'title "{EVIL}"\nby {EVIL}\n{REVERSED.replace("LED1", "<img/src=x/onerror=alert(1)>")}part {EVIL}\n# {EVIL}\n')
    desk.until(lambda: desk.text("#stamp") != "NO LIST YET")
    for tab in ("diagram", "meter", "board"):
        desk.press(f"#tab-{tab}")

    assert desk.browser.execute_script("return window.ran") is None
    assert desk.all("main img, main script, main iframe") == []


@pytest.mark.parametrize(("width", "height", "dark"), [(360, 740, False), (360, 740, True), (1400, 900, True)])
def test_the_page_fits_the_screen_and_has_no_serious_fault(desk: Desk, width: int, height: int, dark: bool) -> None:
    desk.screen(width, height, dark=dark)
    desk.paste(text_of("seed-tray-mister-diode-round"))
    desk.verdict("DO NOT POWER")
    desk.browser.execute_script("for (const each of document.querySelectorAll('details')) each.open = true")
    for tab in ("board", "diagram", "meter", "slips", "card"):
        desk.press(f"#tab-{tab}")
        desk.until(lambda tab=tab: not desk.all(f"#panel-{tab} > p.aside:only-child") or tab in ("slips", "card"))
        assert desk.too_wide() == 0, tab
    assert desk.faults() == []


def test_a_class_is_checked_from_a_zip(desk: Desk, tmp_path: Path) -> None:
    handed_in = tmp_path / "class.zip"
    handed_in.write_bytes(packed({"Ada.legs": CLEAR.encode(), "Ben <img src=x>.legs": REVERSED.encode()}))
    desk.fresh("/class")
    assert desk.faults() == []
    desk.find("#file-lists").send_keys(str(handed_in))
    desk.press("#check-class")

    desk.find("#class-table tbody tr")
    rows = [[cell.text for cell in row.find_elements("css selector", "th, td")][:2] for row in desk.all("#class-table tbody tr")]
    assert rows == [["Ada", "CLEAR"], ["Ben <img src=x>", "DO NOT POWER"]]
    assert [each.text for each in desk.all("#downloads button")][-1] == "Save everything.zip"
    desk.screen(360, 740)
    assert (desk.too_wide(), desk.faults()) == (0, [])
