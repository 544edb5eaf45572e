"""A lesson without anything to work on: what to keep, what to look at next, and a reason for each drill."""

import pytest

from tests.judging.academies import judged, one, reading, sheet

GOOD = reading("pelvis-closed-top", 45, u=2) + reading("tempo-ratio", 3, '"1"', u=0.1)
CLOSE = reading("pelvis-closed-top", 61, u=4)
ON_LINE = "shots: [{count: on-line, made: 6, of: 10, width: 2 m, distance: 20 m}]"


def test_all_in_range_says_what_to_keep_and_asks_for_nothing(tmp_path):
    report = one(tmp_path, GOOD)
    assert (report.priorities, report.drills) == ((), ())
    assert report.outlook.keep_says == (
        "Keep what you do here: tempo (3.0) and hip turn (45° closed). Both are in your range."
    )
    assert report.outlook.next_says is None


def test_what_is_followed_is_kept_first(tmp_path):
    lines = GOOD + reading("posture-change-impact", 0, u=1) + reading("pelvis-shift-impact", 9, "cm", u=0.5)
    assert one(tmp_path, lines, more="follow: [posture-change-impact]").outlook.keep[0] == "posture-change-impact"


def test_what_probably_is_outside_is_looked_at_next_and_tried_and_is_no_priority(tmp_path):
    report = one(tmp_path, CLOSE)
    assert report.priorities == ()
    assert report.outlook.next_says == (
        "Next we look at hip turn (61° closed): it is probably outside your range. Another measurement would settle it."
    )
    assert report.drills[0].why == "A first try: let the trail leg stop the hips a little earlier."
    assert {given.serves for given in report.drills} == {None}


def test_probably_is_said_from_two_in_three_on(tmp_path):
    says = one(tmp_path, reading("pelvis-closed-top", 60, u=4)).outlook.next_says
    assert says == "Next we look at hip turn (60° closed) again: it is too close to call."


def test_what_goes_away_from_its_range_is_looked_at_before_it_is_out(tmp_path):
    lessons = {
        f"2026-{1 + k // 4:02}-{1 + 7 * (k % 4):02}": sheet(reading("pelvis-closed-top", 40 + 1.4 * k, u=0.5))
        for k in range(12)
    }
    report = judged(tmp_path, lessons, "born: 1986-05-01\nfollow: [pelvis-closed-top]")[-1]
    assert report.findings[0].verdict != "above range"
    assert report.outlook.look_at.why == "moves away"
    assert report.outlook.next_says.endswith("it seems to be moving away from your range.")


def test_a_count_that_can_grow_is_looked_at_where_the_numbers_ask_for_nothing(tmp_path):
    report = one(tmp_path, GOOD, more=ON_LINE)
    assert (report.outlook.look_at.why, report.outlook.look_at.count) == ("more shots", 0)
    assert report.outlook.next_says.startswith("Next we count again: ")


def test_where_there_is_a_priority_it_says_what_is_next(tmp_path):
    assert one(tmp_path, reading("pelvis-closed-top", 75, u=1) + GOOD.splitlines(True)[1]).outlook is None


def test_after_a_stop_nothing_is_said_of_what_comes_next(tmp_path):
    report = one(tmp_path, GOOD, more="comfort: [{site: low-back, score: 8, when: after}]")
    assert (report.stopped, report.outlook) == (True, None)


def test_what_is_set_aside_is_neither_kept_nor_looked_at(tmp_path):
    assert one(tmp_path, CLOSE, more="set_aside: [pelvis-closed-top]").outlook is None


@pytest.mark.parametrize(
    ("lines", "drill", "why"),
    [
        (reading("pelvis-closed-top", 75, u=1), "trail-knee-by-the-chair",
         "It is for this: let the trail leg stop the hips a little earlier."),
        (reading("pelvis-closed-top", 85, u=1) + reading("tempo-ratio", 5, '"1"', u=0.1), "step-into-the-swing",
         "Your teacher chose it. It helps with this too: make the backswing flow, then swing down calmly."),
        (GOOD, "count-the-swing", "Your teacher chose it for this: tempo, backswing to downswing."),
        (GOOD, "finish-and-hold", "Your teacher chose it."),
    ],
    ids=["a priority", "another finding", "what is in range", "nothing measured"],
)  # fmt: skip
def test_a_drill_of_the_instructors_has_its_reason(tmp_path, lines, drill, why):
    assert one(tmp_path, lines, more=f"drills: [{drill}]").drills[0].why == why


def test_a_drill_that_trains_a_count_of_the_lesson_says_so(tmp_path):
    holed = "kind: putting\nclub: putter\nshots: [{count: holed, made: 4, of: 10, distance: 2 m}]"
    (given, *_) = one(tmp_path, "", more=holed).drills
    assert (given.reason.kind, given.why) == ("count", "For this count: Holed.")


def test_a_drill_of_last_time_is_kept_where_nothing_new_asks_for_one_but_not_for_ever(tmp_path):
    out, fine = (sheet(reading("pelvis-closed-top", value, u=1)) for value in (75, 45))
    days = [f"2026-{month:02}-01" for month in range(1, 13)]
    reports = judged(tmp_path, {day: out if day == days[0] else fine for day in days})
    quiet = [report for report in reports if not report.priorities]
    kept = [[given.why for given in report.drills] for report in quiet]
    assert ["We keep it from last time."] in kept
    assert kept[-1] == []


def test_the_instructor_hears_what_was_set_aside(tmp_path):
    report = one(tmp_path, reading("pelvis-closed-top", 75, u=1), more="set_aside: [pelvis-closed-top]")
    assert [(r.code, r.metrics[0].metric) for r in report.for_the_desk] == [("set aside", "pelvis-closed-top")]
