"""Moments are proposed in films, and nothing of them reaches the sheet before a person has kept it."""

import re
import shutil
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest
import yaml
from PIL import Image
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from reportgen.desk.film_words import rate_words
from reportgen.languages.catalogues import language_of
from reportgen.languages.speaking import speaking
from reportgen.records.words import CHECKPOINTS
from reportgen.sheets.shipped import shipped
from tests.access.test_axe import AXE, RUN
from tests.desk.conftest import Browser, opened
from tests.desk.films.lessons import FACE_ON, TRUTH, Begun, beside
from tests.publishing.small import contents, reportgen

BEGAN = TRUTH["down-the-line"]["first_picture_s"] - TRUTH["face-on"]["first_picture_s"]
SOUND = 343.0
"""Metres a second in air of 20 °C (ISO 9613-1, 8.2.1 gives 343.2)."""


def on_page(browser: Browser, lesson: Begun) -> None:
    browser.driver.get(f"{lesson.desk.home}{lesson.path}/moments")
    browser.until("document.querySelectorAll('#rows li').length === 14")


def test_a_row_says_when_its_picture_was_taken_and_how_the_clocks_lie(lesson: Begun) -> None:
    assert lesson.post("moments/keep", {"moments": {1: ["impact"], 2: ["impact"]}})[0] == 200
    face_on, down = lesson.stills
    further = 4.40 - TRUTH["face-on"]["distance_m"]  # than the face-on camera of the last lesson stood
    assert down["lag"]["by"] == "sound"
    assert down["lag"]["seconds"] == pytest.approx(BEGAN - further / SOUND, abs=0.001)
    for row, view in ((face_on, "face-on"), (down, "down-the-line")):
        assert row["fps"] == TRUTH[view]["fps"]
        assert row["time"] == pytest.approx(TRUTH[view]["frame"]["impact"] / row["fps"], abs=0.001)
        with Image.open(lesson.sheet.parent / row["file"]) as kept:
            assert kept.format == "JPEG"
    assert not [line for line in reportgen("check", lesson.desk.academy).output.splitlines() if "stills" in line]


def test_the_frames_of_the_swing_are_kept_with_its_first_pictures(lesson: Begun) -> None:
    lesson.post("moments/transition/confirm")
    assert lesson.post("moments/keep", {"moments": {1: ["impact"], 2: ["impact"]}})[0] == 200
    swings = yaml.safe_load(lesson.sheet.read_text(encoding="utf-8"))["swings"]
    assert [row["view"] for row in swings] == ["face-on", "down-the-line"]
    for row in swings:
        assert list(row["checkpoints"]) == list(CHECKPOINTS)
        with Image.open(lesson.sheet.parent / row["file"]) as packed:
            assert packed.width == row["columns"] * row["frame"][0]
    assert not [line for line in reportgen("check", lesson.desk.academy).output.splitlines() if "swings" in line]


def test_what_is_asked_is_not_kept_before_somebody_has_confirmed_it(lesson: Begun) -> None:
    before = contents(lesson.desk.academy)
    status, said = lesson.post("moments/keep", {"moments": {1: ["top", "transition"]}})
    assert (status, said["says"]) == (422, "Look at each moment that is asked, and confirm it before it is kept.")
    assert contents(lesson.desk.academy) == before
    lesson.post("moments/transition/confirm")
    assert lesson.post("moments/keep", {"moments": {1: ["top", "transition"]}})[0] == 200
    assert [row["checkpoint"] for row in lesson.stills] == ["top", "transition"]


def test_looking_moving_and_confirming_write_nothing_into_the_academy(lesson: Begun) -> None:
    before = contents(lesson.desk.academy)
    lesson.post("moments/move", {"film": 1, "moment": "top", "picture": 70})
    lesson.post("moments/transition/confirm")
    assert contents(lesson.desk.academy) == before


def test_a_moment_that_is_moved_in_one_film_proposes_the_same_time_in_the_other(lesson: Begun) -> None:
    fps = TRUTH["face-on"]["fps"]
    now = lesson.post("moments/move", {"film": 1, "moment": "top", "picture": 60})[1]
    face_on, down = (film["moments"]["top"] for film in now["films"])
    assert (face_on["picture"], face_on["state"], down["state"]) == (60, "confirmed", "proposed")
    assert down["picture"] == round((60 / fps - BEGAN) * TRUTH["down-the-line"]["fps"])
    assert now["apart"]["top"] <= 1000 / fps / 2


def test_what_somebody_has_confirmed_stays_where_it_is(lesson: Begun) -> None:
    lesson.post("moments/move", {"film": 2, "moment": "top", "picture": 50})
    lesson.post("moments/move", {"film": 1, "moment": "top", "picture": 80})
    assert lesson.picture(2, "top") == 50


