"""The marking page as a file: everything inside, nothing asked of any host, never in the place of another file."""

import base64
import hashlib
import json
import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from reportgen.cli import main
from reportgen.pages import marking
from tests.judging.academies import ID, reading, sheet, write_academy

STILLS = Path(__file__).parents[2] / "examples/academy/students/duarte-pemberlow/stills"
FACE_ON, DOWN = STILLS / "2026-11-19-top-fo.png", STILLS / "2026-11-19-top-dtl.png"


def mark(*arguments):
    return CliRunner().invoke(main, ["mark", *map(str, arguments)])


def given(page):
    return json.loads(re.search(r'<script type="application/json" id="given">(.*?)</script>', page, re.S)[1])


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    to = tmp_path_factory.mktemp("page") / "mark.html"
    ended = mark(FACE_ON, DOWN, "--to", to)
    assert ended.exit_code == 0, ended.output
    assert ended.output.strip() == str(to)
    return to.read_text(encoding="utf-8")


def test_the_pictures_travel_inside_the_page_as_they_are(page):
    inside = {file["name"]: base64.b64decode(file["data"]) for file in given(page)["files"]}
    assert inside == {file.name: file.read_bytes() for file in (FACE_ON, DOWN)}


def test_nothing_in_the_page_names_another_host(page):
    addresses = set(re.findall(r"https?://[^\s\"')]+", page))
    assert addresses == {"http://www.w3.org/2000/svg"}


def test_the_policy_lets_run_exactly_the_scripts_and_the_style_of_the_page(page):
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page)[1].replace("&#39;", "'")
    own = re.findall(r"<script>(.*?)</script>", page, re.S), re.findall(r"<style>(.*?)</style>", page, re.S)
    for kind, texts in zip(("script-src", "style-src"), own, strict=True):
        hashes = [base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() for text in texts]
        assert re.search(rf"{kind} ([^;]*);", policy)[1] == " ".join(f"'sha256-{h}'" for h in hashes)
    assert policy.startswith("default-src 'none'; ")
    assert "unsafe" not in policy


def test_markup_holds_no_handler_and_no_style_of_its_own(page):
    markup = re.sub(r"<(script|style)\b.*?</\1>", "", page, flags=re.S)
    assert not re.search(r"<[^>]*\s(on\w+|style)=", markup)


def test_a_name_of_a_picture_cannot_end_the_script_that_holds_it(tmp_path):
    odd = tmp_path / "top <script>&'.png"
    odd.write_bytes(FACE_ON.read_bytes())
    assert mark(odd, "--to", tmp_path / "mark.html").exit_code == 0
    assert given((tmp_path / "mark.html").read_text(encoding="utf-8"))["files"][0]["name"] == odd.name


def test_a_page_is_written_over_an_earlier_one(tmp_path):
    to = tmp_path / "mark.html"
    assert mark("--to", to).exit_code == 0
    assert mark(FACE_ON, "--to", to).exit_code == 0
    assert given(to.read_text(encoding="utf-8"))["files"][0]["name"] == FACE_ON.name


def test_an_unknown_language_is_told_with_those_there_are(tmp_path):
    ended = mark("--language", "it", "--to", tmp_path / "mark.html")
    assert ended.exit_code == 2
    assert ended.output == "There is no catalogue of the language it. Give one of en, de, fr.\n"
    assert not (tmp_path / "mark.html").exists()


@pytest.mark.parametrize(("code", "says"), [("en", "Marks on the stills"), ("fr", "Repères sur les images fixes")])
def test_the_page_speaks_the_language_that_is_asked_for(tmp_path, code, says):
    assert mark("--language", code, "--to", tmp_path / "mark.html").exit_code == 0
    page = (tmp_path / "mark.html").read_text(encoding="utf-8")
    assert f'<html lang="{code}">' in page
    assert f"<h1>{says}</h1>" in page


def test_another_file_is_never_written_over(tmp_path):
    to = tmp_path / "letter.html"
    to.write_text("<p>Dear pupil", encoding="utf-8")
    ended = mark("--to", to)
    assert ended.exit_code == 2
    assert "no marking page" in ended.output
    assert to.read_text(encoding="utf-8") == "<p>Dear pupil"


