"""A small invented academy on disk, read and judged by the program with the library that it ships."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from reportgen.pipeline import load, reports_of
from reportgen.records.report import LessonReport
from reportgen.records.told import ToldFinding, ToldLesson
from reportgen.saying.readers import reader_of
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import AcademyFolder, sound
from reportgen.sheets.library import Library, load_library
from reportgen.sheets.shipped import shipped

ACADEMY = """\
name: Invented Green
instructor: {name: Invented Teacher}
secret: an invented phrase that stands in tests alone
"""
ADULT = "born: 1986-05-01"
SENIOR = "born: 1958-05-01"
JUNIOR = "born: 2013-05-01"
STIFF = "mobility: {lead-hip: restricted}"
ID = "ines-invented"


def write_academy(root: Path, lessons: Mapping[str, str], student: str = ADULT) -> Path:
    """An academy with one student. `lessons` maps the name of a sheet to its text, of which `student`, `date` and a
    7-iron need not be written; `student` is the text of student.yaml without name and side."""
    folder = root / "students" / ID
    (folder / "lessons").mkdir(parents=True, exist_ok=True)
    (root / "academy.yaml").write_text(ACADEMY, encoding="utf-8")
    (folder / "student.yaml").write_text(f"name: Ines Invented\nplays: right\n{student}\n", encoding="utf-8")
    for name, text in lessons.items():
        club = "" if "club:" in text else "club: 7-iron\n"
        sheet = f"student: {ID}\ndate: {name[:10]}\n{club}{text}\n"
        (folder / "lessons" / f"{name}.yaml").write_text(sheet, encoding="utf-8")
    return root


def judge_folder(academy: AcademyFolder, student: str = ID) -> tuple[LessonReport, ...]:
    """Every lesson of a student of an academy that has been read."""
    return reports_of(academy.students[student], sound(academy), academy.students)


def tell_folder(academy: AcademyFolder, student: str = ID) -> tuple[ToldLesson, ...]:
    """Every lesson of a student of an academy that has been read, as the student is told it."""
    reader = reader_of(academy.students[student].student, sound(academy))
    return tell_all(judge_folder(academy, student), academy.library, reader)


def judged(root: Path, lessons: Mapping[str, str], student: str = ADULT) -> tuple[ToldLesson, ...]:
    """The lessons of the student of `write_academy`, as the student is told them."""
    academy = load(write_academy(root, lessons, student))
    assert [str(problem) for problem in academy.problems] == []
    return tell_folder(academy)


def one(root: Path, readings: str, student: str = ADULT, more: str = "") -> ToldLesson:
    """A single lesson with these readings, as the student is told it."""
    return judged(root, {"2026-03-05": sheet(readings, more)}, student)[0]


def sheet(*parts: str) -> str:
    """A lesson's text: the readings (lines of `reading`), then whatever else."""
    readings, *more = parts
    return "\n".join([f"readings:\n{readings}" if readings else "", *more])


def reading(metric: str, value: float, unit: str = "deg", how: str = "sensor", u: float | None = None) -> str:
    """One line of `readings:`."""
    own = "" if u is None else f", u: {u:.9f}"
    return f"  - {{metric: {metric}, value: {value:.6f}, unit: {unit}, how: {how}{own}}}\n"


def finding_of(report: ToldLesson, metric: str) -> ToldFinding:
    """The finding of one metric."""
    return next(finding for finding in report.findings if finding.metric == metric)


@cache
def library() -> Library:
    """The shipped library."""
    found, problems = load_library(shipped("content"), Path("no-academy"))
    assert problems == []
    return found
