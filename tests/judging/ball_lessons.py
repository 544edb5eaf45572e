"""Lessons with a table of invented shots, as the student is told them."""

from collections.abc import Mapping
from pathlib import Path

from reportgen.pipeline import load
from reportgen.records.told import ToldLesson
from tests.judging.academies import ADULT, ID, sheet, tell_folder, write_academy

FILE = "shots.csv"
SIDED = {"start-direction": "start", "face-angle": "face", "club-path": "path"}


def columns(plus: str = "right of target") -> str:
    """The map of the table's columns, for academy.yaml."""
    lines = [f"  {word}: {{column: {name}, unit: deg, plus: {plus}}}" for word, name in SIDED.items()]
    more = ["  carry: {column: carry, unit: m}", f"  side: {{column: side, unit: m, plus: {plus}}}"]
    return "\n".join(["columns:", *lines, *more, ""])


def shots(start: float, face: float, path: float, carry: float, side: float, turned: int = 1) -> str:
    """A table of ten shots about these averages, with a scatter that is the same each time; `turned` -1 mirrors it."""
    rows = ["start,face,path,carry,side"]
    for k in range(10):
        swing, hand = (k % 5 - 2) * 0.6, (-1) ** k * 0.5
        lateral = (start + swing + hand / 3, face + swing - hand, path - swing / 3 + hand, side + 4 * swing)
        one, two, three, four = (turned * value for value in lateral)
        rows.append(f"{one:.1f},{two:.1f},{three:.1f},{carry + 3 * hand:.1f},{four:.1f}")
    return "\n".join(rows) + "\n"


def with_shots(
    root: Path, table: str, readings: str = "", more: str = "", plays: str = "right", student: str = ADULT
) -> ToldLesson:
    """A lesson with this table and these readings, as the student is told it."""
    names = {"2026-03-05": sheet(readings, f"shots_from:\n  - {{file: ../{FILE}}}\n{more}")}
    return told(root, names, {FILE: table}, plays, student)[-1]


def told(
    root: Path, lessons: Mapping[str, str], files: Mapping[str, str], plays: str = "right", student: str = ADULT
) -> list[ToldLesson]:
    """Lessons with files beside their student, as the student is told them."""
    write_academy(root, lessons, student)
    written = root / "students" / ID / "student.yaml"
    written.write_text(written.read_text(encoding="utf-8").replace("plays: right", f"plays: {plays}"), encoding="utf-8")
    for name, text in files.items():
        (written.parent / name).write_text(text, encoding="utf-8")
    academy = root / "academy.yaml"
    academy.write_text(academy.read_text(encoding="utf-8") + columns(), encoding="utf-8")
    folder = load(root)
    assert [str(problem) for problem in folder.problems] == []
    return list(tell_folder(folder))
