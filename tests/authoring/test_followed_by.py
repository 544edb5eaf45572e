"""Which metrics are in focus while the pictures of a student are marked."""

from pathlib import Path

import pytest

from reportgen.authoring.followed import followed_by
from reportgen.sheets.loading import load
from tests.judging.academies import ID, reading, sheet, write_academy

CLOSED = reading("pelvis-closed-top", 70.0)
BEGUN = sheet("  - {metric: pelvis-closed-top, value: , unit: deg, how: by-eye}\n")


def followed(root: Path, lessons: dict[str, str], student: str = "born: 1986-05-01") -> tuple[str, ...]:
    return followed_by(load(write_academy(root / "academy", lessons, student)), ID)


def test_what_the_last_sheet_follows(tmp_path: Path) -> None:
    lessons = {"2026-03-05": "follow: [side-bend-impact]", "2026-03-12": "follow: [pelvis-closed-top]"}
    assert followed(tmp_path, lessons, "born: 1986-05-01\nfollow: [lead-hip-rise]") == ("pelvis-closed-top",)


def test_otherwise_what_the_student_file_follows(tmp_path: Path) -> None:
    lessons = {"2026-03-05": sheet(CLOSED)}
    assert followed(tmp_path, lessons, "born: 1986-05-01\nfollow: [lead-hip-rise]") == ("lead-hip-rise",)


def test_otherwise_what_the_last_lesson_gave_to_work_on(tmp_path: Path) -> None:
    assert followed(tmp_path, {"2026-03-05": sheet(CLOSED, "priorities: [pelvis-closed-top]")}) == (
        "pelvis-closed-top",
    )


def test_a_sheet_that_is_not_finished_says_what_it_follows(tmp_path: Path) -> None:
    lessons = {"2026-03-05": "follow: [lead-hip-rise]", "2026-03-12": f"follow: [side-bend-impact]\n{BEGUN}"}
    assert followed(tmp_path, lessons) == ("side-bend-impact",)


def test_a_sheet_that_is_not_finished_leaves_what_was_worked_on(tmp_path: Path) -> None:
    lessons = {"2026-03-05": sheet(CLOSED, "priorities: [pelvis-closed-top]"), "2026-03-12": BEGUN}
    assert followed(tmp_path, lessons) == ("pelvis-closed-top",)


def test_without_a_lesson_nothing_is(tmp_path: Path) -> None:
    assert followed(tmp_path, {}) == ()


@pytest.mark.parametrize("broken", ["academy.yaml", f"students/{ID}/student.yaml"])
def test_what_cannot_be_read_names_nothing(tmp_path: Path, broken: str) -> None:
    academy = write_academy(tmp_path / "academy", {"2026-03-05": sheet(CLOSED, "priorities: [pelvis-closed-top]")})
    (academy / broken).write_text("name: [", encoding="utf-8")
    assert followed_by(load(academy), ID) == ()
