"""What is followed: by the sheet, by student.yaml, or else what was worked on; and how a page shows it."""

from pathlib import Path

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import ADULT, judge_folder, reading, sheet, tell_folder, write_academy

OPEN, BEND, LIFT = "pelvis-open-impact", "side-bend-impact", "trail-heel-lift-impact"
MEASURED = reading(OPEN, 44) + reading(BEND, 31) + reading(LIFT, 3, "cm")
DAYS = ("2026-03-05", "2026-03-12")


def followed(root: Path, *more: str, student: str = ADULT) -> list[tuple[str, ...]]:
    """What each lesson follows; `more` stands at the end of their sheets."""
    lessons = {day: sheet(MEASURED, text) for day, text in zip(DAYS, more, strict=False)}
    return [report.followed for report in judge_folder(load(write_academy(root, lessons, student)))]


def test_a_first_lesson_follows_nothing_that_nobody_named(tmp_path):
    assert followed(tmp_path, "") == [()]


def test_what_the_last_lesson_worked_on_is_followed(tmp_path):
    assert followed(tmp_path, f"priorities: [{BEND}, {OPEN}]", "")[1] == (BEND, OPEN)


def test_the_student_file_goes_before_what_was_worked_on(tmp_path):
    student = f"{ADULT}\nfollow: [{LIFT}]"
    assert followed(tmp_path, f"priorities: [{BEND}]", "", student=student) == [(LIFT,), (LIFT,)]


def test_the_sheet_goes_before_the_student_file(tmp_path):
    student = f"{ADULT}\nfollow: [{LIFT}]"
    assert followed(tmp_path, f"follow: [{OPEN}, {BEND}]", "", student=student) == [(OPEN, BEND), (LIFT,)]


def test_what_was_not_measured_this_time_is_left_out(tmp_path):
    assert followed(tmp_path, "follow: [tempo-ratio, side-bend-impact]") == [(BEND,)]


def page_of(root: Path, more: str) -> str:
    folder = load(write_academy(root, {DAYS[0]: sheet(MEASURED, more)}))
    return student_site(tell_folder(folder), sound(folder), recaps=False)[f"{DAYS[0]}/index.html"].decode()


def test_what_is_followed_heads_the_page_with_its_picture_and_the_rest_has_a_line_each(tmp_path):
    page = page_of(tmp_path, f"follow: [{LIFT}]")
    first, rest = page.index("In focus"), page.index("All the rest")
    lift, bend = (page.index(f">{short}<", first) for short in ("Trail heel lift", "Side bend"))
    assert first < lift < rest < bend
    assert page.count('<td class="pic">') == 1


def test_where_nothing_is_followed_every_metric_has_its_picture(tmp_path):
    page = page_of(tmp_path, "")
    assert "In focus" not in page
    assert page.count('<td class="pic">') == 3