@pytest.mark.parametrize("option", [[], ["--video"]])
def test_what_is_no_picture_or_video_is_told_and_nothing_is_written(tmp_path, option):
    text = tmp_path / "notes.txt"
    text.write_text("no picture", encoding="utf-8")
    ended = mark(*option, text, "--to", tmp_path / "mark.html")
    assert ended.exit_code == 2
    assert "notes.txt" in ended.output
    assert not (tmp_path / "mark.html").exists()


def test_a_large_video_stays_outside_and_is_asked_for(tmp_path, monkeypatch):
    monkeypatch.setattr(marking, "LARGEST_VIDEO", 10)
    video = tmp_path / "swing.mp4"
    video.write_bytes(bytes(11))
    assert mark("--video", video, "--to", tmp_path / "mark.html").exit_code == 0
    inside = given((tmp_path / "mark.html").read_text(encoding="utf-8"))
    assert inside["files"] == []
    assert "swing.mp4 is too large" in inside["ask"]


# What is followed


CLOSED = reading("pelvis-closed-top", 70.0)


def asked_for(root, lessons, student="born: 1986-05-01", at="stills"):
    folder = write_academy(root / "academy", lessons, student) / "students" / ID / at
    folder.mkdir(exist_ok=True)
    still = Path(shutil.copy(FACE_ON, folder))
    ended = mark(still, "--to", root / "mark.html")
    assert ended.exit_code == 0, ended.output
    return given((root / "mark.html").read_text(encoding="utf-8"))["followed"]


def test_what_the_last_sheet_follows_is_asked_for(tmp_path):
    lessons = {"2026-03-05": "follow: [side-bend-impact]", "2026-03-12": "follow: [pelvis-closed-top]"}
    assert asked_for(tmp_path, lessons, "born: 1986-05-01\nfollow: [lead-hip-rise]") == ["pelvis-closed-top"]


def test_otherwise_what_the_student_file_follows(tmp_path):
    lessons = {"2026-03-05": sheet(CLOSED)}
    assert asked_for(tmp_path, lessons, "born: 1986-05-01\nfollow: [lead-hip-rise]") == ["lead-hip-rise"]


def test_otherwise_what_the_last_lesson_gave_to_work_on(tmp_path):
    lessons = {"2026-03-05": sheet(CLOSED, "priorities: [pelvis-closed-top]")}
    assert asked_for(tmp_path, lessons) == ["pelvis-closed-top"]


BEGUN = sheet("  - {metric: pelvis-closed-top, value: , unit: deg, how: by-eye}\n")


def test_a_sheet_that_is_not_finished_says_what_it_follows(tmp_path):
    lessons = {"2026-03-05": "follow: [lead-hip-rise]", "2026-03-12": f"follow: [side-bend-impact]\n{BEGUN}"}
    assert asked_for(tmp_path, lessons) == ["side-bend-impact"]


def test_a_sheet_that_is_not_finished_leaves_what_was_worked_on(tmp_path):
    lessons = {"2026-03-05": sheet(CLOSED, "priorities: [pelvis-closed-top]"), "2026-03-12": BEGUN}
    assert asked_for(tmp_path, lessons) == ["pelvis-closed-top"]


@pytest.mark.parametrize(
    "lessons",
    [{}, {"2026-03-05": "follow: [clubhead-speed]"}, {"2026-03-05": "follow: [no-such-metric]"}],
    ids=["no lesson", "what no picture gives", "a metric that is not known"],
)
def test_where_nothing_of_it_can_be_marked_all_is_asked_for(tmp_path, lessons):
    assert asked_for(tmp_path, lessons) == []


def test_a_picture_that_is_no_students_asks_for_all(tmp_path):
    assert asked_for(tmp_path, {"2026-03-05": "follow: [pelvis-closed-top]"}, at="../../pictures") == []


def test_an_academy_that_cannot_be_read_asks_for_all(tmp_path):
    lessons = {"2026-03-05": sheet(CLOSED, "priorities: [pelvis-closed-top]")}
    folder = write_academy(tmp_path / "academy", lessons) / "students" / ID / "stills"
    folder.mkdir()
    (tmp_path / "academy" / "academy.yaml").write_text("name: [", encoding="utf-8")
    ended = mark(shutil.copy(FACE_ON, folder), "--to", tmp_path / "mark.html")
    assert (ended.exit_code, ended.exception) == (0, None)
    assert given((tmp_path / "mark.html").read_text(encoding="utf-8"))["followed"] == []
