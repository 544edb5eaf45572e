"""A first academy: two commands and there is a page; its sheets teach, and its schemas hold them."""

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
import yaml

from reportgen.authoring.start import KINDS
from tests.publishing.small import ROOT, contents, reportgen

OPEN = (
    "warning: academy.yaml: there is no keyring beside the academy, so whoever has the address reads the pages. "
    "Give passphrases: reportgen members add {} --all. Or write private: link-only.\n"
)
"""All that is said of a first academy: it does not decide on its own who may read."""

MODELINE = re.compile(r"^# yaml-language-server: \$schema=(\S+)$")


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory) -> Path:
    academy = tmp_path_factory.mktemp("start") / "first"
    assert reportgen("start", academy).exit_code == 0
    return academy


@pytest.fixture
def academy(started: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(started, tmp_path / "first"))


def _sheets(academy: Path) -> list[Path]:
    found = sorted(academy.rglob("*.yaml"))
    assert [sheet.name for sheet in found[:1]] == ["academy.yaml"]
    assert len(found) == 4  # with a student and two lessons
    return found


def test_two_commands_and_there_is_a_page(tmp_path: Path) -> None:
    def run(command: str) -> str:
        done = subprocess.run(command, shell=True, cwd=tmp_path, capture_output=True, encoding="utf-8", check=True)
        assert done.stderr == ""
        return done.stdout

    program = f"'{sys.executable}' -m reportgen"
    said = run(f"PYTHONPATH='{ROOT}' {program} start 'my academy'")
    (publish,) = re.findall(r"^  reportgen (publish .*)$", said, re.MULTILINE)  # as it stands there, to be copied
    run(f"PYTHONPATH='{ROOT}' '{sys.executable}' -m tests.printed_once {publish}")
    site = tmp_path / "my academy-site"
    assert "my academy-site" in said
    desk = (site / "desk" / "index.html").read_text(encoding="utf-8")
    (page,) = re.findall(r'href="\.\./(upload/s/[^"]+)"', desk)
    home = (site / page).read_text(encoding="utf-8")
    assert "Tamsin, your lesson" in home
    assert "Work on this" in home
    assert "due for" not in desk  # the latest lesson is of today


def test_it_is_sound(academy: Path) -> None:
    result = reportgen("check", academy)
    assert (result.exit_code, result.stderr) == (0, OPEN.format(academy))
    assert result.stdout == "No problems: 1 student, 2 lessons.\n"


def test_its_lessons_are_of_today_and_a_week_ago(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1772668800")  # 5 March 2026 in Greenwich
    assert reportgen("start", tmp_path / "first").exit_code == 0
    lessons = sorted((tmp_path / "first").glob("students/*/lessons/*.yaml"))
    assert [lesson.stem for lesson in lessons] == ["2026-02-26", "2026-03-05"]
    assert "2026-01" not in "".join(sheet.read_text(encoding="utf-8") for sheet in _sheets(tmp_path / "first"))
    assert reportgen("check", tmp_path / "first").exit_code == 0


def test_one_lesson_has_a_reading_of_each_kind(academy: Path) -> None:
    lesson = yaml.safe_load(sorted(academy.glob("students/*/lessons/*.yaml"))[-1].read_text(encoding="utf-8"))
    assert {reading["how"] for reading in lesson["readings"]} == {"by-eye", "still", "sensor"}
    assert any("trials" in reading for reading in lesson["readings"])
    assert any("u" in reading for reading in lesson["readings"])
    assert lesson["stills"]
    judged = json.loads(reportgen("findings", academy, lesson["student"], "--json").stdout)
    typed = {reading["metric"] for reading in lesson["readings"]}
    assert {finding["metric"] for finding in judged["findings"]} > typed  # some are measured on the stills


def test_each_has_a_secret_of_its_own(tmp_path: Path) -> None:
    secrets = set()
    for name in ("one", "two"):
        reportgen("start", tmp_path / name)
        secrets.add(yaml.safe_load((tmp_path / name / "academy.yaml").read_text(encoding="utf-8"))["secret"])
    assert len(secrets) == 2
    assert all(re.fullmatch(r"[\w-]{32}", secret) for secret in secrets)


def test_the_first_line_of_each_sheet_leads_an_editor_to_a_schema_that_holds_it(academy: Path) -> None:
    for sheet in _sheets(academy):
        text = sheet.read_text(encoding="utf-8")
        named = MODELINE.match(text.splitlines()[0])
        assert named is not None, sheet
        schema = json.loads((sheet.parent / named[1]).read_text(encoding="utf-8"))
        jsonschema.Draft202012Validator.check_schema(schema)
        written = json.loads(json.dumps(yaml.safe_load(text), default=str))
        errors = jsonschema.Draft202012Validator(schema).iter_errors(written)
        assert [f"{error.json_path}: {error.message}" for error in errors] == [], sheet


def test_a_sheet_begun_later_leads_there_too(academy: Path) -> None:
    begun = Path(reportgen("begin", academy, "tamsin-wickerfold", "2099-03-05").stdout.strip())
    named = MODELINE.match(begun.read_text(encoding="utf-8").splitlines()[0])
    assert named is not None
    assert (begun.parent / named[1]).resolve() == (academy / "schemas" / "lesson.json").resolve()


def test_an_editor_sees_a_slip(academy: Path) -> None:
    schema = json.loads((academy / "schemas" / "lesson.json").read_text(encoding="utf-8"))
    lesson = {"student": "tamsin-wickerfold", "date": "2026-01-15", "club": "7-iron"}
    slips = [{"cluub": "7-iron"}, {"readings": [{"metric": "tempo-ratio", "value": 3, "unit": "1", "how": "by-ear"}]}]
    for slip in slips:
        assert not jsonschema.Draft202012Validator(schema).is_valid({**lesson, **slip})


def test_every_field_explains_itself_to_an_editor(academy: Path) -> None:
    for kind in KINDS:
        schema = json.loads((academy / "schemas" / f"{kind}.json").read_text(encoding="utf-8"))
        for part in (schema, *schema.get("$defs", {}).values()):
            silent = [key for key, field in part.get("properties", {}).items() if not field.get("description")]
            assert silent == [], (kind, part["title"])


@pytest.mark.parametrize("line", ["# targets:", "# guardian:", "# sex:", "# pressure_style:"])
def test_what_stands_in_remarks_can_be_taken_out_of_them(academy: Path, line: str) -> None:
    (student,) = academy.glob("students/*/student.yaml")
    text = student.read_text(encoding="utf-8")
    before, found, after = text.partition(line)
    inner = re.compile(r"\A(.*\n)((?:#   - .*\n)*)").match(after)
    assert found
    assert inner
    items = inner[2].replace("#   ", "  ")
    student.write_text(f"{before}{line[2:]}{inner[1]}{items}{after[inner.end() :]}", encoding="utf-8")
    assert reportgen("check", academy).stderr == OPEN.format(academy)


@pytest.mark.parametrize("there", ["a file", "a folder with something in it", "a hidden file", "an academy"])
def test_it_writes_over_nothing(tmp_path: Path, there: str) -> None:
    to = tmp_path / "mine"
    if there == "a file":
        to.write_text("mine", encoding="utf-8")
    else:
        to.mkdir()
        (to / (".hidden" if there == "a hidden file" else "academy.yaml")).write_text("mine", encoding="utf-8")
    before = contents(tmp_path)
    result = reportgen("start", to)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(f"{to} is ")
    assert contents(tmp_path) == before


def test_an_empty_folder_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert reportgen("start", ".").exit_code == 0
    assert reportgen("check", ".").exit_code == 0
