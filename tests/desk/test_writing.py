"""A lesson is written at the desk: every sign reaches the sheet, and the student's page follows."""

import re
from pathlib import Path

import pytest
import yaml

from tests.desk.conftest import Browser, OpenDesk, opened
from tests.publishing.small import PETRA, reportgen, sheets

LETTER = "#letter textarea"


@pytest.fixture
def begun(desk: OpenDesk, browser: Browser) -> Path:
    """The sheet of a lesson of Petra's that was begun with one press; its page is open."""
    browser.driver.get(desk.home)
    browser.find(f"[data-begin='{PETRA}']").click()
    browser.until("document.getElementById('form')")
    return sheets(desk.academy, PETRA)[-1]


def test_one_press_begins_a_draft(begun: Path) -> None:
    assert yaml.safe_load(begun.read_text(encoding="utf-8"))["draft"] is True


def test_a_second_press_goes_on_with_it(desk: OpenDesk, browser: Browser, begun: Path) -> None:
    here = browser.driver.current_url
    browser.driver.get(desk.home)
    browser.find(f"[data-begin='{PETRA}']").click()
    browser.until("document.getElementById('form')")
    assert browser.driver.current_url == here
    assert sheets(desk.academy, PETRA)[-1] == begun


def test_what_is_typed_is_in_the_sheet_and_on_the_page(browser: Browser, begun: Path) -> None:
    before = begun.read_text(encoding="utf-8").splitlines()
    browser.type(LETTER, "Well done.\n\nThe heel stays down.")
    browser.page_says("The heel stays down.")
    after = begun.read_text(encoding="utf-8")
    assert yaml.safe_load(after)["notes"] == "Well done.\n\nThe heel stays down.\n"
    assert after.splitlines()[: len(before)] == before


def test_a_value_in_the_wrong_form_is_told_beside_its_field(browser: Browser, begun: Path) -> None:
    field = "#readings .row:first-of-type .field:nth-of-type(2)"
    browser.type(f"{field} input", "4o")
    browser.until(f"document.querySelector('{field} .says').innerText.includes('is not a number')")
    browser.find(f"{field} input").clear()
    browser.type(f"{field} input", "40")
    browser.until(f"document.querySelector('{field} .says').hidden")


def test_a_drill_is_found_by_a_word_of_its_purpose(browser: Browser, begun: Path) -> None:
    browser.find("#drills summary").click()
    browser.find("#drills input[type=search]").send_keys("trail heel ground")
    browser.until("[...document.querySelectorAll('#drills li')].some((row) => row.hidden)")
    (found, *_) = [row for row in browser.driver.find_elements("css selector", "#drills li") if row.is_displayed()]
    title = found.find_element("css selector", "button").text
    found.find_element("css selector", "button").click()
    browser.until("document.querySelector('#drills .row')")
    browser.page_says(title)
    (given,) = yaml.safe_load(begun.read_text(encoding="utf-8"))["drills"]
    assert title.lower().replace(" ", "-") == given


def test_ready_takes_out_what_nobody_filled_in_and_makes_a_lesson_of_it(
    desk: OpenDesk, browser: Browser, begun: Path
) -> None:
    browser.type("#readings .row:first-of-type .field:nth-of-type(2) input", "40")
    browser.type("#comfort .row:first-of-type .field:nth-of-type(2) input", "0")
    browser.find("#ready").click()
    browser.until("!document.getElementById('ready')")
    written = yaml.safe_load(begun.read_text(encoding="utf-8"))
    assert "draft" not in written
    assert [reading["value"] for reading in written["readings"]] == [40]
    assert reportgen("check", desk.academy).exit_code == 0


def test_what_is_wrong_keeps_a_lesson_a_draft(browser: Browser, begun: Path) -> None:
    browser.find("#lesson .field:nth-of-type(2) input").clear()
    browser.type("#lesson .field:nth-of-type(2) input", "7-irn")
    browser.find("#ready").click()
    browser.until("document.querySelector('#lesson .bad .says')?.innerText.includes('club')")
    assert "draft: true" in begun.read_text(encoding="utf-8")


def test_what_is_changed_in_an_editor_is_on_the_page_beside(browser: Browser, begun: Path) -> None:
    begun.write_text(begun.read_text(encoding="utf-8") + "notes: From the editor\n", encoding="utf-8")
    browser.page_says("From the editor")


@pytest.mark.parametrize(("press", "kept"), [(0, "Mine"), (1, "Theirs")])
def test_both_at_once_is_told_and_neither_is_lost(browser: Browser, begun: Path, press: int, kept: str) -> None:
    browser.find(LETTER)
    begun.write_text(begun.read_text(encoding="utf-8") + "notes: Theirs\n", encoding="utf-8")
    browser.find(LETTER).send_keys("Mine")
    browser.until("document.querySelector('#letter .theirs')")
    assert "Theirs" in browser.find("#letter .says").text
    assert browser.find(LETTER).get_attribute("value") == "Mine"
    assert yaml.safe_load(begun.read_text(encoding="utf-8"))["notes"] == "Theirs"
    browser.driver.find_elements("css selector", "#letter .theirs button")[press].click()
    browser.until(f"document.querySelector('{LETTER}').closest('.field').dataset.was === '{kept}'")
    assert yaml.safe_load(begun.read_text(encoding="utf-8"))["notes"] == kept


def test_what_is_typed_while_the_desk_is_gone_stays_on_the_page(desk: OpenDesk, browser: Browser, begun: Path) -> None:
    desk.end()
    browser.find(LETTER).send_keys("Typed into nothing")
    browser.until("document.getElementById('saved').innerText.includes('Not saved')")
    assert browser.find(LETTER).get_attribute("value") == "Typed into nothing"
    assert "Typed" not in begun.read_text(encoding="utf-8")


def test_a_killed_desk_has_every_letter_of_two_seconds_before(academy: Path, browser: Browser) -> None:
    desk = opened(academy)
    browser.driver.get(desk.home)
    browser.find(f"[data-begin='{PETRA}']").click()
    browser.until("document.getElementById('form')")
    browser.type(LETTER, "Every word of this")
    desk.end()
    text = sheets(academy, PETRA)[-1].read_text(encoding="utf-8")
    assert yaml.safe_load(text)["notes"] == "Every word of this"


def test_closing_the_page_at_once_loses_nothing(desk: OpenDesk, browser: Browser, begun: Path) -> None:
    browser.find(LETTER).send_keys("Last words")
    browser.driver.get(desk.home)
    browser.until("document.getElementById('students')")
    assert re.search(r"(?m)^notes: Last words$", begun.read_text(encoding="utf-8"))
