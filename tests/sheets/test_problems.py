"""Every file in problems/: a sheet as written and, below it, the problems that `check` tells, as line:column: what.

A case is a title, a line with a dot, the sheet, a line with a dot, its problems (none for a sound sheet), a line with a
dot. Add one by writing it down: no program to change.
"""

import re
from pathlib import Path

import pytest

from reportgen.sheets.academy_folder import load_academy
from tests.sheets.academies import LESSON_FILE, STUDENT_FILE, make_academy

CASES = Path(__file__).parent / "problems"
WRITTEN_AS = {
    "traps": LESSON_FILE,
    "lesson": LESSON_FILE,
    "student": STUDENT_FILE,
    "academy": "academy.yaml",
    "drill": "drills/own-drill.md",
    "bands": "bands/own.yaml",
    "metric": "metrics/own-metric.yaml",
    "formula": "metrics/own-metric.yaml",
    "safety": "safety/own.yaml",
    "setup": "setup/shoulders.yaml",
    "causes": "causes/own.yaml",
}


def cases(*kinds):
    """(kind, sheet, problems) of each case in the files of these names."""
    found = []
    for kind in kinds:
        parts = re.split(r"^\.\n", (CASES / f"{kind}.txt").read_text(encoding="utf-8"), flags=re.MULTILINE)
        assert not parts.pop().strip()
        for title, sheet, problems in zip(parts[0::3], parts[1::3], parts[2::3], strict=True):
            found.append(pytest.param(kind, sheet, problems.splitlines(), id=f"{kind}: {title.strip()}"))
    return found


def told(root, path):
    """The problems of the academy in `root`, all of which must be in `path`, as line:column: what."""
    lines = [str(problem) for problem in load_academy(root).problems]
    assert all(line.startswith(f"{path}:") for line in lines)
    return [line.removeprefix(f"{path}:") for line in lines]


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize(("kind", "sheet", "problems"), cases("traps", "lesson", "student", "academy"))
def test_a_sheet_has_the_problems_written_below_it(kind, sheet, problems, tmp_path):
    root = make_academy(tmp_path, {WRITTEN_AS[kind]: sheet})
    assert told(root, WRITTEN_AS[kind]) == problems


@pytest.mark.parametrize(
    ("kind", "sheet", "problems"), cases("drill", "bands", "metric", "formula", "safety", "setup", "causes")
)
def test_a_file_of_the_library_has_the_problems_written_below_it(kind, sheet, problems, tmp_path):
    root = make_academy(tmp_path, {WRITTEN_AS[kind]: sheet})
    assert told(root, WRITTEN_AS[kind]) == problems


@pytest.mark.usefixtures("library_read_once")
def test_a_name_that_turns_the_line_is_told_without_what_turns_it(tmp_path):
    root = make_academy(tmp_path)
    (root / LESSON_FILE).with_name("\u202eb").touch()
    (path,) = {problem.path for problem in load_academy(root).problems}
    assert path.endswith("lessons/\ufffdb")
