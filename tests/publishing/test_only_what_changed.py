"""A publish makes again what depends on a change, and nothing else; what it keeps for that can be lost."""

import os
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from PIL import Image

from reportgen.pages import photo_pairs
from reportgen.pages.printing import LayoutError
from reportgen.publishing import student_job
from reportgen.publishing.file_index import SETTLED_AFTER, index_files
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.publish import Published, publish
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, area_of, change_sheet, contents, sheets

THEME = Path(__file__).parents[2] / "themes" / "letter"


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The lessons whose files are really made, by student and day."""
    from reportgen.pages import student_site

    found: list[str] = []
    real = student_site.student_site

    def watched(reports, home, *, lessons=None, **more):
        found.extend(f"{r.student} {r.lesson}" for r in reports if lessons is None or r.lesson in lessons)
        return real(reports, home, lessons=lessons, **more)

    monkeypatch.setattr(student_site, "student_site", watched)
    return found


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The pictures that are really drawn, by file name."""
    found: list[str] = []
    real = photo_pairs.photo

    def watched(source, shot, reach=None):
        found.append(source.name)
        return real(source, shot, reach)

    photo_pairs._kept_photo.cache_clear()
    monkeypatch.setattr(photo_pairs, "photo", watched)
    return found


def _with_a_still(small: Small) -> Path:
    """Petra's latest lesson with a picture, published."""
    still = small.academy / "students" / PETRA / "stills" / "own.png"
    still.parent.mkdir(exist_ok=True)
    Image.new("RGB", (300, 400), (90, 120, 90)).save(still)
    with sheets(small.academy, PETRA)[-1].open("a", encoding="utf-8") as sheet:
        sheet.write("stills: [{file: ../stills/own.png, view: face-on, checkpoint: impact, caption: So.}]\n")
    _again(small)
    return still


def test_other_words_draw_no_picture_again(small: Small, drawn: list[str]) -> None:
    _with_a_still(small)
    assert drawn == ["own.png"]
    change_sheet(small.academy, PETRA, "Other words")
    assert _again(small).made == (PETRA,)
    assert drawn == ["own.png"]
    after = contents(small.site)
    publish(small.academy, small.site, PublishOptions(afresh=True))
    assert contents(small.site) == after


def test_another_picture_under_the_same_name_is_drawn(small: Small, drawn: list[str]) -> None:
    still = _with_a_still(small)
    before = {name for name in contents(area_of(small.site, "Petra")) if name.endswith(".png")}
    Image.new("RGB", (300, 400), (120, 90, 90)).save(still)
    _again(small)
    assert drawn == ["own.png", "own.png"]
    assert before.isdisjoint(contents(area_of(small.site, "Petra")))


