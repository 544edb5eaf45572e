"""Which lines a still carries: those of the lesson's findings, as far as its marks allow."""

import pytest

from reportgen.judging import strokes as of_stills
from reportgen.judging.strokes import VALUES_SHOWN, drawings
from reportgen.records.stills import Still
from tests.bench.measuring import METRICS
from tests.drawing.conftest import make_finding

FACE_ON = {
    "lead-hip": (520, 780), "trail-hip": (430, 790), "lead-shoulder": (540, 590), "trail-shoulder": (390, 600),
    "neck": (465, 580), "lead-knee": (550, 1010), "lead-ankle": (580, 1210),
}  # fmt: skip
DOWN = {
    "seat": (350, 800), "trail-heel": (400, 1230), "lead-hip": (430, 790), "trail-hip": (440, 800), "neck": (560, 590),
    "lead-knee": (480, 1010), "lead-ankle": (470, 1200), "ball": (810, 1230),
}  # fmt: skip


def still(view="face-on", checkpoint="impact", marks=None, **more):
    return Still(file=f"../stills/{checkpoint}.png", view=view, checkpoint=checkpoint, marks=marks or {}, **more)


def finding(metric, verdict="in range", value=42.0, **more):
    return make_finding(value, metric=metric, verdict=verdict, checkpoint="impact", **more)


def strokes(still, others, findings):
    return of_stills.strokes(still, others, drawings(findings, METRICS))


def kinds(found):
    return [stroke.kind for stroke in found]


def test_a_turn_is_the_line_through_its_two_marks_with_the_value():
    (hips,) = strokes(still(marks=FACE_ON), [], [finding("pelvis-open-impact", "above range")])
    assert (hips.kind, hips.points, hips.metric, hips.value, hips.unit, hips.verdict) == (
        "line",
        ((520.0, 780.0), (430.0, 790.0)),
        "pelvis-open-impact",
        42.0,
        "deg",
        "above range",
    )


def test_a_knee_is_the_line_from_hip_over_knee_to_ankle():
    (leg,) = strokes(still("down-the-line", marks=DOWN), [], [finding("lead-knee-flex-impact")])
    assert leg.points == ((430.0, 790.0), (480.0, 1010.0), (470.0, 1200.0))


@pytest.mark.parametrize(
    ("metric", "view", "needed"),
    [
        ("pelvis-open-impact", "face-on", ("lead-hip", "trail-hip")),
        ("thorax-open-impact", "face-on", ("lead-shoulder", "trail-shoulder")),
        ("side-bend-impact", "face-on", ("lead-hip", "trail-hip", "neck")),
        ("pelvis-shift-impact", "face-on", ("lead-hip", "trail-hip")),
        ("lead-knee-flex-impact", "down-the-line", ("lead-hip", "lead-knee", "lead-ankle")),
        ("seat-forward-impact", "down-the-line", ("seat",)),
        ("trail-heel-lift-impact", "down-the-line", ("trail-heel",)),
        ("posture-change-impact", "down-the-line", ("lead-hip", "trail-hip", "neck")),
    ],
)
def test_no_line_without_its_marks(metric, view, needed):
    marks = FACE_ON if view == "face-on" else DOWN
    assert any(s.metric for s in strokes(still(view, marks=marks), [], [finding(metric)]))
    for mark in needed:
        fewer = {name: place for name, place in marks.items() if name != mark}
        assert strokes(still(view, marks=fewer), [], [finding(metric)]) == ()


def test_a_still_without_marks_and_a_finding_of_another_moment_give_no_line():
    assert strokes(still(), [], [finding("pelvis-open-impact")]) == ()
    assert strokes(still(checkpoint="top", marks=FACE_ON), [], [finding("pelvis-open-impact")]) == ()


def test_a_finding_that_no_picture_shows_gives_no_line():
    assert strokes(still(marks=FACE_ON), [], [finding("clubhead-speed")]) == ()


def test_at_most_three_values_stand_on_a_picture_the_gravest_first():
    found = [
        finding("pelvis-open-impact", "in range", 1.0),
        finding("thorax-open-impact", "too close to call", 2.0),
        finding("side-bend-impact", "above range", 3.0),
        finding("pelvis-shift-impact", "below range", 4.0),
        finding("lead-knee-flex-impact", "not judged", 5.0),
    ]
    drawn = strokes(still(marks=FACE_ON), [], found)
    assert [s.value for s in drawn if s.metric] == [3.0, 4.0, 2.0]
    assert VALUES_SHOWN == 3


def test_a_finding_without_its_marks_takes_no_place_from_another():
    marks = {name: place for name, place in FACE_ON.items() if name != "neck"}
    found = [
        finding(metric, "above range")
        for metric in ("side-bend-impact", "pelvis-open-impact", "thorax-open-impact", "pelvis-shift-impact")
    ]
    assert kinds(strokes(still(marks=marks), [], found)) == ["line", "line", "place"]