def test_films_and_what_was_said_of_them_are_there_when_the_desk_is_opened_again(lesson: Begun, academy: Path) -> None:
    lesson.post("moments/move", {"film": 1, "moment": "top", "picture": 61})
    shutil.copytree(beside(lesson.desk.academy), beside(academy), dirs_exist_ok=True)
    again = opened(academy)
    try:
        assert Begun(again, lesson.name).picture(1, "top") == 61
    finally:
        again.end()


def test_where_sound_and_pictures_disagree_somebody_says_which_is_right(lesson: Begun) -> None:
    seen = lesson.folder / "2" / "seen.npz"
    with np.load(seen) as kept:
        held = dict(kept)
    np.savez(seen, **{**held, "heard": held["heard"] - 0.03})
    clock = lesson.moments()["clock"]
    assert [by for by, _ in clock["ways"]] == ["sound", "pictures", "hand"]
    assert lesson.post("films/2/word", {"lag_by": "hand"}) == (422, {"says": "Confirm impact in both films first."})
    assert lesson.post("films/2/word", {"lag_by": "pictures"})[1]["clock"]["ways"] == []
    assert lesson.post("moments/keep", {"moments": {2: ["impact"]}})[0] == 200
    (row,) = lesson.stills
    assert row["lag"]["by"] == "pictures"
    assert row["lag"]["seconds"] == pytest.approx(BEGAN, abs=0.008)


def test_a_second_swing_of_a_lesson_has_a_number_of_its_own(lesson: Begun) -> None:
    keep = {"moments": {1: ["impact"]}}
    assert lesson.post("moments/keep", keep)[0] == 200
    shutil.copytree(lesson.folder / "1", lesson.folder / "3")
    note = lesson.folder / "3" / "film.json"
    note.write_text(note.read_text(encoding="utf-8").replace('"kept":true', '"kept":false'), encoding="utf-8")
    assert lesson.post("moments/keep", {"moments": {3: ["impact"]}})[0] == 200
    assert [row.get("swing") for row in lesson.stills] == [None, 2]


def test_two_windows_that_keep_at_once_keep_each_picture_once(lesson: Begun) -> None:
    with ThreadPoolExecutor() as windows:
        both = list(windows.map(lambda _: lesson.post("moments/keep", {"moments": {1: ["impact"]}}), range(2)))
    (_, _), (status, said) = sorted(both, key=lambda one: one[0])
    assert (status, said["says"]) == (422, "These pictures are kept already, in another window. Open the lesson again.")
    assert len(lesson.stills) == 1
    assert len(list((lesson.sheet.parents[1] / "stills").glob(f"{lesson.name[:10]}-impact-*"))) == 1


def test_a_film_is_kept_only_where_that_is_asked(lesson: Begun) -> None:
    films = lesson.sheet.parents[1] / "films"
    assert lesson.post("moments/keep", {"moments": {1: ["impact"]}, "films": True})[0] == 200
    assert [one.read_bytes() for one in films.iterdir()] == [FACE_ON.read_bytes()]
    assert films.stat().st_mode & 0o077 == 0
    checked = reportgen("check", lesson.desk.academy).output
    assert "films" not in checked


def test_a_film_that_was_kept_is_opened_again_with_one_press(lesson: Begun, browser: Browser) -> None:
    assert lesson.post("moments/keep", {"moments": {1: ["impact"]}, "films": True})[0] == 200
    assert lesson.get("films")["again"] == [f"{lesson.name[:10]}-fo.mp4"]
    assert lesson.desk.ask("POST", f"{lesson.path}/films/again?file=../student.yaml", "")[0] == 404
    browser.driver.get(f"{lesson.desk.home}{lesson.path}")
    browser.until("document.querySelector('#pictures .again button')")
    browser.find("#pictures .again button").click()
    browser.until("document.querySelectorAll('#pictures .films li').length === 3")
    assert lesson.get("films")["again"] == []
    opened_again = lesson.get("films")["films"][2]
    assert (opened_again["view"]["id"], opened_again["kept"]) == ("face-on", False)
    assert (lesson.folder / "3" / "film.mp4").read_bytes() == FACE_ON.read_bytes()


def test_a_film_from_which_a_ready_lesson_has_its_pictures_goes(lesson: Begun) -> None:
    ready = re.sub("(?m)^draft: .*\n", "", lesson.sheet.read_text(encoding="utf-8"))
    lesson.sheet.write_text(ready, encoding="utf-8")
    assert lesson.post("moments/keep", {"moments": {1: ["impact"]}})[0] == 200
    assert [film["number"] for film in lesson.get("films")["films"]] == [2]


