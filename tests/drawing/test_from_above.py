"""The view from above."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportgen.drawing import from_above
from reportgen.drawing.from_above import CENTRE, HIPS, from_above_plate, plans_of
from reportgen.drawing.saving import to_figure
from reportgen.drawing.style import INK, OUT
from reportgen.records.words import Side

plays_either = pytest.mark.parametrize("plays", ["right", "left"])
either = st.sampled_from(["right", "left"])
CIRCLE = 26
"""Vertices of a circle as matplotlib draws it."""
angles = st.none() | st.floats(-180, 180).map(lambda x: round(x, 1))


def _dots(plate: Any, of: str, kind: str) -> list[Any]:
    """The boxes of the circles whose face or edge has the colour."""
    from matplotlib.colors import to_hex

    circles = [shape for shape in to_figure(plate).artists if len(shape.get_path()) == CIRCLE]
    return [c.get_path().get_extents() for c in circles if to_hex(getattr(c, f"get_{kind}color")()) == of]


def _lead_end_of_hips(plate: Any, plays: Side) -> tuple[float, float]:
    """Middle of the largest dot, from the middle of the body."""
    box = max(_dots(plate, OUT, "face"), key=lambda extents: extents.width)
    return (box.x0 + box.x1) / 2 - CENTRE[plays][0], (box.y0 + box.y1) / 2 - CENTRE[plays][1]


def test_nothing_measured_gives_no_picture(finding) -> None:
    assert from_above((), "right") is None
    assert from_above((finding(metric="side-bend-impact"),), "right") is None


def _seen_from_above(toward_target: float, toward_ball: float, plays: Side) -> tuple[float, float]:
    """A place about the body as a camera above has it in its picture, turned so that the target is to the right.

    Who faces north and plays right-handed has the target in the west, who plays left-handed in the east.
    """
    east, north = (-toward_target if plays == "right" else toward_target), toward_ball
    return (-east, -north) if plays == "right" else (east, north)


@plays_either
def test_the_ball_is_where_the_player_has_it(turns, plays) -> None:
    plate = from_above_plate(plans_of(turns(None, None, 30, None)), plays)
    (ball,) = _dots(plate, INK, "edge")
    assert (ball.y0 > CENTRE[plays][1]) == (_seen_from_above(0, 1, plays)[1] > 0)


@plays_either
def test_closed_at_the_top_has_the_lead_hip_toward_the_ball(turns, plays) -> None:
    end = _lead_end_of_hips(from_above_plate(plans_of(turns(30, None, None, None)), plays), plays)
    assert end == pytest.approx(_seen_from_above(HIPS * 3**0.5 / 2, HIPS / 2, plays), abs=0.01)


@plays_either
def test_open_at_impact_has_the_lead_hip_away_from_the_ball(turns, plays) -> None:
    end = _lead_end_of_hips(from_above_plate(plans_of(turns(None, None, 30, None)), plays), plays)
    assert end == pytest.approx(_seen_from_above(HIPS * 3**0.5 / 2, -HIPS / 2, plays), abs=0.01)


def test_one_moment_alone_takes_half_the_width(turns) -> None:
    assert (
        from_above(turns(44, 88, 62, 28), "right").width_pt
        == 2 * from_above(turns(None, None, 62, 28), "right").width_pt
    )


def test_alternative_text_names_each_line(turns) -> None:
    alt = from_above(turns(44, None, 62, 28), "right").alt
    assert alt.startswith("Seen from above, the target to the right. At the top: hips 44° closed, ")
    assert "At impact: hips 62° open, above your range of 35° to 55° open; shoulders 28° open, " in alt


@settings(max_examples=40, deadline=None)
@given(either, angles, angles, angles, angles)
def test_labels_stand_clear_at_any_angles(turns, assert_labels_stand_clear, plays, one, two, three, four) -> None:
    assert_labels_stand_clear(from_above_plate(plans_of(turns(one, two, three, four)), plays))


@settings(max_examples=40, deadline=None)
@given(either, st.floats(-90, 120), st.floats(-5, 5))
def test_labels_stand_clear_when_angles_come_close(turns, assert_labels_stand_clear, plays, angle, apart) -> None:
    assert_labels_stand_clear(from_above_plate(plans_of(turns(angle, angle + apart, angle, angle + apart)), plays))


@settings(max_examples=40, deadline=None)
@given(either, st.floats(-180, 180), st.floats(-180, 180))
def test_labels_stand_clear_of_the_body(turns, label_boxes, plays, hips, shoulders) -> None:
    plate = from_above_plate(plans_of(turns(None, None, hips, shoulders)), plays)
    lines = [a.get_path() for a in to_figure(plate).artists if len(a.get_path()) == 2 and a.get_linewidth() > 1.2]
    furthest = max(line.vertices[:, 0].max() for line in lines)
    beside = [box for text, box in label_boxes(plate).items() if "°" in text or text.startswith(("hips", "shoulders"))]
    assert min(box[0] for box in beside) > furthest + 3
