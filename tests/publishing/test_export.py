"""One person gets all that is held about them, and nothing of anybody else."""

import csv
import json
import re
import shutil
import stat
import zipfile
from io import BytesIO, StringIO
from pathlib import Path

import pikepdf
import pytest

from reportgen.personal_data.others import without_others
from reportgen.records.told import ToldLesson
from tests.languages.conftest import english_pieces, speak
from tests.publishing.small import HENRIK, MIRO, PETRA, ROOT, break_sheet, contents, reportgen, sheets, small_academy
from tests.site.published import pdf_text


@pytest.fixture(scope="module")
def _mailed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Henrik, whose lesson is compared with his son's, and Miro; both mailed into the outbox."""
    academy = small_academy(tmp_path_factory.mktemp("export") / "academy", MIRO, HENRIK, PETRA, lessons=1)
    assert reportgen("send", academy).exit_code == 0
    return academy


@pytest.fixture
def academy(_mailed: Path, tmp_path: Path) -> Path:
    shutil.copytree(_mailed.parent, tmp_path / "home")
    return tmp_path / "home" / "academy"


def exported(academy: Path, student: str, code: int = 0) -> dict[str, bytes]:
    """The files of an export by their paths in it."""
    to = academy.parent / f"{student}.zip"
    done = reportgen("export", academy, student, "--to", to)
    assert (done.exit_code, done.stdout) == (code, f"{to}\n")
    with zipfile.ZipFile(to) as archive:
        assert archive.testzip() is None
        assert all(name.startswith(f"{student}/") for name in archive.namelist())
        return {name.removeprefix(f"{student}/"): archive.read(name) for name in archive.namelist()}


def test_it_holds_the_folder_the_values_the_lessons_the_recaps_and_the_mails(academy: Path) -> None:
    files = exported(academy, MIRO)
    folder = {f"folder/{name}": data for name, data in contents(academy / "students" / MIRO).items()}
    pictures = {name: data for name, data in folder.items() if name.endswith((".png", ".webp"))}
    assert len([name for name in pictures if name.startswith("folder/swings/")]) == 3
    assert {name: files.get(name) for name in pictures} == pictures
    (mail,) = (name for name in files if name.startswith("mails/"))
    lesson = "2026-11-14"
    made = {f"lessons/{lesson}.json", f"recaps/{lesson}.pdf", "values.csv", "mails.csv", "README.txt", mail}
    assert files.keys() == folder.keys() | made
    report = ToldLesson.model_validate_json(files[f"lessons/{lesson}.json"])
    assert report.student == MIRO
    values = list(csv.DictReader(StringIO(files["values.csv"].decode())))
    assert [value["metric"] for value in values] == [finding.metric for finding in report.findings]
    (went,) = csv.DictReader(StringIO(files["mails.csv"].decode()))
    assert (went["lesson"], went["state"], went["address"]) == (lesson, "sent", "henrik.tavenhall@example.org")
    assert "Dear Henrik Tavenhall," in files[mail].decode()
    assert b"values.csv" in files["README.txt"]
    assert b"You have no passphrase." in files["README.txt"]


def test_it_has_nothing_of_anybody_else(academy: Path) -> None:
    of_miro = academy / "students" / MIRO
    pictures = {file.read_bytes() for shown in ("stills", "swings") for file in (of_miro / shown).iterdir()}
    files = exported(academy, HENRIK)
    assert pictures & set(files.values()) == set()
    assert [name for name, data in files.items() if MIRO.encode() in data or b"Miro" in data] == []
    assert "student: another-student" in files["folder/lessons/2026-11-14.yaml"].decode()
    assert "shares_with: [another-student]" in files["folder/student.yaml"].decode()
    recap = BytesIO(files["recaps/2026-11-14.pdf"])
    (academy.parent / "recap.pdf").write_bytes(recap.getvalue())
    assert "Learning alongside" not in pdf_text(academy.parent / "recap.pdf")
    lesson = json.loads(files["lessons/2026-11-14.json"])
    for shown in (lesson["pictures"], lesson["swings"]):
        assert shown
        assert all(one["beside"] is None for one in shown)


def test_after_leave_was_taken_back_they_get_their_pictures_and_no_lesson_shows_one(academy: Path) -> None:
    student = academy / "students" / HENRIK / "student.yaml"
    text = student.read_text(encoding="utf-8")
    student.write_text(re.sub(r"(?m)^(pictures: \{.*)\}$", r"\1, withdrawn_on: 2026-11-20}", text), encoding="utf-8")
    files = exported(academy, HENRIK)
    lesson = json.loads(files["lessons/2026-11-14.json"])
    assert [one["still"] for one in lesson["pictures"]] == [None] * 6
    assert [one["swing"] for one in lesson["swings"]] == [None] * 2
    with pikepdf.open(BytesIO(files["recaps/2026-11-14.pdf"])) as recap:
        # The drills and charts of a recap are drawn; what else it has of pictures would be the student's.
        assert [page for page in recap.pages if page.get_images()] == []
    assert [name for name in files if name.startswith("folder/swings/")] == [
        f"folder/swings/2026-11-14-{view}.webp" for view in ("dtl", "fo")
    ]


def test_a_picture_that_lies_in_anothers_folder_is_left_out(academy: Path) -> None:
    (sheet,) = sheets(academy, HENRIK)
    text = sheet.read_text(encoding="utf-8")
    sheet.write_text(
        text.replace("../stills/2026-11-14-top-fo.png", f"../../{MIRO}/stills/2026-11-14-top-fo.png"), encoding="utf-8"
    )
    files = exported(academy, HENRIK)
    report = json.loads(files["lessons/2026-11-14.json"])
    assert [p["still"]["file"] for p in report["pictures"] if p["still"] and HENRIK not in p["still"]["file"]] == []
    assert b"../../another-student/stills/" in files["folder/lessons/2026-11-14.yaml"]


