"""Whatever is changed, a publish upon an earlier one gives the bytes and the problems of one into an empty folder."""

import os
import shutil
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, MIRO, PETRA, contents, reportgen, sheets, small_academy

THEME = Path(__file__).parents[2] / "themes" / "letter"


def published_twice(small: Small) -> None:
    """Publish, and publish into an empty folder: the same bytes, and the same end."""
    done = reportgen("publish", small.academy, "--to", small.site)
    fresh = small.site.with_name("fresh")
    anew = reportgen("publish", small.academy, "--to", fresh)
    assert (done.exit_code, done.stderr) == (anew.exit_code, anew.stderr.replace(str(fresh), str(small.site)))
    if anew.exit_code == 0:
        assert contents(small.site) == contents(fresh)


def published_as_before(small: Small, before: dict[str, bytes]) -> None:
    """Publish sheets that say what they said: the bytes of before."""
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert contents(small.site) == before


def with_a_theme(small: Small, told: str = "look") -> Path:
    """A theme of the academy's own with a file of each kind, one of them included by another, published."""
    look = small.academy / "look"
    look.mkdir()
    for name in ("cards.css", "guide.css", "library.js", "style.css", "recap.css"):
        shutil.copy(THEME / name, look)
    page = (THEME / "home.html").read_text(encoding="utf-8")
    (look / "home.html").write_text(
        page.replace("{% block main %}", '{% block main %}{% include "foot.txt" %}'), encoding="utf-8"
    )
    (look / "foot.txt").write_text("By the pond", encoding="utf-8")
    with (small.academy / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write(f"theme: {told}\n")
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    return look


def test_every_file_of_a_theme_counts(small: Small) -> None:
    look = with_a_theme(small)
    for name in ("cards.css", "guide.css"):
        style = (look / name).read_text(encoding="utf-8")
        (look / name).write_text("h1 { color: #123456 }\n" + style, encoding="utf-8")
    with (look / "library.js").open("a", encoding="utf-8") as file:
        file.write("// more\n")
    published_twice(small)


def test_a_file_counts_that_only_a_template_of_the_academy_includes(small: Small) -> None:
    look = with_a_theme(small)
    (look / "foot.txt").write_text("By the lake", encoding="utf-8")
    published_twice(small)


@pytest.mark.parametrize("told", ["look/", "./look"])
def test_the_style_counts_however_the_theme_is_written(small: Small, told: str) -> None:
    look = with_a_theme(small, told)
    (look / "style.css").write_text("body { color: #123456 }", encoding="utf-8")
    published_twice(small)


def test_what_a_compared_student_is_compared_with_counts(tmp_path: Path) -> None:
    small = Small(small_academy(tmp_path / "academy", PETRA, BETTINA, MIRO, lessons=1), tmp_path / "site")
    shares = {PETRA: [BETTINA], BETTINA: [PETRA, MIRO], MIRO: [BETTINA]}
    compared = {PETRA: BETTINA, BETTINA: MIRO}
    for one, others in shares.items():
        student = small.academy / "students" / one / "student.yaml"
        lines = [x for x in student.read_text(encoding="utf-8").splitlines() if not x.startswith("shares_with")]
        student.write_text("\n".join([*lines, f"shares_with: [{', '.join(others)}]"]) + "\n", encoding="utf-8")
    for one, other in compared.items():
        with sheets(small.academy, one)[-1].open("a", encoding="utf-8") as sheet:
            sheet.write(f"compare: {{student: {other}, date: {sheets(small.academy, other)[-1].stem}}}\n")
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    miro = small.academy / "students" / MIRO / "student.yaml"
    miro.write_text(miro.read_text(encoding="utf-8").replace(f"shares_with: [{BETTINA}]", ""), encoding="utf-8")
    done = reportgen("publish", small.academy, "--to", small.site)
    assert done.stdout.startswith("2 students made, 0 unchanged, 1 left as they were")


NO_FILES: dict[str, Callable[[Path], None]] = {
    "bands/own.yaml": Path.mkdir,
    "drills/own.md": lambda path: path.symlink_to("nowhere"),
    f"students/{PETRA}/lessons/2026-11-25.yaml": lambda path: path.symlink_to("nowhere"),
    f"students/{BETTINA}/lessons/2026-11-25.yaml": os.mkfifo,
}


@pytest.mark.parametrize("name", NO_FILES)
def test_what_has_the_name_of_a_sheet_and_is_no_file_is_told_by_either(small: Small, name: str) -> None:
    path = small.academy / name
    path.parent.mkdir(exist_ok=True)
    NO_FILES[name](path)
    assert reportgen("check", small.academy).exit_code == 1
    published_twice(small)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code != 0


def test_a_page_that_is_deleted_is_made_again(small: Small) -> None:
    before = contents(small.site)
    next((small.site / "upload" / "s").glob("*/index.html")).unlink()
    published_as_before(small, before)


def test_names_that_are_no_text_are_no_obstacle(small: Small) -> None:
    before = contents(small.site)
    with open(os.fsencode(small.academy) + b"/M\xfcller.txt", "wb"):
        pass
    published_as_before(small, before)


def test_a_folder_of_a_student_whose_name_is_no_text_is_told(small: Small) -> None:
    os.mkdir(folder := os.fsencode(small.academy / "students") + b"/m\xfcller")
    os.mkdir(folder + b"/lessons")
    published_twice(small)
    assert "the name of a student's folder" in reportgen("publish", small.academy, "--to", small.site).stderr


def _lose_a_recap(kept: bytearray) -> None:
    kept[kept.rindex(b"/recap.pdf") - 1] ^= 1


def _ask_for_a_later_format(kept: bytearray) -> None:
    kept[kept.rindex(b"PK\1\2") + 6] = 200


def _say_it_is_encrypted(kept: bytearray) -> None:
    kept[kept.rindex(b"PK\1\2") + 8] |= 1


@pytest.mark.parametrize("damage", [_lose_a_recap, _ask_for_a_later_format, _say_it_is_encrypted])
def test_a_damaged_archive_of_lessons_loses_nothing(small: Small, damage: Callable[[bytearray], None]) -> None:
    before = contents(small.site)
    file = small.site / ".made" / "kept" / f"{BETTINA}.zip"
    kept = bytearray(file.read_bytes())
    damage(kept)
    file.write_bytes(kept)
    assert zipfile.is_zipfile(file)
    with (small.academy / "students" / BETTINA / "student.yaml").open("a", encoding="utf-8") as student:
        student.write("# a remark\n")
    published_as_before(small, before)


@pytest.mark.parametrize("place", ["upload/s/.DS_Store", "upload/s/notes.txt"])
def test_a_file_among_the_areas_goes(small: Small, place: str) -> None:
    before = contents(small.site)
    (small.site / place).write_text("anything", encoding="utf-8")
    published_as_before(small, before)


def test_a_link_in_the_place_of_the_library_gives_way(small: Small) -> None:
    before = contents(small.site)
    shutil.rmtree(small.site / "upload" / "library")
    (small.site / "upload" / "library").symlink_to("nowhere")
    published_as_before(small, before)
