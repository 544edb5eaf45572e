"""When the ball heads the report, and what it says then."""

import pytest

from tests.judging.academies import judged, reading, sheet
from tests.judging.ball_lessons import shots, with_shots

SLICER = reading("thorax-open-impact", 52, u=1) + reading("pelvis-open-impact", 27, u=1)
SLICE = shots(start=-3.0, face=-3.0, path=-9.0, carry=150.0, side=16.0)
IN_RANGE = reading("thorax-open-impact", 27, u=1) + reading("pelvis-open-impact", 45, u=1)


def on_line(made, more=""):
    return f"shots:\n  - {{count: on-line, made: {made}, of: 10, width: 2 m, distance: 20 m{more}}}"


def lessons(root, *texts):
    return judged(root, {f"2026-03-{5 + 7 * k:02}": text for k, text in enumerate(texts)})[-1]


def test_the_slicers_report_is_headed_by_face_to_path_and_says_why_the_ball_curves(tmp_path):
    first = with_shots(tmp_path, SLICE, SLICER).ball_first
    assert first.headline == "First face and path: they curve the ball to the trail side"
    assert first.reason == (
        "Over 10 shots (7-iron) the face was 6° open to the path on average. The ball curved 24\u00a0m to the trail "
        "side, away from you. Hit in the middle of the face, a ball curves the way the face points against the path. "
        "It starts to the lead side because the face points there. The face decides most of the start. Where teachers "
        "look in the body: shoulders open at impact (above your range). No study that we know of shows it, so try it "
        "and watch the ball."
    )


def test_what_can_lie_behind_the_slice_is_then_worked_on_alone(tmp_path):
    report = with_shots(tmp_path, SLICE, SLICER)
    assert [priority.metric for priority in report.priorities] == ["thorax-open-impact"]


def test_what_can_lie_behind_the_strike_alone_does_not_stand_behind_the_slice(tmp_path):
    seat = reading("seat-forward-impact", 12, "cm", u=0.2)
    report = with_shots(tmp_path, SLICE, SLICER + seat, "shots:\n  - {strike: {heel: 8, middle: 2}}\n")
    assert [chain.ends[-1].what for chain in report.behind] == ["curve", "start", "strike-across"]
    assert [priority.metric for priority in report.priorities] == ["thorax-open-impact"]
    assert "seat" not in report.ball_first.reason


def test_a_hook_is_said_with_the_other_sides(tmp_path):
    hook = shots(start=3.0, face=3.0, path=9.0, carry=150.0, side=-16.0)
    first = with_shots(tmp_path, hook).ball_first
    assert first.headline == "First face and path: they curve the ball to the lead side"
    assert "6° closed to the path" in first.reason


def test_a_face_that_the_device_computed_is_not_said_to_make_the_start(tmp_path):
    rows = ["start,face,path,carry,side"]
    for k in range(12):
        path, face = -9 + (k % 4) * 0.9, -4 + (k % 5) * 0.8
        start = 0.8 * face + 0.2 * path
        rows.append(f"{start:.2f},{face:.2f},{path:.2f},150,{2.6 * start + 3 * (face - path):.1f}")
    reason = with_shots(tmp_path, "\n".join(rows) + "\n").ball_first.reason
    assert "The device worked the face out from start and path, so it does not tell why" in reason
    assert "because the face points there" not in reason


def test_a_start_with_the_path_alone_is_said_to_go_with_the_path(tmp_path):
    first = with_shots(tmp_path, shots(start=-2.5, face=-0.5, path=-9.0, carry=150.0, side=16.0)).ball_first
    assert "It starts to the lead side, as the path goes." in first.reason


def test_yards_are_said_to_who_reads_yards(tmp_path):
    first = with_shots(tmp_path, SLICE, student="born: 1986-05-01\nunits: imperial").ball_first
    assert "The ball curved 26\u00a0yd to the trail side" in first.reason


