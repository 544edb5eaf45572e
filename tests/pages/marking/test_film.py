"""A video stepped frame by frame, stills taken from it, and the tempo of the swing."""

import base64
from io import BytesIO

import pytest
from PIL import Image
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.wait import WebDriverWait

from reportgen.records.lesson import Lesson
from reportgen.sheets.reading import read_sheet
from tests.pages.marking.conftest import BIT, RATE

HEAD = "student: duarte-pemberlow\ndate: 2026-11-19\nclub: 7-iron\n"


@pytest.fixture
def film(paper):
    paper.open("film")
    paper.type("#rate", str(RATE))
    return paper


def at_frame(film, number):
    film.until(f"document.getElementById('frame').textContent === '{number}'")


def taken(film):
    """The picture of the still that is looked at."""
    script = """const done = arguments[0], reader = new FileReader();
    reader.onload = () => done(reader.result.split(",")[1]); reader.readAsDataURL(still().blob);"""
    return Image.open(BytesIO(base64.b64decode(film.browser.execute_async_script(script))))


def number_in(picture):
    return sum((picture.convert("L").getpixel((bit * BIT + BIT // 2, 30)) > 128) << bit for bit in range(8))


def take(film, checkpoint, view):
    count = film.run("return page.stills.length")
    film.pick("#take-checkpoint", checkpoint)
    film.pick("#take-view", view)
    film["#take"].click()
    film.until(f"page.stills.length === {count + 1}")


def test_keys_step_to_a_frame_and_the_still_taken_is_that_frame(film):
    film.run("document.getElementById('video').focus()")
    film.press(*[Keys.SHIFT + Keys.ARROW_RIGHT] * 2, ".", ".", ".", ",", Keys.ARROW_LEFT)
    at_frame(film, 21)
    take(film, "top", "face-on")
    assert taken(film).format == "PNG"
    assert number_in(taken(film)) == 21


@pytest.mark.parametrize("number", [0, 1, 17, 38, 39])
def test_each_frame_is_reached_the_first_and_the_last_too(film, number):
    film.run("film.goTo(arguments[0])", number)
    at_frame(film, number)
    take(film, "impact", "down-the-line")
    assert number_in(taken(film)) == number


def test_buttons_step_by_one_and_by_ten(film):
    film["[data-step='10']"].click()
    film["[data-step='-1']"].click()
    at_frame(film, 9)


def test_stills_are_named_by_day_checkpoint_and_view_and_carry_the_rate(film):
    film.run("const d = document.getElementById('date'); d.value = '2026-11-19'; d.dispatchEvent(new Event('input'))")
    take(film, "impact", "face-on")
    take(film, "impact", "face-on")
    take(film, "set-up", "down-the-line")
    names = film.run("return page.stills.map(({file}) => file)")
    assert names == ["2026-11-19-setup-dtl.png", "2026-11-19-impact-fo.png", "2026-11-19-impact-fo-2.png"]
    assert film.yaml.count(f"fps: {RATE}") == 3


def test_a_still_tells_which_frame_of_the_film_it_is(film, tmp_path):
    film.type("#camera-rate", "240")
    for checkpoint, number in (("delivery", 17), ("impact", 21)):
        film.run("film.goTo(arguments[0])", number)
        at_frame(film, number)
        take(film, checkpoint, "face-on")
    sheet = tmp_path / "lesson.yaml"
    sheet.write_text(HEAD + film.yaml, encoding="utf-8")
    record, problems = read_sheet(sheet, "lesson.yaml", Lesson)
    assert problems == []
    assert [(still.checkpoint, still.frame, still.fps) for still in record.record.stills] == [
        ("delivery", 17, 240.0),
        ("impact", 21, 240.0),
    ]


def test_stills_and_lines_are_saved_under_their_names(film, tmp_path):
    behaviour = {"behavior": "allow", "downloadPath": str(tmp_path)}
    film.browser.execute_cdp_cmd("Browser.setDownloadBehavior", behaviour)
    film.run("const d = document.getElementById('date'); d.value = '2026-11-19'; d.dispatchEvent(new Event('input'))")
    film["[data-step='10']"].click()
    at_frame(film, 10)
    take(film, "top", "face-on")
    film["#save-stills"].click()
    film["#save"].click()
    still, lines = tmp_path / "2026-11-19-top-fo.png", tmp_path / "2026-11-19-stills.yaml"
    WebDriverWait(film.browser, 10, 0.02).until(lambda _: still.exists() and lines.exists())
    assert number_in(Image.open(still)) == 10
    assert lines.read_text(encoding="utf-8") == film.yaml


def test_start_top_and_impact_make_the_tempo_of_the_sheet(film, tmp_path):
    film.type("#camera-rate", "100")
    for moment, number in (("start", 4), ("top", 25), ("impact", 32)):
        film.run("film.goTo(arguments[0])", number)
        at_frame(film, number)
        film[f"[data-moment={moment}]"].click()
    sheet = tmp_path / "lesson.yaml"
    sheet.write_text(HEAD + film.run("return sheetText([], tempoOf(page.tempo, '100'))"), encoding="utf-8")
    record, problems = read_sheet(sheet, "lesson.yaml", Lesson)
    assert problems == []
    assert record.record.tempo.model_dump() == {"start": 4, "top": 25, "impact": 32, "fps": 100.0}
    take(film, "top", "face-on")
    assert "tempo: {start: 4, top: 25, impact: 32, fps: 100}" in film.yaml
    assert film.values["Tempo, backswing to downswing"] == "3.0"
