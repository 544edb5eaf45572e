"""The commands as people script them: what goes to stdout, what to stderr, and with which exit code."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
import yaml
from click.testing import Result

from reportgen.cli import main
from tests.publishing.small import (
    BETTINA,
    DEMO,
    PETRA,
    ROOT,
    break_sheet,
    contents,
    link_only,
    reportgen,
    sheets,
    small_academy,
)

KINDS = ("academy", "student", "lesson", "metric", "bands", "drill", "safety", "report", "told")


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Petra with one lesson and Bettina with two."""
    return link_only(small_academy(tmp_path / "academy", PETRA, BETTINA))


def _told(result: Result, code: int) -> str:
    """The one line on stderr of a command that said nothing else."""
    assert (result.exit_code, result.stdout) == (code, "")
    (line,) = result.stderr.splitlines()
    return line


# help


def test_help_names_every_command() -> None:
    said = reportgen("--help").stdout
    for command in ("check", "publish", "findings", "begin", "recap", "schema"):
        assert f"\n  {command} " in said
    codes = "Exit codes: 0 all is well, 1 some sheets have problems, 2 the command could not run."
    assert codes in " ".join(said.split())


@pytest.mark.parametrize("command", sorted(main.commands))
def test_every_command_explains_itself(command: str) -> None:
    result = reportgen(command, "--help")
    assert result.exit_code == 0
    assert main.commands[command].get_short_help_str(200) in " ".join(result.stdout.split())


def test_help_needs_none_of_the_heavy_libraries() -> None:
    asked = "import sys; from reportgen.cli import main; main(['--help'], standalone_mode=False); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", asked], cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    loaded = set(done.stdout.splitlines()[-1].split())
    assert "click" in loaded
    assert not {"matplotlib", "weasyprint", "scipy", "numpy", "PIL", "fontTools", "pydantic"} & loaded


# check


def test_check_of_a_sound_academy(academy: Path) -> None:
    result = reportgen("check", academy)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == "No problems: 2 students, 3 lessons.\n"


def test_the_demo_is_sound() -> None:
    assert reportgen("check", DEMO).exit_code == 0


def test_check_lists_every_problem_with_its_place(academy: Path) -> None:
    places = set()
    for student in (PETRA, BETTINA):
        sheet = break_sheet(academy, student)
        lines = sheet.read_text(encoding="utf-8").splitlines()
        line = next(number for number, text in enumerate(lines, 1) if text.startswith("club:"))
        places.add(f"{sheet.relative_to(academy).as_posix()}:{line}:7")
    result = reportgen("check", academy)
    assert (result.exit_code, result.stdout) == (1, "")
    *problems, count = result.stderr.splitlines()
    assert {problem.split(": ")[0] for problem in problems} == places
    assert count == "2 problems."


# publish


def test_publish_says_what_it_did(academy: Path, tmp_path: Path) -> None:
    result = reportgen("publish", academy, "--to", tmp_path / "site", "--student", PETRA)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == f"1 student made: {tmp_path / 'site'}\n"


# findings


def test_findings_as_a_table(academy: Path) -> None:
    result = reportgen("findings", academy, BETTINA)
    assert (result.exit_code, result.stderr) == (0, "")
    said = " ".join(result.stdout.split())
    assert said.startswith("Bettina Halloran, 18 November 2026, lesson 2, 8-iron")
    judged = json.loads(reportgen("findings", academy, BETTINA, "--json", "--language", "en").stdout)
    assert [f["short"] for f in judged["findings"] if f["short"].split()[0] not in said] == []
    assert [f["verdict"] for f in judged["findings"] if f["verdict"].split()[0] not in said] == []


def test_findings_of_an_earlier_lesson(academy: Path) -> None:
    assert "28 October 2026" in reportgen("findings", academy, BETTINA, "2026-10-28").stdout


@pytest.mark.parametrize(("kind", "more"), [("report", ()), ("told", ("--language", "de"))])
def test_findings_as_json_keep_their_schema(kind: str, more: tuple[str, ...]) -> None:
    schema = json.loads(reportgen("schema", kind).stdout)
    check = jsonschema.validators.validator_for(schema)
    check.check_schema(schema)
    for student in ("duarte-pemberlow", "miro-tavenhall", "annika-drosselby", BETTINA, PETRA):
        result = reportgen("findings", DEMO, student, "--json", *more)
        assert (result.exit_code, result.stderr) == (0, "")
        assert [error.message for error in check(schema).iter_errors(json.loads(result.stdout))] == []