def test_a_line_stands_in_the_view_that_shows_it_best():
    face_on, down = still(marks=FACE_ON), still("down-the-line", marks=DOWN)
    knee = [finding("lead-knee-flex-impact")]
    assert strokes(face_on, [down], knee) == ()
    assert kinds(strokes(down, [face_on], knee)) == ["line"]


def test_or_in_the_other_view_where_the_lesson_has_no_better_one():
    knee = [finding("lead-knee-flex-impact")]
    assert kinds(strokes(still(marks=FACE_ON), [still("down-the-line")], knee)) == ["line"]


@pytest.mark.parametrize("metric", ["side-bend-impact", "pelvis-shift-impact"])
def test_what_one_view_alone_shows_is_not_drawn_in_the_other(metric):
    assert strokes(still("down-the-line", marks=DOWN), [], [finding(metric)]) == ()


SETUP = still("down-the-line", "setup", DOWN)


def seat_at_impact(ball, before=SETUP):
    """The reference and the place of the seat, the ball at impact being where it is said."""
    marks = {**DOWN, "seat": (380, 795), **({"ball": ball} if ball else {})}
    if ball is None:
        marks.pop("ball")
    return strokes(still("down-the-line", marks=marks), [before], [finding("seat-forward-impact")])


def middle_of(stroke):
    (x0, y0), (x1, y1) = stroke.points
    return (x0 + x1) / 2, (y0 + y1) / 2


def test_the_reference_is_an_upright_line_where_the_seat_was_at_setup():
    reference, place = seat_at_impact((810, 1230))
    assert (reference.kind, reference.metric) == ("before", None)
    assert middle_of(reference) == (350.0, 800.0)
    assert reference.points[0][0] == reference.points[1][0]
    assert (place.kind, place.points) == ("place", ((380.0, 795.0),))


def test_the_reference_moves_with_the_ball_where_the_camera_has_moved():
    reference, _ = seat_at_impact((825, 1222))
    assert middle_of(reference) == (365.0, 792.0)


def test_without_the_ball_in_both_pictures_the_camera_counts_as_still():
    assert middle_of(seat_at_impact(None)[0]) == (350.0, 800.0)


@pytest.mark.parametrize(
    "before",
    [
        still("face-on", "setup", {**FACE_ON, "seat": (350, 800)}),
        still("down-the-line", "top", DOWN),
        still("down-the-line", "setup"),
        still("down-the-line", "setup", {"ball": (810, 1230)}),
    ],
    ids=["another view", "another moment", "no marks", "not that mark"],
)
def test_a_reference_comes_from_the_same_view_at_setup_or_not_at_all(before):
    assert kinds(seat_at_impact((810, 1230), before)) == ["place"]


def test_a_heel_has_a_level_reference():
    found = strokes(still("down-the-line", marks=DOWN), [SETUP], [finding("trail-heel-lift-impact")])
    assert kinds(found) == ["before", "place"]
    assert found[0].points[0][1] == found[0].points[1][1]


def test_the_reach_of_a_reference_follows_the_scale():
    def reach(pixels):
        scale = {"from": (0, 1250), "to": (pixels, 1250), "length": "1.00 m"}
        impact = still("down-the-line", marks=DOWN, scale=scale)
        (x0, y0), (x1, y1) = strokes(impact, [SETUP], [finding("seat-forward-impact")])[0].points
        return abs(y1 - y0) + abs(x1 - x0)

    assert reach(800) == pytest.approx(2 * reach(400))


def test_the_trunk_stands_beside_the_vertical_and_where_it_was_at_setup():
    now = {**DOWN, "lead-hip": (450, 770), "trail-hip": (460, 780), "neck": (520, 570)}
    found = strokes(still("down-the-line", marks=now), [SETUP], [finding("posture-change-impact")])
    setup, upright, trunk = found
    assert kinds(found) == ["before", "plumb", "line"]
    foot = (455.0, 775.0)
    assert [s.points[0] for s in found] == [foot] * 3
    assert trunk.points[1] == (520.0, 570.0)
    assert upright.points[1][0] == foot[0]
    assert foot[1] - upright.points[1][1] == pytest.approx((65**2 + 205**2) ** 0.5)
    assert setup.points[1] == (560 + 455 - 435, 590 + 775 - 795)


def test_the_change_of_a_bend_is_drawn_where_no_metric_shows_the_bend_itself():
    down = {**DOWN, "trail-knee": (450, 1020), "trail-ankle": (430, 1210)}
    top, transition = (still("down-the-line", moment, down) for moment in ("top", "transition"))
    kept = make_finding(1.0, metric="trail-knee-kept", checkpoint="top")
    gained = make_finding(1.0, metric="knee-flex-transition", checkpoint="transition")
    assert strokes(top, [], [kept]) == ()
    assert kinds(strokes(transition, [], [gained])) == ["line"]


def test_of_a_difference_nothing_is_drawn_by_itself():
    assert (
        strokes(
            still(checkpoint="top", marks=FACE_ON), [], [make_finding(1.0, metric="separation-top", checkpoint="top")]
        )
        == ()
    )
