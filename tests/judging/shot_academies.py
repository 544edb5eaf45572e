"""An invented academy whose lessons have tables of shots, read, judged and told by the program."""

from collections.abc import Mapping, Sequence
from math import cos, pi, sin, sqrt
from pathlib import Path

from reportgen.pipeline import load
from reportgen.records.told import ToldLesson
from tests.judging.academies import ADULT, ID, tell_folder, write_academy

COLUMNS = {
    "start-direction": "{column: Start, unit: deg, plus: right of target}",
    "club-path": "{column: Path, unit: deg, plus: right of target}",
    "face-angle": "{column: Face, unit: deg, plus: right of target}",
    "carry": "{column: Carry, unit: m}",
    "side": "{column: Side, unit: m, plus: right of target}",
    "strike-across": "{column: Across, unit: mm, plus: toward the toe}",
    "strike-up": "{column: Up, unit: mm}",
}
LATERAL = ("start-direction", "club-path", "face-angle", "side")
Rows = Sequence[Mapping[str, float]]


def told(
    root: Path, tables: Mapping[str, Rows], *, plays: str = "right", student: str = ADULT, more: str = ""
) -> tuple[ToldLesson, ...]:
    """A lesson with a table for each day. A row is what a right-handed player hits, + to the right of the target; for
    who plays left-handed all of it is mirrored. `more` follows in each entry of `shots_from`."""
    lessons = {}
    for day, rows in tables.items():
        columns = "\n".join(f"      {word}: {COLUMNS[word]}" for word in rows[0])
        lessons[day] = f"club: 7-iron\nshots_from:\n  - file: ../{day}.csv\n    columns:\n{columns}\n{more}"
    folder = write_academy(root, lessons, student) / "students" / ID
    for day, rows in tables.items():
        (folder / f"{day}.csv").write_text(_csv(rows, 1 if plays == "right" else -1), encoding="utf-8")
    person = folder / "student.yaml"
    person.write_text(person.read_text(encoding="utf-8").replace("plays: right", f"plays: {plays}"), encoding="utf-8")
    academy = load(root)
    assert [str(problem) for problem in academy.problems] == []
    return tell_folder(academy)


def _csv(rows: Rows, hand: int) -> str:
    words = list(rows[0])
    lines = [";".join(COLUMNS[word].split(",")[0].removeprefix("{column: ").strip("}") for word in words)]
    lines += [";".join(f"{row[word] * (hand if word in LATERAL else 1):.2f}" for word in words) for row in rows]
    return "\n".join(lines) + "\n"


def landing(*places: tuple[float, float]) -> list[dict[str, float]]:
    """Rows of (side, carry), m."""
    return [{"side": side, "carry": carry} for side, carry in places]


def about(n: int, side: float = 0.0, carry: float = 140.0, wide: float = 8.0) -> list[dict[str, float]]:
    """`n` landing places about a centre, as seeds stand in a flower: to no side more than to others."""
    ways = [(wide * sqrt(2 * k / n), k * pi * (3 - sqrt(5))) for k in range(n)]
    return landing(*((side + away * cos(turn), carry + away * sin(turn)) for away, turn in ways))


def full(n: int, **centre: float) -> list[dict[str, float]]:
    """The same with start, path, face and strike: every column that something is told of."""
    return [
        {
            **row,
            "start-direction": 2.5 + row["side"] / 10,
            "club-path": -2.0 + (k % 5) / 3,
            "face-angle": 2.0 + row["side"] / 8 + (k % 3) / 2,
            "strike-across": -12.0 + (k % 4),
            "strike-up": 2.0 - (k % 7),
        }
        for k, row in enumerate(about(n, **centre))
    ]


def days(count: int) -> list[str]:
    """So many days of lessons, a week apart."""
    return [f"2026-{3 + k // 4:02}-{1 + 7 * (k % 4):02}" for k in range(count)]
