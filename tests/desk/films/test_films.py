"""Films beside a lesson: whose eyes they are for, how long they stay, where they come from, and what is none."""

import os
import shutil
import time
import zipfile
from pathlib import Path

import pytest
from PIL import Image

from tests.desk.conftest import WITHOUT_FILM, OpenDesk, opened
from tests.desk.films.lessons import DOWN, FACE_ON, WHO, Begun, begun, beside, wait_until
from tests.publishing.small import contents, reportgen, say_in, sheets


def test_what_lies_beside_the_academy_is_for_its_owner_alone(lesson: Begun) -> None:
    lesson.drop("new-fo.mp4", FACE_ON.read_bytes())
    wait_until(lambda: lesson.get("films")["films"][-1]["done"] > 0)
    below = [beside(lesson.desk.academy), *beside(lesson.desk.academy).rglob("*")]
    assert any(one.name == "00000.jpg" and one.parent.name == "3" for one in below)
    mine = [one for one in below if "3" in one.parts[-2:]]
    assert [one for one in mine if one.stat().st_mode & 0o077] == []


def test_films_go_when_their_lesson_is_ready(lesson: Begun) -> None:
    assert lesson.folder.is_dir()
    lesson.post("ready")
    assert "draft" not in lesson.sheet.read_text(encoding="utf-8")
    assert not lesson.folder.exists()


def test_films_go_after_a_month_and_what_never_came_to_its_end_at_once(academy: Path) -> None:
    old = beside(academy) / WHO / sheets(academy, WHO)[-1].stem
    (old / "9").mkdir()
    (old / "9" / "film.mov").write_bytes(b"half a film")
    long_ago = time.time() - 31 * 86_400
    os.utime(old / "2", (long_ago, long_ago))
    opened(academy).end()
    assert [one.name for one in old.iterdir()] == ["1"]


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "the file is empty"),
        (b"a letter about a swing", "this is not a MOV or MP4 film"),
        (FACE_ON.read_bytes()[:60_000], "the film is cut short"),
        ((FACE_ON.parent / "turned.heic").read_bytes(), "this is a still picture"),
    ],
    ids=["empty", "no film", "cut", "a still"],
)
def test_what_is_no_film_is_refused_in_words_and_leaves_nothing(lesson: Begun, data: bytes, says: str) -> None:
    before = {one.name for one in lesson.folder.iterdir()}
    status, said = lesson.drop("swing-fo.mov", data)
    assert status == 422
    assert said["says"].startswith(f"swing-fo.mov: {says}")
    assert {one.name for one in lesson.folder.iterdir()} == before


def test_a_film_whose_pictures_are_broken_says_so_while_it_is_read(lesson: Begun) -> None:
    data = bytearray(FACE_ON.read_bytes())
    at = data.index(b"mdat") + 4
    data[at : at + 40_000] = bytes(40_000)
    assert lesson.drop("broken-fo.mp4", bytes(data))[0] == 200
    now = lesson.moments()
    film = lesson.get("films")["films"][-1]
    assert film["wrong"] == "the film is broken or cut short. Copy it from the phone again."
    assert [one["number"] for one in now["films"]] == [1, 2]


@pytest.fixture
def inbox(academy: Path, tmp_path: Path) -> Path:
    """A folder that a phone copies into: a film, a picture, half a film, and something else."""
    folder = tmp_path / "phone"
    (folder / "Camera").mkdir(parents=True)
    shutil.copy(DOWN, folder / "Camera" / "swing-dtl.MOV")
    shutil.copy(FACE_ON.parent / "turned.heic", folder / "IMG_1.HEIC")
    (folder / "half-fo.mp4").write_bytes(FACE_ON.read_bytes()[:50_000])
    (folder / "letter.txt").write_text("Hello")
    long_ago = time.time() - 60
    for file in folder.rglob("*.*"):
        os.utime(file, (long_ago, long_ago))
    say_in(academy, f"inbox: {folder}")
    return folder


def test_whole_films_and_pictures_of_the_inbox_are_listed_and_copied_by_a_press(inbox: Path, desk: OpenDesk) -> None:
    lesson = begun(desk)
    before = contents(inbox)
    assert {one["name"] for one in lesson.get("films")["inbox"]} == {"Camera/swing-dtl.MOV", "IMG_1.HEIC"}
    assert lesson.post("inbox?file=Camera/swing-dtl.MOV")[0] == 200
    assert lesson.get("films")["films"][-1]["view"]["id"] == "down-the-line"
    assert lesson.post("inbox?file=IMG_1.HEIC&view=face-on&checkpoint=top")[0] == 200
    (row,) = lesson.stills
    with Image.open(lesson.sheet.parent / row["file"]) as kept:
        assert (kept.format, kept.width < kept.height) == ("JPEG", True)
        assert not kept.getexif()
    for name in ("half-fo.mp4", "letter.txt", "../academy/academy.yaml", "/etc/passwd", ""):
        assert lesson.post(f"inbox?file={name}")[0] == 404
    assert contents(inbox) == before


def test_check_tells_of_an_inbox_that_is_not_there_or_in_the_academy(academy: Path) -> None:
    say_in(academy, f"inbox: {academy / 'students'}")
    assert "lies in the academy" in reportgen("check", academy).output
    text = (academy / "academy.yaml").read_text(encoding="utf-8")
    (academy / "academy.yaml").write_text(text.replace(f"{academy / 'students'}", "/no/such/folder"), encoding="utf-8")
    assert "/no/such/folder is not a folder on this computer" in reportgen("check", academy).output


def test_an_export_has_the_films_and_forget_takes_them(academy: Path) -> None:
    to = academy.parent / "theirs.zip"
    assert reportgen("export", academy, WHO, "--to", to).exit_code == 0
    day = sheets(academy, WHO)[-1].stem
    with zipfile.ZipFile(to) as archive:
        assert archive.read(f"{WHO}/films/{day}-1.mp4") == FACE_ON.read_bytes()
        assert b"films/" in archive.read(f"{WHO}/README.txt")
    would = reportgen("forget", academy, WHO, "--dry-run").output
    assert f"would remove {beside(academy) / WHO}: their films" in would
    reportgen("forget", academy, WHO)
    assert not (beside(academy) / WHO).exists()


def test_without_the_extra_the_desk_is_open_and_says_what_films_need(academy: Path) -> None:
    desk = opened(academy, *WITHOUT_FILM)
    try:
        lesson = begun(desk)
        before = contents(beside(academy))
        line = "pip install 'reportgen[film]'"
        assert line in lesson.get("films")["missing"]
        status, said = lesson.drop("new-fo.mp4", FACE_ON.read_bytes())
        assert (status, line in said["says"]) == (422, True)
        heic = (FACE_ON.parent / "turned.heic").read_bytes()
        status, said = lesson.drop_picture(heic)
        assert (status, said["says"].startswith("Reading HEIC pictures"), line in said["says"]) == (422, True, True)
        assert contents(beside(academy)) == before
    finally:
        desk.end()