def test_findings_as_json_have_the_names_that_people_script() -> None:
    judged = json.loads(reportgen("findings", DEMO, "duarte-pemberlow", "--json").stdout)
    wanted = {"student", "date", "findings", "priorities", "drills", "practice", "cautions", "missing"}
    assert wanted <= judged.keys()
    finding = next(f for f in judged["findings"] if f["metric"] == "pelvis-open-impact")
    wanted = {
        "metric", "checkpoint", "value", "u", "interval", "unit", "how", "band", "probability", "verdict",
        "likelihood", "change",
    }  # fmt: skip
    assert wanted <= finding.keys()
    assert {"low", "high", "band", "basis"} <= finding["band"].keys()
    assert {"since", "before", "by"} <= finding["change"].keys()


def test_findings_as_json_in_a_language_are_what_its_reader_is_told() -> None:
    german = json.loads(reportgen("findings", DEMO, "duarte-pemberlow", "--json", "--language", "de").stdout)
    assert german["language"] == "de"
    assert german["summary"].startswith("Wir haben ")
    facts = reportgen("findings", DEMO, "duarte-pemberlow", "--json").stdout
    assert "Wir" not in facts
    assert not {"language", "summary"} & json.loads(facts).keys()


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (("--json", "--language", "xx"), "There is no catalogue of the language xx."),
        (("--language", "de"), "--language goes with --json"),
        (("--json", "--all", "--language", "de"), "--language goes with --json"),
    ],
)
def test_a_language_that_findings_cannot_be_told_in(more: tuple[str, ...], says: str) -> None:
    result = reportgen("findings", DEMO, BETTINA, *more)
    assert result.exit_code == 2
    assert says in result.stderr


def test_one_schema_of_the_report_by_two_ways() -> None:
    assert reportgen("findings", "--json-schema").stdout == reportgen("schema", "report").stdout


def test_findings_of_a_broken_sheet_are_its_problems(academy: Path) -> None:
    sheet = break_sheet(academy, PETRA)
    result = reportgen("findings", academy, PETRA)
    assert (result.exit_code, result.stdout) == (1, "")
    problem, count = result.stderr.splitlines()
    assert problem.startswith(f"{sheet.relative_to(academy).as_posix()}:3:7: ")
    assert count == "1 problem."


def test_one_students_findings_do_not_wait_for_anothers_mend(academy: Path) -> None:
    break_sheet(academy, PETRA)
    assert reportgen("findings", academy, BETTINA).exit_code == 0


def test_signs_of_layout_in_a_sheet_are_shown_as_they_are(academy: Path) -> None:
    student = academy / "students" / PETRA / "student.yaml"
    student.write_text(
        student.read_text(encoding="utf-8").replace("Petra Lumsgate", '"Petra [/b] [red] :boom:"'), encoding="utf-8"
    )
    assert "Petra [/b] [red] :boom:" in " ".join(reportgen("findings", academy, PETRA).stdout.split())


def test_a_lesson_that_lies_ahead_is_a_warning(academy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796083200")  # 1 December 2026
    for day in ("2026-12-08", "2026-12-09"):
        (academy / "students" / PETRA / "lessons" / f"{day}.yaml").write_text(
            f"student: {PETRA}\ndate: {day}\nclub: 7-iron\n", encoding="utf-8"
        )
    result = reportgen("check", academy)
    assert result.exit_code == 0
    assert result.stderr.splitlines() == [
        f"warning: students/{PETRA}/lessons/2026-12-09.yaml: the day of this lesson is still to come. "
        "Look at its year and month."
    ]


# begin


def _ready(text: str) -> str:
    """A begun sheet of which its writer says that it is ready."""
    left = re.sub(r"(?m)^draft: true.*\n", "", text)
    assert left != text
    return left


def test_begin_takes_over_what_was_measured_last_time(academy: Path) -> None:
    result = reportgen("begin", academy, BETTINA, "2026-12-02")
    sheet = academy / "students" / BETTINA / "lessons" / "2026-12-02.yaml"
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"{sheet}\n", "")
    begun, last = (yaml.safe_load(s.read_text(encoding="utf-8")) for s in (sheet, sheets(academy, BETTINA)[-2]))
    assert (begun["student"], str(begun["date"]), begun["club"]) == (BETTINA, "2026-12-02", "8-iron")
    kept = ("metric", "unit", "how")
    assert [[r[k] for k in kept] for r in begun["readings"]] == [[r[k] for k in kept] for r in last["readings"]]
    assert {r["value"] for r in begun["readings"]} == {None}


