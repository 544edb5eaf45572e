"""The pictures of a lesson on its page: pairs of one size, and of somebody who learns alongside the picture alone."""

import re
from io import BytesIO
from pathlib import Path

import html5lib
import pytest
from PIL import Image

from reportgen.pages.photo_pairs import photo_files, shown_pictures
from reportgen.pages.student_site import student_site
from reportgen.pipeline import alongside, load, reports_of
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import sound
from tests.publishing.small import PETRA, reportgen, small_academy

DEMO = Path(__file__).parents[2] / "examples" / "academy"
FATHER, SON, LESSON = "henrik-tavenhall", "miro-tavenhall", "2026-11-14"


def reports(folder, student):
    theirs = folder.students[student]
    judged = reports_of(theirs, sound(folder), alongside(theirs, folder))
    return tell_all(judged, folder.library, Reader())


@pytest.fixture(scope="module")
def demo():
    return load(DEMO)


@pytest.fixture(scope="module")
def fathers(demo):
    """The files of the father's lesson that is compared with his son's."""
    judged = reports(demo, FATHER)
    files = student_site(judged, sound(demo), lessons={LESSON}, recaps=False)
    return {name.removeprefix(f"{LESSON}/"): data for name, data in files.items() if name.startswith(f"{LESSON}/")}


@pytest.fixture(scope="module")
def page(fathers):
    return html5lib.parse(fathers["index.html"].decode(), namespaceHTMLElements=False)


def pairs(page):
    """The pictures of each pair, as (file, width, height, caption)."""
    found = []
    for group in page.iter("div"):
        if "pair" in group.get("class", "").split():
            images = [(figure.find("img"), figure.find("figcaption").text) for figure in group.iter("figure")]
            found.append([(i.get("src"), int(i.get("width")), int(i.get("height")), text) for i, text in images])
    return found


def test_every_picture_of_the_lesson_has_the_sons_beside_it(page):
    assert [[text == "Learning alongside" for *_, text in pair] for pair in pairs(page)] == [[True, False]] * 6


def test_the_two_of_a_pair_have_one_size(page):
    for beside, now in pairs(page):
        assert beside[1:3] == now[1:3]


def test_the_page_shows_the_files_that_are_published_with_it(fathers, page):
    shown = {file for pair in pairs(page) for file, *_ in pair}
    pictures = {name for name in fathers if name.endswith((".png", ".jpg"))}
    assert shown == pictures
    for name in pictures:
        with Image.open(BytesIO(fathers[name])) as picture:
            assert not picture.getexif()


def test_the_others_name_is_nowhere(fathers, page):
    telling = re.compile(r"miro|2013|(?<!henrik-)(?<!Henrik )tavenhall", re.IGNORECASE)
    for name, data in fathers.items():
        assert not telling.search(name)
        if not name.endswith((".png", ".jpg", ".webp")):
            assert telling.findall(data.decode()) == [], name
    assert SON.encode() not in b"".join(fathers.values())


def test_notes_of_readings_stand_on_the_page(page):
    text = " ".join(" ".join(page.itertext()).split())
    assert (
        "From a video of 120 frames a second: the downswing lasts 0.29 s, so counting frames is good to about 3 %."
        in text
    )
    assert "Needs a face-on picture (transition) with lead hip marked." in text


def test_a_picture_that_stands_twice_is_one_file(demo):
    shown = shown_pictures(reports(demo, "duarte-pemberlow")[-1], DEMO)
    assert len(photo_files(shown)) == len({s.photo.file for pair in shown for s in (pair.now, pair.beside) if s}) == 12


def publish(academy):
    ended = reportgen("publish", academy, "--to", academy.parent / "site")
    assert ended.exit_code == 0, ended.output
    return ended.output


def test_pages_are_made_again_when_a_file_of_the_compared_student_changes_and_nobody_elses(tmp_path):
    academy = small_academy(tmp_path / "academy", FATHER, SON, PETRA, lessons=1)
    assert "3 students made" in publish(academy)
    for file in ("student.yaml", f"lessons/{LESSON}.yaml", f"stills/{LESSON}-impact-fo.png"):
        changed = academy / "students" / SON / file
        changed.write_bytes(changed.read_bytes() + b"\n")
        assert "2 students made, 1 unchanged" in publish(academy), file


def test_taking_leave_back_takes_the_picture_from_the_others_page(tmp_path):
    academy = small_academy(tmp_path / "academy", FATHER, SON, lessons=1)
    file = academy / "students" / SON / "student.yaml"
    given = file.read_text(encoding="utf-8")
    file.write_text(re.sub(r"(pictures: \{.*)\}", r"\1, withdrawn_on: 2026-11-20}", given), encoding="utf-8")
    folder = load(academy)
    assert folder.problems == []
    latest = reports(folder, FATHER)[-1]
    assert [picture.beside for picture in latest.pictures] == [None] * 6
    assert all(picture.still for picture in latest.pictures)
