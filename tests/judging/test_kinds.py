"""Lessons of one kind: what is measured and held against each other in them."""

import pytest

from reportgen.judging.of_kind import of_kind
from reportgen.records.shot_table import UNIT_OF
from tests.judging.academies import finding_of, judged, library, reading, sheet

PUTTS = "kind: putting\nclub: putter"
AIM = reading("putt-aim", 2, u=0.3)
HOLED = "shots:\n  - {count: holed, made: 4, of: 10, distance: 2 m}"


def lessons(root, *texts, student="born: 1986-05-01"):
    return judged(root, {f"2026-03-{5 + 7 * k:02}": text for k, text in enumerate(texts)}, student)


@pytest.mark.parametrize("kind", ["putting", "short-game"])
def test_no_metric_and_no_drill_of_the_full_swing_is_in_the_library_of_another_kind(kind):
    of_this = of_kind(library(), kind)
    assert of_this.metrics
    of_the_body = [metric for metric in of_this.metrics.values() if metric.id not in UNIT_OF]
    known = {record.kinds for record in (*of_the_body, *of_this.drills.values())}
    assert known == {(kind,)}


def test_no_drill_of_putts_or_short_shots_is_in_the_library_of_the_full_swing():
    assert {drill.kinds for drill in of_kind(library(), "full-swing").drills.values()} == {("full-swing",)}


def test_on_the_course_everything_has_a_place():
    assert of_kind(library(), "on-the-course") == library()


def test_a_sheet_that_says_nothing_is_of_the_full_swing(tmp_path):
    (report,) = lessons(tmp_path, sheet(reading("pelvis-open-impact", 45)))
    assert (report.kind, report.kind_name) == ("full-swing", None)
    assert len(report.glance) == 7


@pytest.mark.parametrize(
    ("kind", "name"), [("putting", "Putting"), ("short-game", "Short game"), ("on-the-course", "On the course")]
)
def test_a_lesson_of_another_kind_says_so_and_has_no_row_of_checkpoints(tmp_path, kind, name):
    (report,) = lessons(tmp_path, f"kind: {kind}\nclub: sand-wedge\n{HOLED}")
    assert (report.kind_name, report.glance) == (name, ())


def test_the_frames_of_a_putt_give_its_own_tempo_and_not_that_of_a_swing(tmp_path):
    (report,) = lessons(tmp_path, f"{PUTTS}\ntempo: {{start: 12, top: 60, impact: 86, fps: 60}}")
    (tempo,) = report.findings
    assert (tempo.metric, round(tempo.value, 2), tempo.verdict) == ("putt-tempo", 1.85, "in range")
    assert "0.43 s to the ball" in tempo.note


def test_a_lesson_of_counts_alone_lacks_nothing_and_counts_what_was_counted(tmp_path):
    (report,) = lessons(tmp_path, f"{PUTTS}\n{HOLED}")
    assert (report.missing, report.summary) == ((), "We counted 1 row of shots.")


def test_a_value_is_held_against_lessons_of_its_kind_across_one_of_another(tmp_path):
    first, between, last = lessons(
        tmp_path, sheet(AIM, PUTTS), sheet(reading("pelvis-open-impact", 45)), sheet(AIM, PUTTS)
    )
    assert between.findings[0].change is None
    assert finding_of(last, "putt-aim").change.since == first.date
    assert [point.date for point in last.progress[0].points] == [first.date, last.date]


def test_what_the_lesson_before_measured_is_not_missed_in_one_of_another_kind(tmp_path):
    reports = lessons(tmp_path, sheet(reading("pelvis-open-impact", 45)), sheet(AIM, PUTTS))
    assert reports[-1].missing == ()


def test_a_swing_on_the_course_is_not_held_against_one_on_the_range(tmp_path):
    hips = reading("pelvis-open-impact", 45)
    reports = lessons(tmp_path, sheet(hips), sheet(hips, "kind: on-the-course"))
    assert finding_of(reports[-1], "pelvis-open-impact").change is None


def test_a_count_on_the_course_is_not_held_against_one_on_the_practice_green(tmp_path):
    reports = lessons(tmp_path, f"{PUTTS}\n{HOLED}", f"kind: on-the-course\nclub: putter\n{HOLED}", f"{PUTTS}\n{HOLED}")
    assert [len(report.counts[0].earlier) for report in reports] == [0, 0, 1]


def test_what_hurts_in_a_putting_lesson_stops_the_next_one_of_the_full_swing(tmp_path):
    reports = lessons(tmp_path, f"{PUTTS}\ncomfort: [{{site: low-back, score: 8, when: after}}]", "")
    assert [report.stopped for report in reports] == [True, True]


def test_the_warm_up_before_full_swings_is_not_asked_for_before_putts(tmp_path):
    putts, swings = lessons(tmp_path, f"{PUTTS}\n{HOLED}", sheet(reading("pelvis-open-impact", 45)))
    assert "warm-up" in {caution.rule for caution in swings.cautions}
    assert {caution.rule for caution in swings.cautions} - {caution.rule for caution in putts.cautions} == {"warm-up"}


def test_pictures_of_a_putting_lesson_give_no_metric_of_the_full_swing(tmp_path):
    """A still without a mark is shown; with marks it would be measured for nothing."""
    assert not [metric.id for metric in of_kind(library(), "putting").metrics.values() if metric.stills]