@pytest.mark.parametrize(
    ("student", "says"),
    [
        (PETRA, "value has no value. Write it after value:."),
        ("annika-drosselby", "trials has no value. Write it after trials:."),
    ],
)
def test_a_begun_sheet_with_its_values_filled_in_is_sound(tmp_path: Path, student: str, says: str) -> None:
    academy = link_only(small_academy(tmp_path / "academy", student))
    reportgen("begin", academy, student, "2026-12-02")
    sheet = sheets(academy, student)[-1]
    text = sheet.read_text(encoding="utf-8")
    text = _ready(text)
    sheet.write_text(text, encoding="utf-8")
    unfilled = reportgen("check", academy)
    assert unfilled.exit_code == 1
    asked = "score has no value. Write it after score:."
    assert {line.split(": ")[-1] for line in unfilled.stderr.splitlines()[:-1]} - {asked} == {says}
    filled = (
        text.replace("score: ,", "score: 0,")
        .replace("value: ,", "value: 1.5,")
        .replace("trials: ,", "trials: [1.5, 1.6],")
    )
    sheet.write_text(filled, encoding="utf-8")
    assert reportgen("check", academy).stderr == ""
    assert reportgen("findings", academy, student, "2026-12-02").exit_code == 0


def test_begin_writes_what_is_followed_first(academy: Path) -> None:
    last = sheets(academy, BETTINA)[-1]
    measured = [r["metric"] for r in yaml.safe_load(last.read_text(encoding="utf-8"))["readings"]]
    with last.open("a", encoding="utf-8") as sheet:
        sheet.write(f"follow: [{measured[-1]}]\n")
    reportgen("begin", academy, BETTINA, "2026-12-02")
    begun = yaml.safe_load(sheets(academy, BETTINA)[-1].read_text(encoding="utf-8"))
    assert begun["follow"] == [measured[-1]]
    assert [r["metric"] for r in begun["readings"]] == [measured[-1], *measured[:-1]]


def test_begin_reminds_of_the_test_of_the_drill_that_was_given(tmp_path: Path) -> None:
    academy = link_only(small_academy(tmp_path / "academy", PETRA))
    reportgen("begin", academy, PETRA, "2026-12-02")
    sheet = sheets(academy, PETRA)[-1]
    text = sheet.read_text(encoding="utf-8")
    (line,) = re.findall(r"(?m)^  # (- \{date: 2026-12-02, minutes.*)$", text)
    assert "test: {drill: pendulum-swings, made: 7}" in line
    filled = _ready(text).replace(f"# {line}", line).replace("value: ,", "value: 1.5,").replace("score: ,", "score: 0,")
    sheet.write_text(filled, encoding="utf-8")
    assert reportgen("check", academy).stderr == ""


def test_begin_after_a_putting_lesson_asks_for_the_same_counts_and_names_nothing_of_the_full_swing(
    tmp_path: Path,
) -> None:
    academy = link_only(small_academy(tmp_path / "academy", "thea-marlbrook"))
    reportgen("begin", academy, "thea-marlbrook", "2026-12-02")
    sheet = sheets(academy, "thea-marlbrook")[-1]
    text = sheet.read_text(encoding="utf-8")
    begun = yaml.safe_load(text)
    assert (begun["kind"], begun["club"]) == ("putting", "putter")
    assert [(row["count"], row["made"], row.get("distance")) for row in begun["shots"]] == [
        ("distance-control", None, "6 m"), ("distance-control", None, "12 m"), ("holed", None, "2 m"),
        ("on-line", None, "0.5 m"),
    ]  # fmt: skip
    assert "{date: 2026-12-02, kind: short-game, minutes: 20, test: {drill: putter-along-a-stick, made: 7}}" in text
    filled = _ready(text).replace("made: ,", "made: 3,").replace("trials: ,", "trials: [1.5, 1.6],")
    filled = filled.replace("score: ,", "score: 0,")
    sheet.write_text(filled, encoding="utf-8")
    assert reportgen("check", academy).stderr == ""


def test_begin_offers_the_next_lesson_in_a_form_that_can_be_read(academy: Path) -> None:
    reportgen("begin", academy, BETTINA, "2026-12-02")
    begun = sheets(academy, BETTINA)[-1]
    plain = begun.read_text(encoding="utf-8").replace("# next_lesson:", "next_lesson:")
    offered = yaml.safe_load(plain)["next_lesson"]
    assert {name: str(value) for name, value in offered.items()} == {"date": "2026-12-09", "time": "17:00"}


