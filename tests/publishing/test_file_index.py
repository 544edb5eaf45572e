"""What lies in an academy and is no part of it: it is not read, not followed without end, and holds up nobody."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from reportgen.publishing.file_index import LARGEST, index_files
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, area_of, change_sheet, reportgen


def test_a_file_that_is_too_large_for_any_page_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "swing.mp4").open("wb") as film:
        film.truncate(3 << 30)
    (tmp_path / "sheet.yaml").write_text("a: 1\n", encoding="utf-8")
    program = (
        "import resource, sys; from pathlib import Path; from reportgen.publishing.file_index import index_files;"
        "resource.setrlimit(resource.RLIMIT_AS, (400 << 20, 400 << 20));"
        "print(sorted(index_files({'academy': Path(sys.argv[1])}, {}).files))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, tmp_path], capture_output=True, text=True, timeout=5, check=True
    )
    assert done.stdout == "['academy/sheet.yaml', 'academy/swing.mp4']\n"


def test_a_file_that_is_too_large_counts_by_its_size_and_time(tmp_path: Path) -> None:
    film = tmp_path / "swing.mp4"
    digests = set()
    for size in (LARGEST + 1, LARGEST + 2):
        with film.open("wb") as file:
            file.truncate(size)
        digests.add(index_files({"academy": tmp_path}, {}).files["academy/swing.mp4"][1])
    assert len(digests) == 2


def test_folders_that_link_to_each_other_have_an_end(tmp_path: Path) -> None:
    names = [f"stills-{number}" for number in range(12)]
    for name in names:
        (tmp_path / "academy" / name).mkdir(parents=True)
        (tmp_path / "academy" / name / "impact.png").write_bytes(b"")
        for other in names:
            (tmp_path / "academy" / name / other).symlink_to(f"../{other}")
    found = index_files({"academy": tmp_path / "academy"}, {}).files
    assert {f"academy/{name}/impact.png" for name in names} <= found.keys()
    assert len(found) <= len(names) + len(names) ** 2


def test_a_link_out_of_the_academy_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside" / "secret.yaml").write_text("a: 1\n", encoding="utf-8")
    academy = tmp_path / "academy"
    academy.mkdir()
    (academy / "folder").symlink_to(tmp_path / "outside")
    (academy / "student.yaml").symlink_to(tmp_path / "outside" / "secret.yaml")
    (academy / "round").symlink_to("round")
    nothing = (None, "no file")
    found = index_files({"academy": academy}, {}).files
    assert found == {"academy/student.yaml": nothing, "academy/round": nothing}


def test_a_link_within_the_academy_is_followed(tmp_path: Path) -> None:
    (tmp_path / "looks" / "summer").mkdir(parents=True)
    (tmp_path / "looks" / "summer" / "style.css").write_text("", encoding="utf-8")
    (tmp_path / "look").symlink_to("looks/summer")
    found = index_files({"academy": tmp_path}, {}).files
    assert found.keys() == {"academy/look/style.css", "academy/looks/summer/style.css"}


def test_a_folder_with_a_bad_name_holds_up_nobody(small: Small) -> None:
    odd = small.academy / "students" / "Mara-L"
    odd.mkdir()
    (odd / "student.yaml").write_text("name: Mara\n", encoding="utf-8")
    change_sheet(small.academy, BETTINA)
    result = reportgen("publish", small.academy, "--to", small.site)
    assert result.exit_code == 1
    assert result.stderr.startswith("students/Mara-L:1:1: the name of a student's folder has other signs")
    assert "A new focus" in (area_of(small.site, "Bettina") / "index.html").read_text(encoding="utf-8")
    assert "Mara-L" in (small.site / "desk" / "index.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("place", ["letter.pdf", "lost+found", "students/lost+found", f"students/{PETRA}/film.mp4"])
def test_what_may_not_be_read_and_is_no_part_holds_up_nobody(small: Small, place: str) -> None:
    path = small.academy / place
    path.mkdir() if place.endswith("found") else path.write_bytes(b"")
    change_sheet(small.academy, BETTINA)
    path.chmod(0)
    try:
        obeyed = ["setpriv", "--bounding-set=-dac_override,-dac_read_search"] if os.geteuid() == 0 else []
        command = [*obeyed, sys.executable, "-m", "reportgen", "publish", small.academy, "--to", small.site]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
    finally:
        path.chmod(0o755)
    assert (done.returncode, done.stderr) == (0, "")
    assert "A new focus" in (area_of(small.site, "Bettina") / "index.html").read_text(encoding="utf-8")
