"""The course of a metric over the lessons, and what is missing."""

from tests.judging.academies import ADULT, judged, one, reading, sheet

HIPS = reading("pelvis-open-impact", 75, u=1)


def test_a_series_holds_every_lesson_with_a_club_of_the_same_family_up_to_this_one(tmp_path):
    lessons = {
        "2026-03-05": sheet(HIPS),
        "2026-03-12": f"club: driver\n{sheet(HIPS)}",
        "2026-03-19": f"club: 5-iron\n{sheet(HIPS)}",
    }
    reports = judged(tmp_path, lessons)
    course = [[point.lesson for point in report.progress[0].points] for report in reports]
    assert course == [["2026-03-05"], ["2026-03-12"], ["2026-03-05", "2026-03-19"]]


def test_a_series_ends_with_todays_finding(tmp_path):
    report = judged(tmp_path, {"2026-03-05": sheet(reading("pelvis-open-impact", 85)), "2026-03-12": sheet(HIPS)})[1]
    last, found = report.progress[0].points[-1], report.findings[0]
    assert (last.value, last.interval, last.verdict) == (found.value, found.interval, found.verdict)


def test_what_the_last_lesson_measured_and_this_one_did_not_is_told(tmp_path):
    lessons = {"2026-03-05": sheet(HIPS + reading("tempo-ratio", 3, '"1"')), "2026-03-12": sheet(HIPS)}
    says = [gap.says for gap in judged(tmp_path, lessons)[1].missing]
    assert "Tempo, backswing to downswing: not measured this time, last on 5 March." in says


def test_a_lesson_without_any_reading_says_so_and_still_gives_its_drills(tmp_path):
    report = one(tmp_path, "", ADULT, "drills: [count-the-swing]")
    assert report.summary == "Nothing was measured in this lesson."
    assert [given.drill for given in report.drills] == ["count-the-swing"]
    assert report.practice
