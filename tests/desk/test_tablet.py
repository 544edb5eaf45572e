"""The desk with a finger, on a tablet."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from reportgen.sheets.shipped import shipped
from tests.desk.conftest import Browser, OpenDesk
from tests.publishing.small import PETRA, sheets

FINGER = 44
"""Pixels of a target that a finger hits (WCAG 2.2, 2.5.5)."""


@pytest.fixture
def narrow(browser: Browser) -> Iterator[Browser]:
    before = browser.driver.get_window_size()
    browser.driver.set_window_size(820, 1180)
    yield browser
    browser.driver.set_window_size(before["width"], before["height"])


@pytest.mark.parametrize("page", ["", "lesson", "publishing", f"mail/{PETRA}"])
def test_every_target_is_large_enough_for_a_finger_and_nothing_is_wider_than_the_page(
    desk: OpenDesk, narrow: Browser, page: str
) -> None:
    path = f"lesson/{PETRA}/{sheets(desk.academy, PETRA)[-1].stem}" if page == "lesson" else page
    narrow.driver.get(desk.home + path)
    narrow.until("true")
    targets = narrow.driver.execute_script(
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
    assert narrow.driver.execute_script("return document.documentElement.scrollWidth <= innerWidth")


@pytest.mark.parametrize("style", sorted(Path(shipped("themes") / "letter").glob("desk-*.css")), ids=lambda f: f.name)
def test_nothing_at_the_desk_needs_a_pointer_that_hovers(style: Path) -> None:
    assert not re.search(r":hover", style.read_text(encoding="utf-8"))
