"""The desk without a mouse: by keys alone, and with a finger on a tablet."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from reportgen.sheets.shipped import shipped
from tests.desk.conftest import Browser, OpenDesk
from tests.publishing.small import PETRA, sheets

MOST_TABS = 120
FINGER = 44
"""Pixels of a target that a finger hits (WCAG 2.2, 2.5.5)."""


def keys(browser: Browser, *typed: str) -> None:
    ActionChains(browser.driver).send_keys(*typed).perform()


def tab_to(browser: Browser, selector: str) -> None:
    """Press Tab until what the selector names has the focus."""
    for _ in range(MOST_TABS):
        if browser.driver.execute_script("return document.activeElement.matches(arguments[0])", selector):
            return
        keys(browser, Keys.TAB)
    raise AssertionError(f"no Tab leads to {selector}")


def test_a_lesson_is_begun_written_made_ready_and_published_by_keys(desk: OpenDesk, browser: Browser) -> None:
    browser.driver.get(desk.home)
    keys(browser, "petra")
    tab_to(browser, f"[data-begin='{PETRA}']")
    keys(browser, Keys.ENTER)
    browser.until("document.getElementById('form')")
    tab_to(browser, "#letter textarea")
    keys(browser, "Well done, and by keys alone.")
    tab_to(browser, "#readings .row:first-of-type .field:nth-of-type(2) input")
    keys(browser, "40")
    tab_to(browser, "#comfort .row:first-of-type .field:nth-of-type(2) input")
    keys(browser, "0")
    tab_to(browser, "#comfort [data-add]")
    keys(browser, Keys.ENTER)
    browser.until("document.activeElement.closest('#comfort .row')")
    tab_to(browser, "#comfort .row:last-of-type .field:nth-of-type(2) input")
    keys(browser, "0")
    ActionChains(browser.driver).key_down(Keys.CONTROL).send_keys(Keys.ENTER).key_up(Keys.CONTROL).perform()
    browser.until("!document.getElementById('ready')")
    written = yaml.safe_load(sheets(desk.academy, PETRA)[-1].read_text(encoding="utf-8"))
    assert written["notes"] == "Well done, and by keys alone."
    assert "draft" not in written
    tab_to(browser, "a[href*='/publishing?student=']")
    keys(browser, Keys.ENTER)
    browser.until("document.getElementById('came')")
    tab_to(browser, "[data-start*='publish']")
    keys(browser, Keys.ENTER)
    browser.until("document.getElementById('came').innerText.includes('Published')")
    tab_to(browser, f"a[href$='/mail/{PETRA}']")
    keys(browser, Keys.ENTER)
    browser.until("document.querySelector('iframe.body')")
    tab_to(browser, ".main[data-start*='send']")
    keys(browser, Keys.ENTER)
    browser.until("document.getElementById('came')?.innerText.includes('Written into the outbox')")


@pytest.fixture
def tablet(browser: Browser) -> Iterator[Browser]:
    before = browser.driver.get_window_size()
    browser.driver.set_window_size(820, 1180)
    yield browser
    browser.driver.set_window_size(before["width"], before["height"])


@pytest.mark.parametrize("page", ["", "lesson", "publishing", f"mail/{PETRA}"])
def test_every_target_is_large_enough_for_a_finger_and_nothing_is_wider_than_the_page(
    desk: OpenDesk, tablet: Browser, page: str
) -> None:
    path = f"lesson/{PETRA}/{sheets(desk.academy, PETRA)[-1].stem}" if page == "lesson" else page
    tablet.driver.get(desk.home + path)
    tablet.until("true")
    targets = tablet.driver.execute_script(
        """
        const all = "button, input:not([type=file]), select, textarea, summary, .press, .rows a, nav a";
        return [...document.querySelectorAll(all)].filter((one) => one.checkVisibility()).map((one) => {
          const held = one.matches("[type=radio], [type=checkbox]") ? one.closest("label") : one;
          return [one.outerHTML.slice(0, 80), held.getBoundingClientRect().height];
        });
        """
    )
    assert targets
    assert [target for target in targets if target[1] < FINGER - 0.5] == []
    assert tablet.driver.execute_script("return document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.parametrize("style", sorted(Path(shipped("themes") / "letter").glob("desk-*.css")), ids=lambda f: f.name)
def test_nothing_at_the_desk_needs_a_pointer_that_hovers(style: Path) -> None:
    assert not re.search(r":hover", style.read_text(encoding="utf-8"))