def test_another_program_draws_every_picture(small: Small, drawn: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    _with_a_still(small)
    photo_pairs._kept_photo.cache_clear()
    monkeypatch.setattr("reportgen.publishing.build_plan.program", lambda: "a later one")
    _again(small)
    assert drawn == ["own.png", "own.png"]


def _again(small: Small) -> Published:
    return publish(small.academy, small.site)


def test_one_sheet(small: Small, made: list[str]) -> None:
    """The lesson itself; an earlier one keeps its files."""
    change_sheet(small.academy, BETTINA)
    assert _again(small).made == (BETTINA,)
    assert made == [f"{BETTINA} {sheets(small.academy, BETTINA)[-1].stem}"]


def _with_a_look(small: Small, style: str) -> None:
    """A theme of the academy's own that has one style of the shipped one, published."""
    (small.academy / "look").mkdir()
    shutil.copy(THEME / style, small.academy / "look")
    with (small.academy / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write("theme: look\n")
    _again(small)


def test_the_style_alone_makes_no_page(small: Small, made: list[str]) -> None:
    _with_a_look(small, "style.css")
    made.clear()
    (small.academy / "look" / "style.css").write_text("body { color: #123456 }", encoding="utf-8")
    assert _again(small).made == ()
    assert made == []
    assert b"#123456" in (small.site / "upload" / "assets" / "style.css").read_bytes()


def test_the_style_of_the_recap_makes_every_lesson(small: Small, made: list[str]) -> None:
    _with_a_look(small, "recap.css")
    made.clear()
    with (small.academy / "look" / "recap.css").open("a", encoding="utf-8") as style:
        style.write("h1 { color: #123456 }\n")
    assert _again(small).made == (BETTINA, PETRA)
    assert len(made) == 3


def test_a_sheet_that_is_written_anew_with_the_same_words_makes_nothing(small: Small, made: list[str]) -> None:
    sheet = sheets(small.academy, PETRA)[-1]
    sheet.write_bytes(sheet.read_bytes())
    assert _again(small).made == ()
    assert made == []


def test_what_a_student_is_compared_with(small: Small) -> None:
    """Petra's pages lean on Bettina's sheets from the day that a lesson names them."""
    for one, other in ((PETRA, BETTINA), (BETTINA, PETRA)):
        with (small.academy / "students" / one / "student.yaml").open("a", encoding="utf-8") as file:
            file.write(f"shares_with: [{other}]\n")
    day = sheets(small.academy, BETTINA)[-1].stem
    with sheets(small.academy, PETRA)[-1].open("a", encoding="utf-8") as sheet:
        sheet.write(f"compare: {{student: {BETTINA}, date: {day}}}\n")
    assert _again(small).made == (BETTINA, PETRA)
    change_sheet(small.academy, BETTINA)
    assert _again(small).made == (BETTINA, PETRA)
    change_sheet(small.academy, PETRA)
    assert _again(small).made == (PETRA,)


@pytest.fixture(scope="module")
def afresh(_published: Small, tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], dict[str, bytes]]:
    """What the academy is published as into an empty folder, with these words in Petra's latest lesson."""

    @cache
    def made(words: str) -> dict[str, bytes]:
        folder = tmp_path_factory.mktemp("afresh")
        shutil.copytree(_published.academy, folder / "academy")
        change_sheet(folder / "academy", PETRA, words)
        publish(folder / "academy", folder / "site")
        return contents(folder / "site")

    return made


@pytest.mark.parametrize("lost", ["kept", "students", "files.json", "parts.json", "."])
def test_all_that_is_kept_can_be_lost(small: Small, lost: str, afresh: Callable[[str], dict[str, bytes]]) -> None:
    gone = small.site / ".made" / lost
    shutil.rmtree(gone) if gone.is_dir() else gone.unlink()
    (small.site / ".made").mkdir(exist_ok=True)
    change_sheet(small.academy, PETRA, "Once")
    _again(small)
    assert contents(small.site) == afresh("Once")
    change_sheet(small.academy, PETRA, "Once more")
    _again(small)
    assert contents(small.site) == afresh("Once more")


@pytest.mark.parametrize(
    "file", ["kept/petra-lumsgate.zip", "students/petra-lumsgate.json", "files.json", "parts.json"]
)
@pytest.mark.parametrize("damage", [b"", b"{}", b"PK\x03\x04 cut short", b"0 \n[]", b"[" * 200_000])
def test_what_is_kept_may_be_damaged(
    small: Small, file: str, damage: bytes, afresh: Callable[[str], dict[str, bytes]]
) -> None:
    (small.site / ".made" / file).write_bytes(damage)
    change_sheet(small.academy, PETRA, "Once")
    _again(small)
    assert contents(small.site) == afresh("Once")


def test_a_change_that_keeps_size_and_time_is_seen(tmp_path: Path) -> None:
    file = tmp_path / "sheet.yaml"
    file.write_text("value: 1", encoding="utf-8")
    first = index_files({"academy": tmp_path}, {}).files
    stat = file.stat()
    file.write_text("value: 2", encoding="utf-8")
    os.utime(file, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    second = index_files({"academy": tmp_path}, first).files
    assert first["academy/sheet.yaml"][1] != second["academy/sheet.yaml"][1]


def test_a_file_that_has_not_moved_is_not_read_again(tmp_path: Path) -> None:
    """A file that is noted under another digest keeps it, as long as nothing about it moved."""
    file = tmp_path / "sheet.yaml"
    file.write_text("value: 1", encoding="utf-8")
    stat = file.stat()
    stamp = (stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino)
    known = {"academy/sheet.yaml": (stamp, "as noted")}
    assert index_files({"academy": tmp_path}, known).files == known
    assert index_files({"academy": tmp_path}, {"academy/sheet.yaml": (None, "as noted")}).files != known


def test_a_file_that_was_written_a_moment_ago_is_read_again(tmp_path: Path) -> None:
    """Within the grain of the clock it could change once more and look the same."""
    (tmp_path / "sheet.yaml").write_text("value: 1", encoding="utf-8")
    assert index_files({"academy": tmp_path}, {}).files["academy/sheet.yaml"][0] is None
    assert SETTLED_AFTER >= 1_000_000_000


def test_links_in_a_circle_end(tmp_path: Path) -> None:
    (tmp_path / "students").mkdir()
    (tmp_path / "students" / "round").symlink_to(tmp_path)
    (tmp_path / "a.yaml").write_text("a", encoding="utf-8")
    names = set(index_files({"academy": tmp_path}, {}).files)
    assert "academy/a.yaml" in names
    assert len(names) < 4


def test_the_academys_own_practice_file_counts(small: Small) -> None:
    shipped = Path(student_job.__file__).parents[2] / "content" / "practice.yaml"
    shutil.copy(shipped, small.academy / "practice.yaml")
    assert _again(small).made == (BETTINA, PETRA)


def test_a_recap_that_cannot_be_printed_leaves_what_was_kept(small: Small) -> None:
    kept = small.site / ".made" / "kept"
    before = contents(kept)
    (small.academy / "look").mkdir()
    style = (THEME / "recap.css").read_text(encoding="utf-8")
    (small.academy / "look" / "recap.css").write_text(style + "h1 { background: url(face:none) }\n", encoding="utf-8")
    with (small.academy / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write("theme: look\n")
    with pytest.raises(LayoutError):
        publish(small.academy, small.site)
    assert contents(kept) == before