def test_begin_reminds_of_what_was_seen_at_setup_last_time(academy: Path) -> None:
    last = sheets(academy, BETTINA)[-1]
    seen = ["- {what: grip, word: weak}", "- {what: aim, value: -4, unit: 'deg', club: driver}"]
    with last.open("a", encoding="utf-8") as sheet:
        sheet.writelines(["setup:\n", *(f"  {line}\n" for line in seen)])
    reportgen("begin", academy, BETTINA, "2026-12-02")
    text = sheets(academy, BETTINA)[-1].read_text(encoding="utf-8")
    assert yaml.safe_load(text)["setup"] is None
    assert [line.removeprefix("  # ") for line in text.splitlines() if "{what: " in line] == seen


def test_begin_for_somebody_new(academy: Path) -> None:
    new = academy / "students" / "nela-orchard"
    new.mkdir()
    (new / "student.yaml").write_text("name: Nela Orchard\nborn: 1990-01-01\nplays: left\n", encoding="utf-8")
    assert reportgen("begin", academy, "nela-orchard", "2026-12-02").exit_code == 0
    (sheet,) = (new / "lessons").iterdir()
    sheet.write_text(_ready(sheet.read_text(encoding="utf-8")), encoding="utf-8")
    assert reportgen("check", academy).stdout == "No problems: 3 students, 4 lessons.\n"


