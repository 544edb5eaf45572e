"""Where a publish will not write."""

from pathlib import Path

import pytest

from tests.publishing.conftest import Small
from tests.publishing.small import contents, reportgen


def _refused(small: Small, to: Path) -> str:
    before = contents(small.academy)
    result = reportgen("publish", small.academy, "--to", to)
    assert (result.exit_code, result.stdout) == (2, "")
    assert contents(small.academy) == before
    (line,) = result.stderr.splitlines()
    return line


@pytest.mark.parametrize("inside", ["", "site", "students/petra-lumsgate/site", "../academy/site"])
def test_inside_the_academy(small: Small, inside: str) -> None:
    assert "lie in each other" in _refused(small, small.academy / inside)


def test_inside_the_academy_by_a_link(small: Small) -> None:
    link = small.academy.parent / "link"
    link.symlink_to(small.academy)
    assert "lie in each other" in _refused(small, link / "site")


def test_around_the_academy(small: Small) -> None:
    assert "lie in each other" in _refused(small, small.academy.parent)


def test_a_folder_that_holds_something_else(small: Small, tmp_path: Path) -> None:
    photos = tmp_path / "photos"
    photos.mkdir()
    (photos / "cat.txt").write_text("a cat", encoding="utf-8")
    assert "holds files that are not of a publish" in _refused(small, photos)
    assert contents(photos) == {"cat.txt": b"a cat"}


def test_a_file(small: Small, tmp_path: Path) -> None:
    file = tmp_path / "notes.txt"
    file.write_text("mine", encoding="utf-8")
    assert "is a file" in _refused(small, file)
    assert "Not a directory" in _refused(small, file / "site")
    assert file.read_text(encoding="utf-8") == "mine"


def test_a_place_in_the_site_that_cannot_be_written(small: Small) -> None:
    """A student's area is a file: what was published of the others stays."""
    before = contents(small.site / "upload" / "library")
    areas = small.site / "upload" / "s"
    for area in list(areas.iterdir()):
        area.rename(small.site / "upload" / area.name)
    areas.rmdir()
    areas.write_text("in the way", encoding="utf-8")
    assert "What was published before is intact" in _refused(small, small.site)
    assert contents(small.site / "upload" / "library") == before


def test_an_empty_folder_is_fine(small: Small, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert reportgen("publish", small.academy, "--to", tmp_path / "empty", "--student", "petra-lumsgate").exit_code == 0


def test_a_link_that_leads_in_a_circle(small: Small, tmp_path: Path) -> None:
    (tmp_path / "loop").symlink_to("loop")
    result = reportgen("publish", small.academy, "--to", tmp_path / "loop")
    assert result.exit_code == 2
    assert result.stderr == f"{tmp_path / 'loop'} is a link that leads nowhere. Give a folder.\n"