def test_the_arrows_move_the_chosen_moment_by_a_picture_and_enter_confirms(lesson: Begun, browser: Browser) -> None:
    on_page(browser, lesson)
    start = lesson.picture(1, "setup")
    browser.find("body").send_keys(Keys.PAGE_UP, Keys.PAGE_UP, Keys.PAGE_UP, Keys.PAGE_UP)
    browser.find("body").send_keys(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT, Keys.SHIFT, Keys.ARROW_LEFT)
    lesson.comes_to(1, "setup", start + 2 - 10)
    browser.find("body").send_keys(Keys.PAGE_DOWN, Keys.ENTER)
    browser.until("document.querySelectorAll('#rows [data-moment=takeaway].confirmed').length === 2")
    keys = ActionChains(browser.driver)
    keys.key_down(Keys.CONTROL).send_keys(Keys.ENTER).key_up(Keys.CONTROL).perform()
    browser.until("location.pathname.includes('/marks/')")
    assert {row["checkpoint"] for row in lesson.stills} == {"top", "impact"}


def test_a_moment_says_how_far_from_impact_it_is_in_numbers_of_the_pages_language(
    lesson: Begun, browser: Browser
) -> None:
    on_page(browser, lesson)
    browser.driver.execute_script("document.documentElement.lang = 'de'")
    browser.find("body").send_keys(Keys.PAGE_UP)
    browser.until("/^0,\\d{3} s before impact$/.test(document.querySelector('#stages .at').textContent)")
    with speaking(language_of("fr", shipped("content") / "languages")):
        assert rate_words(119.88).startswith("119,88 ")
        assert rate_words(120.0).startswith("120 ")


def test_a_finger_that_is_drawn_across_a_picture_moves_the_moment(lesson: Begun, browser: Browser) -> None:
    on_page(browser, lesson)
    browser.find("#rows [data-moment=top] button").click()
    start, stage = lesson.picture(1, "top"), browser.find("#stages .picture")
    drawn = ActionChains(browser.driver, devices=[])
    finger = drawn.w3c_actions.add_pointer_input("touch", "finger")
    finger.create_pointer_move(origin=stage)
    finger.create_pointer_down(button=0)
    finger.create_pointer_move(origin=stage, x=3 * 14 + 2, y=0, duration=80)
    finger.create_pointer_up(button=0)
    drawn.w3c_actions.perform()
    lesson.comes_to(1, "top", start + 3)


@pytest.mark.parametrize("width", [390, 820])
def test_the_page_of_moments_fits_a_phone_and_a_tablet(lesson: Begun, browser: Browser, width: int) -> None:
    size = {"width": width, "height": 844, "deviceScaleFactor": 1, "mobile": True}
    browser.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    try:
        on_page(browser, lesson)
        targets = browser.driver.execute_script("""
            return [...document.querySelectorAll('main button, main a, main summary, main label')]
              .filter((one) => one.getClientRects().length)
              .map((one) => [one.innerText, one.getBoundingClientRect().height])""")
        assert [target for target in targets if target[1] < 43.5] == []
        assert browser.driver.execute_script("return document.documentElement.scrollWidth <= innerWidth")
    finally:
        browser.driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


@pytest.mark.parametrize(("width", "scheme"), [(1280, "light"), (820, "dark")])
def test_axe_finds_nothing_on_the_page_of_moments(lesson: Begun, browser: Browser, width: int, scheme: str) -> None:
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    browser.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    features = [{"name": "prefers-color-scheme", "value": scheme}]
    browser.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
    try:
        on_page(browser, lesson)
        browser.driver.execute_script("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        browser.driver.execute_script(AXE.read_text(encoding="utf-8"))
        assert browser.driver.execute_async_script(RUN) == []
    finally:
        browser.driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        browser.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


def test_a_film_without_a_view_in_its_name_is_asked_with_one_press(lesson: Begun, browser: Browser) -> None:
    for film in lesson.get("films")["films"]:
        lesson.post(f"films/{film['number']}/remove")
    lesson.drop("IMG_4711.mp4", FACE_ON.read_bytes())
    browser.driver.get(lesson.desk.home + lesson.path)
    browser.until("document.querySelector('.films [data-view=face-on]')?.offsetParent")
    browser.find(".films [data-view=face-on]").click()
    browser.until("document.querySelector('.films .name').innerText === 'IMG_4711.mp4, face-on'")


def test_a_film_that_may_be_stretched_is_asked_how_it_was_taken(lesson: Begun, browser: Browser) -> None:
    note = lesson.folder / "1" / "film.json"
    said = note.read_text(encoding="utf-8").replace('"may_be_stretched":false', '"may_be_stretched":true')
    note.write_text(re.sub('"stretched":1.0', '"stretched":null', said), encoding="utf-8")
    browser.driver.get(f"{lesson.desk.home}{lesson.path}/moments")
    browser.until("document.querySelectorAll('#stages .ask button').length > 1")
    assert lesson.post("moments/keep", {"moments": {1: ["impact"]}})[0] == 422
    assert not browser.find("[data-act=keep]").is_enabled()
    browser.find("#stages .ask button").click()
    browser.until("document.querySelectorAll('#rows li').length === 14")