def test_begin_takes_today_at_the_academy(academy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796083200")  # 1 December 2026, midnight in Greenwich
    written = (academy / "academy.yaml").read_text(encoding="utf-8")
    (academy / "academy.yaml").write_text(written.replace("Europe/Lisbon", "America/Denver"), encoding="utf-8")
    assert reportgen("begin", academy, PETRA).stdout.endswith("2026-11-30.yaml\n")


def test_begin_never_overwrites(academy: Path) -> None:
    for name, says in (
        ("2026-12-02.yaml", ""),
        ("2026-12-02-2.yaml", "second of that day: 2026-12-02.yaml was there.\n"),
    ):
        begun = reportgen("begin", academy, PETRA, "2026-12-02")
        assert begun.stdout.endswith(f"{name}\n")
        assert begun.stderr.endswith(says)
        sheets(academy, PETRA)[-1].write_text("mine", encoding="utf-8")
        (academy / "students" / PETRA / "lessons" / name).write_text("mine", encoding="utf-8")
    before = contents(academy)
    assert "are there already" in _told(reportgen("begin", academy, PETRA, "2026-12-02"), 2)
    assert contents(academy) == before


@pytest.mark.parametrize("day", ["0001-01-01", "1899-12-31", "2100-01-01", "1980-05-05"])
def test_begin_refuses_a_day_on_which_there_was_no_lesson(academy: Path, day: str) -> None:
    before = contents(academy)
    assert f"{day} cannot be the day of a lesson" in _told(reportgen("begin", academy, PETRA, day), 2)
    assert contents(academy) == before


# recap


def test_recap_writes_one_pdf_here(academy: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    result = reportgen("recap", academy, BETTINA, "2026-10-28")
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"recap-{BETTINA}-2026-10-28.pdf\n", "")
    assert [name for name, data in contents(here).items() if data.startswith(b"%PDF-")] == [result.stdout.strip()]


def test_recap_is_the_published_one(academy: Path, tmp_path: Path) -> None:
    reportgen("publish", academy, "--to", tmp_path / "site", "--student", PETRA)
    reportgen("recap", academy, PETRA, "--to", tmp_path / "alone.pdf")
    (published,) = (tmp_path / "site").rglob("recap.pdf")
    assert (tmp_path / "alone.pdf").read_bytes() == published.read_bytes()


def test_recap_overwrites_no_sheet(academy: Path) -> None:
    before = contents(academy)
    said = _told(reportgen("recap", academy, PETRA, "--to", academy / "academy.yaml"), 2)
    assert said.endswith("is not the name of a PDF. Give one that ends in .pdf.")
    assert contents(academy) == before


@pytest.mark.parametrize("to", [".", "..", "/", "nowhere/recap.pdf"])
def test_recap_to_a_place_where_it_cannot_be(academy: Path, tmp_path: Path, to: str) -> None:
    assert _told(reportgen("recap", academy, PETRA, "--to", tmp_path / to), 2)
    assert list(tmp_path.glob(".*")) == []


# schema


@pytest.mark.parametrize("kind", KINDS)
def test_schema_is_json_schema(kind: str) -> None:
    schema = json.loads(reportgen("schema", kind).stdout)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize(
    ("kind", "files"),
    [("academy", "academy.yaml"), ("student", "students/*/student.yaml"), ("lesson", "students/*/lessons/*.yaml")],
)
def test_an_editor_with_the_schema_finds_nothing_wrong_in_the_demo(kind: str, files: str) -> None:
    validator = jsonschema.Draft202012Validator(json.loads(reportgen("schema", kind).stdout))
    found = sorted(DEMO.glob(files))
    assert found
    for file in found:
        written = json.loads(json.dumps(yaml.safe_load(file.read_text(encoding="utf-8")), default=str))
        assert [f"{error.json_path}: {error.message}" for error in validator.iter_errors(written)] == [], file


# mistakes


@pytest.mark.parametrize(
    "command",
    [("check",), ("publish", "--to", "site"), ("findings", PETRA), ("recap", PETRA), ("begin", PETRA)],
    ids=lambda command: command[0],
)
def test_a_folder_that_is_no_academy(tmp_path: Path, command: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "empty").mkdir()
    name, *rest = command
    assert _told(reportgen(name, "nowhere", *rest), 2).startswith("nowhere is not a folder.")
    assert _told(reportgen(name, "empty", *rest), 2).startswith("empty holds no academy.yaml.")
    assert list(tmp_path.iterdir()) == [tmp_path / "empty"]


@pytest.mark.parametrize("command", ["findings", "recap", "begin"])
def test_a_misspelt_student(academy: Path, command: str) -> None:
    said = _told(reportgen(command, academy, "petra-lumgate"), 2)
    assert said == "There is no student petra-lumgate. Did you mean petra-lumsgate?"


def test_a_misspelt_student_to_publish(academy: Path, tmp_path: Path) -> None:
    said = _told(reportgen("publish", academy, "--to", tmp_path / "site", "--student", "betina-haloran"), 2)
    assert said == "There is no student betina-haloran. Did you mean bettina-halloran?"
    assert not (tmp_path / "site").exists()


@pytest.mark.parametrize("command", ["findings", "recap"])
def test_a_date_without_a_lesson(academy: Path, command: str) -> None:
    said = _told(reportgen(command, academy, BETTINA, "2026-11-19"), 2)
    assert said == "bettina-halloran has no lesson 2026-11-19. Did you mean 2026-11-18?"


@pytest.mark.parametrize("command", ["findings", "recap"])
def test_a_student_without_lessons(academy: Path, command: str) -> None:
    sheets(academy, PETRA)[0].unlink()
    assert _told(reportgen(command, academy, PETRA), 2).startswith("petra-lumsgate has no lesson yet.")


@pytest.mark.parametrize("epoch", ["tomorrow", "²", "99999999999999999999", "-99999999999999"])
def test_a_build_day_that_is_none(academy: Path, epoch: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    assert _told(reportgen("begin", academy, PETRA), 2).startswith(f"SOURCE_DATE_EPOCH is {epoch}.")


ODD = ["", ".", "/", "-", "a\nb", "[bold]", "\udcff", "ä" * 300, "../../etc", "2026-13-45"]


@pytest.mark.parametrize("odd", ODD)
@pytest.mark.parametrize(
    "command",
    [
        ("check", "ODD"), ("findings", "ODD", PETRA), ("findings", "ACADEMY", "ODD"),
        ("findings", "ACADEMY", PETRA, "ODD"), ("recap", "ACADEMY", "ODD"), ("recap", "ACADEMY", PETRA, "ODD"),
        ("begin", "ACADEMY", "ODD"), ("begin", "ACADEMY", PETRA, "ODD"), ("schema", "ODD"), ("ODD",),
        ("publish", "ACADEMY", "--to", "site", "--student", "ODD"),
        ("publish", "ACADEMY", "--to", "site", "--jobs", "ODD"), ("publish", "ODD", "--to", "site"),
    ],
    ids=" ".join,
)  # fmt: skip
def test_nothing_typed_gives_a_traceback(
    academy: Path, command: tuple[str, ...], odd: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(academy.parent)
    before = contents(academy)
    result = reportgen(*({"ODD": odd, "ACADEMY": "academy"}.get(word, word) for word in command))
    assert result.exit_code == 2
    assert result.stderr
    assert contents(academy) == before


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-8"])
def test_a_terminal_that_lacks_signs_still_gets_the_report(academy: Path, encoding: str) -> None:
    command = [sys.executable, "-m", "reportgen", "findings", academy, PETRA]
    settings = {**os.environ, "PYTHONIOENCODING": encoding}
    done = subprocess.run(command, cwd=ROOT, env=settings, capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"Petra Lumsgate" in done.stdout
