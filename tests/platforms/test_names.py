"""What is written here can be copied to Windows: ids that become names of files are none of its devices; paths that a
person is to type are quoted as the system's terminal wants them; what systems write themselves is looked past."""

import re
from pathlib import PurePosixPath, PureWindowsPath

import pytest

from reportgen.commands.shared import as_typed
from reportgen.sheets.academy_folder import load_academy
from tests.platforms.windows_names import DEVICES
from tests.publishing.small import ROOT, reportgen
from tests.sheets.academies import LESSON, LESSON_FILE, STUDENT, make_academy


@pytest.mark.parametrize("name", DEVICES)
def test_a_student_has_no_name_of_a_device(name, tmp_path):
    academy = make_academy(tmp_path, {f"students/{name}/student.yaml": STUDENT})
    assert [str(problem) for problem in load_academy(academy).problems] == [
        f"students/{name}:1:1: the name of the student's folder is one that Windows keeps for a device. "
        f"Rename it, as in {name}-a."
    ]


def test_a_drill_has_no_name_of_a_device(tmp_path):
    drill = (ROOT / "content" / "drills" / "free-lead-heel.md").read_text(encoding="utf-8")
    drills = {"drills/aux.md": drill.replace("id: free-lead-heel", "id: aux")}
    assert [str(problem) for problem in load_academy(make_academy(tmp_path, drills)).problems] == [
        "drills/aux.md:2:5: id is a name that Windows keeps for a device; it says 'aux'. "
        "Choose a longer one, as in aux-a."
    ]


def test_a_name_that_begins_like_one_is_taken(tmp_path):
    sheet = LESSON.replace("mara-l", "con-stantin")
    academy = make_academy(
        tmp_path, {"students/con-stantin/student.yaml": STUDENT, LESSON_FILE.replace("mara-l", "con-stantin"): sheet}
    )
    assert load_academy(academy).problems == []


def test_a_path_below_a_folder_is_told_with_forward_slashes_everywhere():
    below = re.compile(r"(?<!is_)(?:relative_to|relpath)\(.*")
    found = {
        f"{file.name}: {call[0]}"
        for file in (ROOT / "reportgen").rglob("*.py")
        for call in below.finditer(file.read_text(encoding="utf-8"))
        if not re.search(r"\.as_posix\(\)|\.parts|replace\(os\.sep", call[0])
    }
    assert found == set()


@pytest.mark.parametrize("name", [".DS_Store", "desktop.ini", "Thumbs.db"])
def test_what_a_system_writes_into_folders_is_in_nobodys_way(name, tmp_path):
    for folder in ("first", "site"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / name).touch()
    assert reportgen("start", tmp_path / "first").exit_code == 0
    (lessons,) = (tmp_path / "first" / "students").glob("*/lessons")
    (lessons / name).touch()
    assert reportgen("check", tmp_path / "first").exit_code == 0
    assert reportgen("publish", tmp_path / "first", "--to", tmp_path / "site").exit_code == 0


@pytest.mark.parametrize(
    ("path", "typed"),
    [
        (PurePosixPath("my academy"), "'my academy'"),
        (PurePosixPath("academy"), "academy"),
        (PureWindowsPath(r"C:\Users\Ada Example\my academy"), r'"C:\Users\Ada Example\my academy"'),
        (PureWindowsPath(r"C:\academy"), r"C:\academy"),
    ],
)
def test_a_path_is_quoted_for_the_terminal_of_its_system(path, typed):
    assert as_typed(path) == typed