@pytest.mark.parametrize(
    "kind", ["kind: on-the-course\nclub: putter", "kind: putting\nclub: putter", "kind: short-game\nclub: sand-wedge"]
)
def test_putts_and_short_shots_are_not_told_of_swings(tmp_path, kind):
    report = with_shots(tmp_path, SLICE, more=f"{kind}\n")
    assert (report.ball_first, report.behind) == (None, ())


def test_fewer_holed_head_a_putting_lesson(tmp_path):
    holed = "kind: putting\nclub: putter\nshots:\n  - {{count: holed, made: {}, of: 10, distance: 2 m}}"
    report = lessons(tmp_path, sheet("", holed.format(9)), sheet("", holed.format(3)))
    assert report.ball_first.name.startswith("Holed")
    assert "swing" not in report.ball_first.reason


def test_a_fade_heads_nothing(tmp_path):
    fade = shots(start=-1.0, face=-1.0, path=-5.0, carry=150.0, side=4.0)
    report = with_shots(tmp_path, fade)
    assert {fact.what: fact.side for fact in report.ball.facts}["curve"] == "above"
    assert report.ball_first is None


def test_the_instructors_priorities_go_before_the_ball(tmp_path):
    report = with_shots(tmp_path, SLICE, SLICER, "priorities: [pelvis-open-impact]\n")
    assert report.ball_first is None
    assert [priority.metric for priority in report.priorities] == ["pelvis-open-impact"]


def test_with_all_in_range_and_fewer_on_line_the_ball_heads_the_report(tmp_path):
    report = lessons(tmp_path, sheet(IN_RANGE, on_line(9)), sheet(IN_RANGE, on_line(3)))
    assert report.ball_first.headline == "First the ball: fewer than before"
    assert report.ball_first.reason.startswith("3 of 10 (in the long run 1 to 6). On 5 March it was 9 of 10.")
    assert report.priorities == ()


@pytest.mark.parametrize(
    ("first", "second"), [(9, 7), (3, 9), (9, 9)], ids=["within luck", "more on line", "as many on line"]
)
def test_no_other_count_heads_the_report(tmp_path, first, second):
    report = lessons(tmp_path, sheet(IN_RANGE, on_line(first)), sheet(IN_RANGE, on_line(second)))
    assert report.ball_first is None


def test_fewer_after_the_lessons_work_head_nothing(tmp_path):
    report = lessons(tmp_path, sheet(IN_RANGE, on_line(9)), sheet(IN_RANGE, on_line(3, ", when: after")))
    assert report.ball_first is None


def test_what_only_seems_out_of_range_comes_after_the_ball(tmp_path):
    close = reading("thorax-open-impact", 44, u=4)
    report = lessons(tmp_path, sheet(close, on_line(9)), sheet(close, on_line(3)))
    assert (report.findings[0].verdict, report.priorities) == ("too close to call", ())
    assert report.ball_first.kind == "fewer"
    assert report.outlook.look_at.metric == "thorax-open-impact"


def test_where_the_body_is_out_of_range_it_is_worked_on_first(tmp_path):
    report = lessons(tmp_path, sheet(SLICER, on_line(9)), sheet(SLICER, on_line(3)))
    assert report.ball_first is None
    assert report.priorities


def test_a_count_that_has_fallen_over_many_dates_heads_the_report(tmp_path):
    made = (10, 10, 9, 9, 8, 7, 6, 5, 4, 3, 3, 2)
    days = [f"2026-{2 + k // 4:02}-{3 + 7 * (k % 4):02}" for k in range(len(made))]
    texts = {day: sheet(IN_RANGE, on_line(count)) for day, count in zip(days, made, strict=True)}
    report = judged(tmp_path, texts)[-1]
    assert report.counts[0].course.verdict == "has changed"
    assert report.ball_first.kind == "fewer"


def test_after_a_stop_nothing_of_the_ball_heads_the_report(tmp_path):
    report = with_shots(tmp_path, SLICE, SLICER, "comfort: [{site: low-back, score: 7, when: after}]\n")
    assert report.stopped
    assert (report.ball_first, report.behind) == (None, ())
