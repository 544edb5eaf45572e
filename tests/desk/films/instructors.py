"""Who works at the desk: by mouse, by keys alone, or with a finger. Every press of a pointer is counted, and every time
films are dropped."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from reportgen.records.words import Checkpoint, View
from tests.desk.films.lessons import TRUTH
from tests.desk.keyboard import keys, tab_to
from tests.desk.marking.page import Marking

SCALE = {"scale-from": (100.0, 820.0), "scale-to": (380.0, 820.0)}
"""The ends of something 1 m long beside the player's feet."""
OPEN = """return [...document.querySelectorAll('#points li')].find((one) => one.firstChild.dataset.state !== 'set')
    ?.dataset.name ?? null"""
"""The first point of a picture that counts for nothing so far."""
IN_HAND = "return document.querySelector('#points [aria-current]')?.dataset.state === 'set'"
Place = tuple[float, float]


class Instructor(Protocol):
    """Somebody in front of the browser."""

    page: Marking
    presses: int

    def press(self, selector: str) -> None:
        """Press a button or a link."""

    def set_at(self, place: Place) -> None:
        """Set the point that is asked at a place of the picture."""

    def confirm(self) -> None:
        """Say that what is in hand, or is proposed, is right where it is."""


class ByMouse:
    """Presses with the mouse; `confirms_by_key` where one hand lies on the keys."""

    def __init__(self, page: Marking, *, confirms_by_key: bool = False) -> None:
        self.page, self.presses, self._by_key = page, 0, confirms_by_key

    def press(self, selector: str) -> None:
        self.page.find(selector).click()
        self.presses += 1

    def set_at(self, place: Place) -> None:
        self.page.click(place)
        self.presses += 1

    def confirm(self) -> None:
        if self._by_key:
            self.page.keys(Keys.ENTER)
        else:
            self.press("[data-act=enter]")


class ByFinger:
    """Taps."""

    def __init__(self, page: Marking) -> None:
        self.page, self.presses = page, 0

    def press(self, selector: str) -> None:
        where = """arguments[0].scrollIntoView({block: 'center'});
            const box = arguments[0].getBoundingClientRect();
            return {x: box.left + box.width / 2, y: box.top + box.height / 2};"""
        at = self.page.driver.execute_script(where, self.page.find(selector))
        for kind, points in (("touchStart", [at]), ("touchEnd", [])):
            self.page.driver.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        self.presses += 1

    def set_at(self, place: Place) -> None:
        self.page.driver.execute_script("document.getElementById('picture').scrollIntoView({block: 'center'})")
        self.page.touch("touchStart", place)
        self.page.touch("touchEnd")
        self.presses += 1

    def confirm(self) -> None:
        self.press("[data-act=enter]")


class ByKeys:
    """Has no pointer: goes by Tab, and by the keys that the pages name."""

    def __init__(self, page: Marking) -> None:
        self.page, self.presses = page, 0

    def press(self, selector: str) -> None:
        tab_to(self.page, selector)
        keys(self.page, Keys.ENTER)

    def set_at(self, place: Place) -> None:
        """The first arrow moves a place to start from, or the cross; Enter sets the point at the cross."""
        tab_to(self.page, "#picture")
        if self.page.driver.execute_script(IN_HAND):
            keys(self.page, Keys.ENTER)
        keys(self.page, Keys.ARROW_RIGHT)
        if not self.page.driver.execute_script(IN_HAND):
            keys(self.page, Keys.ENTER)
        self.page.until("/\\d/.test(document.getElementById('told').innerText)")
        told = self.page.find("#told").text
        tab_to(self.page, "#picture")
        x, y = map(float, re.findall(r"\d+(?:\.\d+)?", told)[:2])
        self._along(place[0] - x, Keys.ARROW_LEFT, Keys.ARROW_RIGHT)
        self._along(place[1] - y, Keys.ARROW_UP, Keys.ARROW_DOWN)

    def _along(self, way: float, back: str, on: str) -> None:
        tens, ones = divmod(round(abs(way)), 10)
        key = on if way > 0 else back
        chain = ActionChains(self.page.driver, duration=0)
        chain.key_down(Keys.SHIFT).send_keys(key * tens).key_up(Keys.SHIFT).send_keys(key * ones).perform()

    def confirm(self) -> None:
        tab_to(self.page, "#picture")
        keys(self.page, Keys.ENTER)


def drop(who: Instructor, films: Sequence[Path]) -> None:
    """Films are dropped on the lesson; the system's own window of files does that for whoever has no mouse."""
    who.page.find("#pictures [type=file]").send_keys("\n".join(map(str, films)))
    who.presses += 1


def mark(who: Instructor, view: View, moment: Checkpoint) -> None:
    """Confirm what is proposed in a picture, and set what is not, where it truly is."""
    page, truth = who.page, TRUTH[view]["marks"][moment] | SCALE
    page.ready()
    page.looked()
    while (name := page.driver.execute_script(OPEN)) is not None:
        state = f"document.querySelector('#points [data-name={name}] button').dataset.state"
        if page.driver.execute_script(f"return {state}") == "proposed":
            if page.driver.execute_script(IN_HAND):
                who.confirm()
            page.looked()
            who.confirm()
        else:
            who.set_at(tuple(truth[name]))
            if name == "scale-to":
                page.find("#length").send_keys("1 m\t")
        page.until(f"{state} === 'set'")
    page.saved()
