"""A whole lesson, from two dropped films to the mail in the outbox, and how many presses it takes."""

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from reportgen.records.words import View
from tests.desk.conftest import Browser, OpenDesk
from tests.desk.films.lessons import DOWN, FACE_ON, FOCUS, TRUTH, WHO
from tests.desk.marking.page import Marking
from tests.publishing.small import link_only, sheets, small_academy

MOST = {"six": 45, "one": 15}
"""The bar, in presses: six pictures and three metrics in focus; a lesson with one moment."""
SCALE = {"scale-from": (100.0, 820.0), "scale-to": (380.0, 820.0)}
"""The ends of something 1 m long beside the player's feet."""


@dataclass
class Instructor:
    """Who presses: every press of the mouse is counted, and every film that is dropped."""

    page: Marking
    presses: int = 0

    def press(self, selector: str) -> None:
        self.page.find(selector).click()
        self.presses += 1

    def point(self, place: tuple[float, float]) -> None:
        """Press on a place of the picture."""
        self.page.click(place)
        self.presses += 1

    def mark(self, view: View, moment: str) -> None:
        """Confirm what is proposed in a picture, and set what is not."""
        page, truth = self.page, TRUTH[view]["marks"][moment] | SCALE
        page.ready()
        page.looked()
        while (name := page.driver.execute_script(STEP)) is not None:
            state = f"document.querySelector('#points [data-name={name}] button').dataset.state"
            if page.driver.execute_script(f"return {state}") != "proposed":
                self.point(tuple(truth[name]))
                if name == "scale-to":
                    page.find("#length").send_keys("1 m\t")
            else:
                if page.driver.execute_script("return document.querySelector('#points [aria-current]')") is None:
                    self.press("[data-act=enter]")
                self.press("[data-act=enter]")
            page.until(f"{state} === 'set'")
        page.saved()


STEP = "return [...document.querySelectorAll('#points li')].find((one) => one.firstChild.dataset.state !== 'set')?.dataset.name ?? null"
"""The first point of a picture that counts for nothing so far."""


def test_six_pictures_and_three_metrics(desk: OpenDesk, browser: Browser) -> None:
    page = Marking(browser.driver)
    who = Instructor(page)
    page.driver.get(desk.home)
    who.press(f"[data-begin='{WHO}']")
    page.until("document.getElementById('form')")
    sheet = sheets(desk.academy, WHO)[-1]
    page.find("#pictures [type=file]").send_keys(f"{FACE_ON}\n{DOWN}")
    who.presses += 1
    page.until("!document.querySelector('.go').hidden && document.querySelectorAll('.films li').length === 2")
    who.press(".go a")
    page.until("document.querySelectorAll('#rows li').length === 14")
    who.press("[data-act=confirm]")
    page.until("document.querySelector('[data-act=keep]').innerText === 'Keep 6 pictures'")
    who.press("[data-act=keep]")
    page.until("location.pathname.includes('/marks/') && document.getElementById('which').innerText")
    moments = [(row["view"], row["checkpoint"]) for row in yaml.safe_load(sheet.read_text(encoding="utf-8"))["stills"]]
    for number, (view, moment) in enumerate(moments):
        who.mark(view, moment)
        print(view, moment, who.presses, page.values())
        if number < 5:
            who.press("[data-act=next]")
            page.until(f"document.getElementById('which').innerText.startsWith('{number + 2} ')")
    print(page.values())
    who.press("header a")
    page.until("document.getElementById('ready')")
    who.press("#ready")
    page.until("!document.getElementById('ready')")
    who.press("a[href*='/publishing?student=']")
    page.until("document.getElementById('came')")
    who.press("[data-start*='publish']")
    page.until("document.getElementById('came').innerText.includes('Published')")
    who.press("[data-start*='send']")
    page.until("document.getElementById('came').innerText.includes('Written into the outbox')")
    sys.stdout.write(f"\npresses from two dropped films to the mail, six pictures and three metrics: {who.presses}\n")
    assert who.presses <= MOST["six"]


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Rosalind, whose last lesson follows three metrics."""
    academy = link_only(small_academy(tmp_path / "academy", WHO))
    with sheets(academy, WHO)[-1].open("a", encoding="utf-8") as sheet:
        sheet.write(f"follow: [{', '.join(FOCUS)}]\n")
    return academy
