"""The view from above."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportgen.drawing import from_above
from reportgen.drawing.from_above import CENTRE, HIPS, from_above_plate, plans_of
from reportgen.drawing.style import OUT

angles = st.none() | st.floats(-180, 180).map(lambda x: round(x, 1))


def _lead_end_of_hips(plate: Any) -> tuple[float, float]:
    """Middle of the largest dot, from the middle of the body."""
    from matplotlib.colors import to_hex

    dots = [a.get_path() for a in plate.figure.artists if to_hex(a.get_facecolor()) == OUT and len(a.get_path()) == 14]
    box = max((dot.get_extents() for dot in dots), key=lambda extents: extents.width)
    return (box.x0 + box.x1) / 2 - CENTRE[0], (box.y0 + box.y1) / 2 - CENTRE[1]


def test_nothing_measured_gives_no_picture(finding) -> None:
    assert from_above(()) is None
    assert from_above((finding(metric="side-bend-impact"),)) is None


def test_closed_at_the_top_has_the_lead_hip_toward_the_ball(turns) -> None:
    x, y = _lead_end_of_hips(from_above_plate(plans_of(turns(30, None, None, None))))
    assert (x, y) == (pytest.approx(HIPS * 3**0.5 / 2, abs=0.01), pytest.approx(HIPS / 2, abs=0.01))


def test_open_at_impact_has_the_lead_hip_away_from_the_ball(turns) -> None:
    x, y = _lead_end_of_hips(from_above_plate(plans_of(turns(None, None, 30, None))))
    assert (x, y) == (pytest.approx(HIPS * 3**0.5 / 2, abs=0.01), pytest.approx(-HIPS / 2, abs=0.01))


def test_one_moment_alone_takes_half_the_width(turns) -> None:
    assert from_above(turns(44, 88, 62, 28)).width_pt == 2 * from_above(turns(None, None, 62, 28)).width_pt


def test_alternative_text_names_each_line(turns) -> None:
    alt = from_above(turns(44, None, 62, 28)).alt
    assert alt.startswith("Seen from above, the target to the right. At the top: hips 44° closed, ")
    assert "At impact: hips 62° open, above your range of 35° to 55° open; shoulders 28° open, " in alt


@settings(max_examples=40, deadline=None)
@given(angles, angles, angles, angles)
def test_labels_stand_clear_at_any_angles(turns, assert_labels_stand_clear, one, two, three, four) -> None:
    assert_labels_stand_clear(from_above_plate(plans_of(turns(one, two, three, four))))


@settings(max_examples=40, deadline=None)
@given(st.floats(-90, 120), st.floats(-5, 5))
def test_labels_stand_clear_when_angles_come_close(turns, assert_labels_stand_clear, angle, apart) -> None:
    assert_labels_stand_clear(from_above_plate(plans_of(turns(angle, angle + apart, angle, angle + apart))))


@settings(max_examples=40, deadline=None)
@given(st.floats(-180, 180), st.floats(-180, 180))
def test_labels_stand_clear_of_the_body(turns, label_boxes, hips, shoulders) -> None:
    plate = from_above_plate(plans_of(turns(None, None, hips, shoulders)))
    lines = [a.get_path() for a in plate.figure.artists if len(a.get_path()) == 2 and a.get_linewidth() > 1.2]
    furthest = max(line.vertices[:, 0].max() for line in lines)
    beside = [box for text, box in label_boxes(plate).items() if "°" in text or text.startswith(("hips", "shoulders"))]
    assert min(box[0] for box in beside) > furthest + 3
