"""Links out of the academy and in circles, names that no disk takes, files that may not be read: each is told at its
place, and nothing of it hides what else is wrong."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from reportgen.sheets.academy_folder import load_academy
from tests.sheets.academies import (
    ACADEMY,
    LESSON,
    LESSON_FILE,
    STUDENT,
    STUDENT_FILE,
    make_academy,
    with_picture,
    write,
)
from tests.sheets.test_bounds import OWN_BANDS, OWN_DRILL, OWN_METRIC, OWN_RULE

OUT = ":1:1: the file is a link out of the academy. Put the file itself there."
ELSEWHERE = {
    STUDENT_FILE: STUDENT,
    "metrics/own.yaml": OWN_METRIC,
    "bands/own.yaml": OWN_BANDS,
    "drills/own.md": OWN_DRILL,
    "safety/own.yaml": OWN_RULE,
    "practice.yaml": "warm_up: {}\n",
}
PETRA = "students/petra-k"
HERS = {
    f"{PETRA}/student.yaml": STUDENT.replace("right", "rihgt"),
    f"{PETRA}/lessons/2026-03-05.yaml": LESSON.replace("mara-l", "petra-k"),
}
HER_PROBLEM = f"{PETRA}/student.yaml:3:8: plays is not one of the words for it; it says 'rihgt'. Did you mean right?"


def told(root):
    return [str(problem) for problem in load_academy(root).problems]


def link(root, place, target):
    """A link at `place` of the academy, in the place of what stands there."""
    path = root / place
    path.unlink(missing_ok=True)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.symlink_to(target)


@pytest.mark.parametrize("place", ELSEWHERE)
def test_a_file_that_is_a_link_out_of_the_academy_is_not_read(place, tmp_path):
    root = make_academy(tmp_path / "academy", HERS)
    link(root, place, write(tmp_path, f"outside/{Path(place).name}", ELSEWHERE[place]))
    assert told(root) == sorted([f"{place}{OUT}", HER_PROBLEM])


def test_academy_yaml_that_is_a_link_out_of_the_academy_is_not_read(tmp_path):
    root = make_academy(tmp_path / "academy", HERS)
    link(root, "academy.yaml", write(tmp_path, "outside.yaml", ACADEMY))
    assert told(root) == [f"academy.yaml{OUT}", HER_PROBLEM]


@pytest.mark.parametrize("place", ["metrics", "drills", "safety", "students/mara-l/lessons"])
def test_a_folder_that_is_a_link_out_of_the_academy_is_not_read(place, tmp_path):
    root = make_academy(tmp_path / "academy", HERS)
    write(tmp_path, "outside/2026-03-06.yaml", "x: 1\n")
    shutil.rmtree(root / place, ignore_errors=True)
    link(root, place, tmp_path / "outside")
    wrong = f"{place}:1:1: the folder is a link out of the academy. Put the folder itself there."
    assert told(root) == sorted([wrong, HER_PROBLEM])


@pytest.mark.usefixtures("library_read_once")
def test_a_file_that_is_a_link_inside_the_academy_is_read(tmp_path):
    root = make_academy(tmp_path, {"shared/student.yaml": STUDENT})
    link(root, STUDENT_FILE, "../../shared/student.yaml")
    assert told(root) == []


STILL = "stills:\n  - {{file: {}, view: face-on, checkpoint: impact}}\n"


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize(
    ("name", "wrong"),
    [
        ("../stills/impact.png", "the file lies outside the academy. Put it into the student's folder."),
        ("../round/round/impact.png", "the path cannot be followed. Write it as ../stills/name.png."),
        (f"../{'n' * 256}.png", "the picture cannot be read (File name too long). Look at its name and its rights."),
        (f"../{'n' * 60}/" * 4 + "n" * 9, "the picture is not there. Look at its name, or take the line out."),
    ],
    ids=["outside", "in a circle", "a name of 256 bytes", "many folders"],
)
def test_a_picture_that_cannot_be_reached_hides_nothing(name, wrong, tmp_path):
    root = make_academy(tmp_path / "academy", {**HERS, LESSON_FILE: LESSON + STILL.format(name) + "fokus: hips\n"})
    with_picture(tmp_path / "outside")
    (root / "students/mara-l/stills").symlink_to(tmp_path / "outside/students/mara-l/stills")
    (root / "students/mara-l/round").symlink_to("round")
    write(root, LESSON_FILE, LESSON + STILL.format(name) + "priorities: [side-bend-inpact]\n")
    assert told(root) == [
        f"{LESSON_FILE}:5:12: {wrong}",
        f"{LESSON_FILE}:6:14: the metric 'side-bend-inpact' is not known. Did you mean side-bend-impact?",
        HER_PROBLEM,
    ]


@pytest.mark.usefixtures("library_read_once")
def test_a_table_whose_name_no_disk_takes_hides_nothing(tmp_path):
    sheet = LESSON + f"readings_from: {{file: ../{'n' * 256}, columns: {{clubhead-speed: {{column: A, unit: mph}}}}}}\n"
    root = make_academy(tmp_path, {**HERS, LESSON_FILE: sheet})
    assert told(root) == [
        f"{LESSON_FILE}:4:23: the file is not there. Look at its name, or take the line out.",
        HER_PROBLEM,
    ]


@pytest.mark.usefixtures("library_read_once")
def test_one_folder_with_a_bad_name_is_a_problem_of_that_student_alone(tmp_path):
    root = make_academy(tmp_path, {"students/Mara-L/student.yaml": STUDENT, "students/lost+found/a.txt": ""})
    folder = load_academy(root)
    assert folder.shared_problems == ()
    assert {name: bool(student.problems) for name, student in folder.students.items()} == {
        "Mara-L": True,
        "mara-l": False,
    }


def checked_without_rights(root, *places):
    """What `check` says, by a user who may not read these places."""
    for place in places:
        (root / place).chmod(0)
    try:
        obeyed = ["setpriv", "--bounding-set=-dac_override,-dac_read_search"] if os.geteuid() == 0 else []
        command = [*obeyed, sys.executable, "-m", "reportgen", "check", root]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
    finally:
        for place in places:
            (root / place).chmod(0o755)
    return done.returncode, [line for line in done.stderr.splitlines() if not line.startswith("warning: ")]


CANNOT = "cannot be read (Permission denied). Look at its name and its rights."
UNREADABLE = {
    "students/mara-l/stills": [f"{LESSON_FILE}:5:12: the picture {CANNOT}"],
    "students/mara-l/stills/impact.png": [f"{LESSON_FILE}:5:12: the picture {CANNOT}"],
    "students/mara-l/swings.csv": [f"{LESSON_FILE}:6:23: the file cannot be read (Permission denied)."
                                   " Look at its rights."],
    LESSON_FILE: [f"{LESSON_FILE}:1:1: the file {CANNOT}"],
    STUDENT_FILE: [f"{STUDENT_FILE}:1:1: the file {CANNOT}"],
    "students/mara-l/lessons": [f"students/mara-l/lessons:1:1: the folder {CANNOT}"],
    "students/mara-l": [f"{STUDENT_FILE}:1:1: student.yaml is missing. Write it: name, born, plays."],
    "drills": [f"drills:1:1: the folder {CANNOT}"],
    "drills/own.md": [f"drills/own.md:1:1: the file {CANNOT}"],
    "lost+found": [],
    "students/lost+found": [],
    "letter.pdf": [],
}  # fmt: skip


@pytest.mark.parametrize("place", UNREADABLE)
def test_what_may_not_be_read_is_a_problem_of_that_file(place, tmp_path):
    table = "readings_from: {file: ../swings.csv, columns: {clubhead-speed: {column: Speed, unit: mph}}}\n"
    root = make_academy(
        tmp_path,
        {
            **HERS,
            LESSON_FILE: LESSON + STILL.format("../stills/impact.png") + table,
            "students/mara-l/swings.csv": "No;Speed\n1;84\n",
            "drills/own.md": OWN_DRILL,
            "lost+found/a": "",
            "students/lost+found/a": "",
            "letter.pdf": "",
        },
    )
    with_picture(root)
    code, said = checked_without_rights(root, place)
    problems = sorted([*UNREADABLE[place], HER_PROBLEM])
    assert (code, said) == (1, [*problems, f"{len(problems)} problem{'s' if len(problems) > 1 else ''}."])


def test_a_folder_of_students_that_may_not_be_read_is_told_in_a_line(tmp_path):
    code, said = checked_without_rights(make_academy(tmp_path), "students")
    assert code == 1
    assert said[0] == f"students:1:1: the folder {CANNOT}"


def test_links_behind_which_nothing_is_read_are_warned_of(tmp_path):
    root = make_academy(tmp_path / "academy")
    (root / "students/mara-l/videos").symlink_to(tmp_path)
    (root / "students/mara-l/round").symlink_to("round")
    done = subprocess.run(
        [sys.executable, "-m", "reportgen", "check", root], capture_output=True, text=True, check=True
    )
    says = "this link leads out of the academy, or in a circle, so nothing behind it is read."
    assert [line for line in done.stderr.splitlines() if "this link" in line] == [
        f"warning: students/mara-l/round: {says}",
        f"warning: students/mara-l/videos: {says}",
    ]


@pytest.mark.usefixtures("library_read_once")
def test_more_files_than_anybody_has(tmp_path, monkeypatch):
    monkeypatch.setattr("reportgen.sheets.student_files.LESSONS", 3)
    root = make_academy(tmp_path)
    for day in range(6, 10):
        write(root, f"students/mara-l/lessons/2026-03-0{day}.yaml", LESSON.replace("-05", f"-0{day}"))
    assert told(root) == [
        "students/mara-l/lessons:1:1: the folder holds 5 files, more than 3. Take out what is not needed."
    ]
