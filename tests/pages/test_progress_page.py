"""The progress page: every metric that was ever measured, with its longest course."""

from pathlib import Path

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import reading, sheet, tell_folder, write_academy

OPEN, BEND = "pelvis-open-impact", "side-bend-impact"


def page_of(root: Path, lessons: dict[str, str]) -> tuple[str, set[str]]:
    """The page, and the names of all files of the student's area."""
    folder = load(write_academy(root, lessons))
    files = student_site(tell_folder(folder), sound(folder), recaps=False)
    return files["progress.html"].decode(), set(files)


def test_a_metric_that_the_latest_lesson_left_out_is_still_there_with_its_day(tmp_path):
    lessons = {"2026-03-05": sheet(reading(OPEN, 60) + reading(BEND, 30)), "2026-03-12": sheet(reading(OPEN, 58))}
    page, _ = page_of(tmp_path, lessons)
    assert "Side bend at impact" in page
    assert "Last measured this way on 5 March 2026." in page
    assert "<title>Side bend at impact, one lesson on 5 March 2026" in page


def test_a_first_lesson_with_another_club_does_not_hide_the_course_before_it(tmp_path):
    irons = {f"2026-03-{day:02}": sheet(reading(OPEN, 60)) for day in (5, 12)}
    page, _ = page_of(tmp_path, {**irons, "2026-03-19": sheet(reading(OPEN, 50), "club: driver")})
    assert "Last measured this way on 12 March 2026." in page
