"""A whole lesson, from dropped films to the mail in the outbox, and how many presses of the mouse it takes."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml

from reportgen.records.words import Checkpoint, View
from tests.desk.conftest import Browser, OpenDesk, opened
from tests.desk.films.lessons import DOWN, FACE_ON, FOCUS, TRUTH, WHO
from tests.desk.marking.page import KEYS, Marking
from tests.publishing.small import link_only, sheets, small_academy

SCALE = {"scale-from": (100.0, 820.0), "scale-to": (380.0, 820.0)}
"""The ends of something 1 m long beside the player's feet."""
CURRENT = "document.querySelector('#points [aria-current]')"
OPEN = """return [...document.querySelectorAll('#points li')].find((one) => one.firstChild.dataset.state !== 'set')
    ?.dataset.name ?? null"""
"""The first point of a picture that counts for nothing so far."""

MEASURED = "[...document.querySelectorAll('#values .value')].every((one) => one.innerText !== '–')"


@dataclass
class Instructor:
    """Who presses: every press of the mouse is counted, and every time films are dropped. Confirms `by_key`, or by
    mouse too."""

    page: Marking
    by_key: bool
    presses: int = 0

    def press(self, selector: str) -> None:
        self.page.find(selector).click()
        self.presses += 1

    def drop(self, films: Sequence[Path]) -> None:
        self.page.find("#pictures [type=file]").send_keys("\n".join(map(str, films)))
        self.presses += 1

    def enter(self) -> None:
        if self.by_key:
            self.page.keys(KEYS["enter"])
        else:
            self.press("[data-act=enter]")

    def mark(self, view: View, moment: Checkpoint) -> None:
        """Confirm what is proposed in a picture, and set what is not, where it truly is."""
        page, truth = self.page, TRUTH[view]["marks"][moment] | SCALE
        page.ready()
        page.looked()
        while (name := page.driver.execute_script(OPEN)) is not None:
            state = f"document.querySelector('#points [data-name={name}] button').dataset.state"
            if page.driver.execute_script(f"return {state}") != "proposed":
                page.click(tuple(truth[name]))
                self.presses += 1
                if name == "scale-to":
                    page.find("#length").send_keys("1 m\t")
            else:
                if page.driver.execute_script(f"return {CURRENT}.dataset.state") == "set":
                    self.enter()  # it was in hand
                page.looked()
                self.enter()
            page.until(f"{state} === 'set'")
        page.saved()


@pytest.mark.parametrize(
    ("films", "focus", "moments", "by_key", "most"),
    [
        pytest.param((FACE_ON, DOWN), FOCUS, ("top", "transition", "impact"), False, 45, id="six pictures"),
        pytest.param((FACE_ON,), ("side-bend-impact",), ("impact",), True, 15, id="one picture"),
    ],
)
def test_from_dropped_films_to_the_mail_in_the_outbox(
    tmp_path: Path,
    browser: Browser,
    films: tuple[Path, ...],
    focus: tuple[str, ...],
    moments: tuple[Checkpoint, ...],
    by_key: bool,
    most: int,
) -> None:
    academy = link_only(small_academy(tmp_path / "academy", WHO))
    with sheets(academy, WHO)[-1].open("a", encoding="utf-8") as last:
        last.write(f"follow: [{', '.join(focus)}]\n")
    desk = opened(academy)
    try:
        who = Instructor(Marking(browser.driver), by_key)
        _begun_with(who, desk, films)
        sheet = sheets(academy, WHO)[-1]
        before = sheet.read_text(encoding="utf-8")
        _kept(who, len(films), moments)
        assert sheet.read_text(encoding="utf-8").startswith(before)
        rows = [(row["view"], row["checkpoint"]) for row in yaml.safe_load(sheet.read_text(encoding="utf-8"))["stills"]]
        views: tuple[View, ...] = ("face-on", "down-the-line")[: len(films)]
        assert rows == [(view, moment) for view in views for moment in moments]
        for number, (view, moment) in enumerate(rows):
            if number:
                who.press("[data-act=next]")
                who.page.until(f"document.getElementById('which').innerText.startsWith('{number + 1} ')")
            who.mark(view, moment)
        who.page.until(MEASURED)
        assert set(who.page.values()) == set(focus)
        _sent(who)
    finally:
        desk.end()
    sys.stdout.write(f"\npresses from dropped films to the mail, {len(rows)} pictures: {who.presses}\n")
    assert who.presses <= most


def _begun_with(who: Instructor, desk: OpenDesk, films: Sequence[Path]) -> None:
    who.page.driver.get(desk.home)
    who.press(f"[data-begin='{WHO}']")
    who.page.until("document.getElementById('form')")
    who.drop(films)
    there = f"document.querySelectorAll('.films li').length === {len(films)}"
    who.page.until(f"!document.querySelector('.go').hidden && {there}")


def _kept(who: Instructor, films: int, moments: Sequence[Checkpoint]) -> None:
    who.press(".go a")
    who.page.until(f"document.querySelectorAll('#rows li').length === {7 * films}")
    if "transition" in moments:
        who.press("[data-act=confirm]")
    who.page.until(f"document.querySelector('[data-act=keep]').innerText.includes(' {films * len(moments)} ')")
    who.press("[data-act=keep]")
    who.page.until("location.pathname.includes('/marks/') && document.getElementById('which').innerText")


def _sent(who: Instructor) -> None:
    """Ready, published, and the mail in the outbox."""
    who.press("header a")
    who.page.until("document.getElementById('ready')")
    who.press("#ready")
    who.page.until("!document.getElementById('ready')")
    who.press("a[href*='/publishing?student=']")
    who.page.until("document.getElementById('came')")
    who.press("[data-start*='publish']")
    who.page.until("document.getElementById('came').innerText.includes('Published')")
    who.press("[data-start*='send']")
    who.page.until("document.getElementById('came').innerText.includes('Written into the outbox')")
