"""A whole lesson, from dropped films to the mail in the outbox: by mouse, by keys alone, with a finger; and how many
presses it takes."""

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
import yaml
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from reportgen.records.words import Checkpoint, View
from tests.desk.conftest import Browser, OpenDesk, opened
from tests.desk.films.instructors import ByFinger, ByKeys, ByMouse, Instructor, drop, mark
from tests.desk.films.lessons import DOWN, FACE_ON, FOCUS, WHO
from tests.desk.keyboard import keys, tab_to
from tests.desk.marking.page import Marking
from tests.publishing.small import link_only, sheets, small_academy

MEASURED = """document.querySelector('#values .value')
    && [...document.querySelectorAll('#values .value')].every((one) => one.innerText !== '–')"""
ONE = ("side-bend-impact",)
"""One picture of impact, face-on, gives it."""


@pytest.fixture
def tablet(browser: Browser) -> Iterator[Browser]:
    size = {"width": 820, "height": 1180, "deviceScaleFactor": 1, "mobile": True}
    browser.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    browser.driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": True})
    yield browser
    browser.driver.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": False})
    browser.driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_six_pictures_of_two_films_take_45_presses_of_the_mouse(tmp_path: Path, browser: Browser) -> None:
    who = ByMouse(Marking(browser.driver))
    _whole_lesson(tmp_path, who, (FACE_ON, DOWN), FOCUS, ("top", "transition", "impact"))
    assert who.presses <= 45


def test_one_picture_takes_15_with_the_other_hand_on_the_keys(tmp_path: Path, browser: Browser) -> None:
    who = ByMouse(Marking(browser.driver), confirms_by_key=True)
    _whole_lesson(tmp_path, who, (FACE_ON,), ONE, ("impact",))
    assert who.presses <= 15


def test_a_finger_is_enough(tmp_path: Path, tablet: Browser) -> None:
    _whole_lesson(tmp_path, ByFinger(Marking(tablet.driver)), (FACE_ON,), ONE, ("impact",))


def test_keys_are_enough(tmp_path: Path, browser: Browser) -> None:
    sheet = _whole_lesson(tmp_path, ByKeys(Marking(browser.driver)), (FACE_ON,), ONE, ("impact",), writes=True)
    assert "Well done, and by keys alone." in sheet


def _whole_lesson(
    folder: Path,
    who: Instructor,
    films: tuple[Path, ...],
    focus: Sequence[str],
    moments: Sequence[Checkpoint],
    *,
    writes: bool = False,
) -> str:
    """What the sheet says in the end."""
    academy = link_only(small_academy(folder / "academy", WHO))
    with sheets(academy, WHO)[-1].open("a", encoding="utf-8") as last:
        last.write(f"follow: [{', '.join(focus)}]\n")
    desk = opened(academy)
    try:
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
            mark(who, view, moment)
        who.page.until(MEASURED)
        assert set(who.page.values()) == set(focus)
        if writes:
            _written(who)
        _sent(who)
        presses = f"{type(who).__name__}, {len(rows)} pictures, {len(focus)} metrics: {who.presses} presses"
        sys.stdout.write(f"\nfrom dropped films to the mail, {presses}\n")
        return sheet.read_text(encoding="utf-8")
    finally:
        desk.end()


def _begun_with(who: Instructor, desk: OpenDesk, films: Sequence[Path]) -> None:
    who.page.driver.get(desk.home)
    if isinstance(who, ByKeys):
        keys(who.page, WHO[:5])  # into the field that finds somebody
    who.press(f"[data-begin='{WHO}']")
    who.page.until("document.getElementById('form')")
    drop(who, films)
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


def _written(who: Instructor) -> None:
    """The letter, and how the body felt."""
    who.press("header a")
    who.page.until("document.getElementById('ready')")
    tab_to(who.page, "#letter textarea")
    keys(who.page, "Well done, and by keys alone.")
    tab_to(who.page, "#comfort [data-add]")
    keys(who.page, Keys.ENTER)
    who.page.until("document.activeElement.closest('#comfort .row')")
    tab_to(who.page, "#comfort .row:last-of-type .field:nth-of-type(2) input")
    keys(who.page, "0")


def _sent(who: Instructor) -> None:
    """Ready, published, and the mail in the outbox."""
    if not who.page.driver.execute_script("return Boolean(document.getElementById('ready'))"):
        who.press("header a")
    who.page.until("document.getElementById('ready')")
    if isinstance(who, ByKeys):
        ActionChains(who.page.driver).key_down(Keys.CONTROL).send_keys(Keys.ENTER).key_up(Keys.CONTROL).perform()
    else:
        who.press("#ready")
    who.page.until("!document.getElementById('ready')")
    who.press("a[href*='/publishing?student=']")
    who.page.until("document.getElementById('came')")
    who.press("[data-start*='publish']")
    who.page.until("document.getElementById('came').innerText.includes('Published')")
    who.press("[data-start*='send']")
    who.page.until("document.getElementById('came').innerText.includes('Written into the outbox')")