def test_the_same_files_give_the_same_bytes_for_their_owner_alone(academy: Path) -> None:
    to = academy.parent / f"{PETRA}.zip"
    to.touch(0o644)
    exported(academy, PETRA)
    first = to.read_bytes()
    exported(academy, PETRA)
    assert to.read_bytes() == first
    assert stat.S_IMODE(to.stat().st_mode) == 0o600
    assert [path for path in academy.parent.iterdir() if path.name.endswith(".new")] == []


def test_it_names_no_place_of_this_machine(academy: Path) -> None:
    machine = [str(academy).encode(), str(academy.parent).encode(), str(ROOT).encode()]
    for name, data in exported(academy, MIRO).items():
        assert [place for place in machine if place in data] == [], name


def test_with_problems_in_the_sheets_the_rest_is_there_and_that_is_said(academy: Path) -> None:
    break_sheet(academy, PETRA)
    files = exported(academy, PETRA, code=1)
    assert {name.split("/")[0] for name in files} == {"folder", "mails", "mails.csv", "README.txt"}
    assert b"There are no judged lessons here" in files["README.txt"]
    (academy / "academy.yaml").write_text("name: [\n", encoding="utf-8")
    assert "folder/student.yaml" in exported(academy, PETRA, code=1)


def test_links_are_left_out_and_told(academy: Path) -> None:
    (academy / "students" / PETRA / "elsewhere").symlink_to("/etc")
    (academy / "students" / PETRA / "passwords.txt").symlink_to("/etc/passwd")
    done = reportgen("export", academy, PETRA, "--to", academy.parent / "petra.zip")
    assert done.exit_code == 0
    assert done.stderr.splitlines() == [
        f"left out {name}: a link, or a file that cannot be read" for name in ("elsewhere", "passwords.txt")
    ]
    with zipfile.ZipFile(academy.parent / "petra.zip") as archive:
        assert not any(b"root:" in archive.read(name) for name in archive.namelist())


@pytest.mark.parametrize(
    ("student", "to", "says"),
    [
        (PETRA, "{academy}/petra.zip", "lies in the academy"),
        (PETRA, "{academy}/../petra", "is not the name of an archive"),
        ("petra-lumgate", "{academy}/../petra.zip", "Did you mean petra-lumsgate?"),
    ],
)
def test_what_cannot_be_done_is_told(academy: Path, student: str, to: str, says: str) -> None:
    before = contents(academy.parent)
    done = reportgen("export", academy, student, "--to", to.format(academy=academy))
    assert (done.exit_code, done.stdout) == (2, "")
    assert says in done.stderr
    assert contents(academy.parent) == before


@pytest.mark.parametrize("code", ["de", "fr"])
def test_the_readme_speaks_the_students_language(academy: Path, code: str) -> None:
    speak(academy, code)
    said = " ".join(exported(academy, MIRO)["README.txt"].decode().split())
    assert "Miro Tavenhall" in said
    assert [piece for piece in english_pieces(code) if piece in said] == []


def test_forget_leaves_an_export_to_the_instructor_and_names_it(academy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    exported(academy, MIRO)
    monkeypatch.chdir(academy.parent)
    done = reportgen("forget", academy, MIRO)
    assert f"  {academy.parent / MIRO}.zip: what you exported for them; delete it when they have it" in (
        done.stdout.splitlines()
    )


@pytest.mark.parametrize(
    ("written", "without"),
    [
        ("shares_with: [will, mara-l]", "shares_with: [another-student, another-student]"),
        (
            "shares_with:\n  - will\n  - 'jo'\nnotes: Will will.",
            "shares_with:\n  - another-student\n  - 'jo'\nnotes: Will will.",
        ),
        ("compare: {date: 2026-01-01, student: 'will'}", "compare: {date: 2026-01-01, student: 'another-student'}"),
        ("compare:\n  student: mara-l", "compare:\n  student: another-student"),
        ("file: ../../will/stills/will.png", "file: ../../another-student/stills/will.png"),
        ("notes: you will see, as mara-l does.", "notes: you will see, as another-student does."),
        ("notes: mara-l-2 and x-mara-l stay", "notes: mara-l-2 and x-mara-l stay"),
        ("shares_with: [will", "shares_with: [will"),
        ("shares_with: {a: will}\ncompare: [will]", "shares_with: {a: will}\ncompare: [will]"),
    ],
)
def test_ids_of_others_are_taken_out_of_sheets_and_words_stay(written: str, without: str) -> None:
    assert without_others(written.encode(), ["will", "mara-l"]).decode() == without


def test_it_holds_the_second_looks_at_their_pictures_alone(academy: Path) -> None:
    """A round has the pictures of several students."""
    rounds = academy / "rounds"
    rounds.mkdir()
    picture = '    lesson: 2026-11-14\n    file: "../stills/2026-11-14-top-fo.png"\n    marks:\n      neck: [9, 9]\n'
    entry = f"  - student: {{}}\n{picture}"
    text = f"date: 2026-11-28\nstills:\n{entry.format(MIRO)}{entry.format(HENRIK)}"
    (rounds / "2026-11-28.yaml").write_text(text, encoding="utf-8")
    files = exported(academy, HENRIK)
    assert files["rounds/2026-11-28.yaml"].decode() == f"date: 2026-11-28\nstills:\n{entry.format(HENRIK)}"
    assert b"rounds/" in files["README.txt"]
    assert "rounds/2026-11-28.yaml" not in exported(academy, PETRA)
