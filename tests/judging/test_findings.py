"""From a reading to a finding: what is compared with what, what is said of it, and in which order."""

import random

import pytest

from reportgen.pipeline import load
from tests.judging.academies import (
    ACADEMY,
    ADULT,
    JUNIOR,
    finding_of,
    judge_folder,
    judged,
    one,
    reading,
    sheet,
    write_academy,
)

HIPS = "pelvis-open-impact"


def open_by(value, u=1.0):
    return sheet(reading(HIPS, value, u=u))


def test_the_first_lesson_has_no_change(tmp_path):
    found = finding_of(judged(tmp_path, {"2026-03-05": open_by(70)})[0], HIPS)
    assert (found.change, found.course) == (None, None)


def test_the_second_lesson_is_compared_with_the_first_and_says_it_once(tmp_path):
    second = judged(tmp_path, {"2026-03-05": open_by(70), "2026-03-12": open_by(62)})[1]
    found = finding_of(second, HIPS)
    assert (str(found.change.since), found.change.before, found.change.by) == ("2026-03-05", 70, -8)
    assert found.course is None


def test_a_later_lesson_is_compared_with_the_last_and_with_the_first(tmp_path):
    lessons = {"2026-03-05": open_by(85), "2026-03-12": open_by(66), "2026-03-19": open_by(66.5)}
    found = finding_of(judged(tmp_path, lessons)[2], HIPS)
    assert (found.change.before, found.change.by) == (66, 0.5)
    assert (str(found.course.since), found.course.lessons) == ("2026-03-05", 3)


def test_a_lesson_without_the_metric_is_passed_over(tmp_path):
    lessons = {"2026-03-05": open_by(70), "2026-03-12": sheet(reading("tempo-ratio", 3, '"1"')),
               "2026-03-19": open_by(60)}  # fmt: skip
    assert str(finding_of(judged(tmp_path, lessons)[2], HIPS).change.since) == "2026-03-05"


def test_only_lessons_with_a_club_of_the_same_family_are_compared(tmp_path):
    clubs = ["7-iron", "driver", "9-iron", "pitching-wedge"]
    lessons = {
        f"2026-03-{day:02}": f"club: {club}\n{open_by(70 - day)}" for day, club in zip((5, 6, 7, 8), clubs, strict=True)
    }
    iron, driver, other_iron, wedge = (finding_of(report, HIPS) for report in judged(tmp_path, lessons))
    assert (iron.change, driver.change, wedge.change) == (None, None, None)
    assert str(other_iron.change.since) == "2026-03-05"


def test_the_order_is_that_of_the_swing_whatever_the_order_of_the_sheet(tmp_path):
    lines = [
        reading("tempo-ratio", 3, '"1"'), reading("pelvis-shift-impact", 5, "cm"), reading(HIPS, 45),
        reading("knee-flex-transition", 12), reading("pelvis-closed-top", 45),
        reading("seat-forward-delivery", 1, "cm"),
    ]  # fmt: skip
    random.Random(7).shuffle(lines)
    report = one(tmp_path, "".join(lines))
    moments = [finding.checkpoint for finding in report.findings]
    assert moments == ["top", "transition", "delivery", "impact", "impact", "whole-swing"]


def test_what_lies_behind_a_value_is_said_on_the_side_where_it_lies(tmp_path):
    lines = [reading(HIPS, 75, u=1), reading("pelvis-closed-top", 45, u=1), reading("thorax-closed-top", 50, u=1)]
    report = one(tmp_path, "".join(lines))
    assert finding_of(report, HIPS).means.startswith("Often the hips run ahead")
    assert finding_of(report, "pelvis-closed-top").means is None
    assert finding_of(report, "thorax-closed-top").means is not None


def test_the_instructors_note_comes_before_the_programs_own(tmp_path):
    line = f"  - {{metric: {HIPS}, value: 40, unit: deg, how: by-eye, note: filmed in low sun}}\n"
    assert finding_of(one(tmp_path, line, JUNIOR), HIPS).note.startswith(
        "filmed in low sun While you grow we set no range here"
    )


@pytest.mark.parametrize(("certainty", "verdict"), [(0.7, "in range"), (0.9, "too close to call")])
def test_the_academys_certainty_decides_how_sure_a_verdict_must_be(tmp_path, certainty, verdict):

    root = write_academy(tmp_path, {"2026-03-05": open_by(52, u=3.5)}, ADULT)  # p = 0.80
    (root / "academy.yaml").write_text(f"{ACADEMY}certainty: {certainty}\n", encoding="utf-8")
    assert finding_of(judge_folder(load(root))[0], HIPS).verdict == verdict


def test_a_player_under_18_is_named_by_first_name_alone(tmp_path):
    grown, minor = (one(tmp_path / part, open_by(45).removeprefix("readings:\n"), born).person
                    for part, born in (("grown", ADULT), ("minor", JUNIOR)))  # fmt: skip
    assert (grown.name, minor.name) == ("Ines Invented", "Ines")
    assert "2013" not in minor.model_dump_json()


def test_only_values_taken_in_the_same_way_are_compared_and_the_report_says_so(tmp_path):
    by_eye = sheet(reading(HIPS, 70, how="by-eye"))
    lessons = {"2026-03-05": open_by(75), "2026-03-12": by_eye, "2026-03-19": open_by(62)}
    reports = judged(tmp_path, lessons)
    first, second, third = (finding_of(report, HIPS) for report in reports)
    assert (first.not_compared, second.change) == (None, None)
    assert (second.not_compared.how, third.not_compared.how) == ("sensor", "by-eye")
    assert third.change.before == 75
    said = [report.progress[0].says for report in reports[1:]]
    assert said[0] == "We do not compare with 5 March, when it was measured by a sensor."
    assert said[1].endswith("We do not compare with 12 March, when it was measured by eye.")
