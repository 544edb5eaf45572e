"""Marks that cannot be right become problems with a place and a mend."""

import numpy as np
import pytest

from reportgen.records.stills import Still
from reportgen.sheets.faults import faults
from tests.measuring import figures, pinhole

FIGURE = figures.bodies(1, np.random.default_rng(40))
VIEWS = pinhole.View("face-on", 4.0, 0.9, 0.0, 420.0), pinhole.View("down-the-line", 4.5, 0.9, 0.3, 420.0)
GOOD = pinhole.stills(FIGURE, 0, VIEWS, np.random.default_rng(1))
SETUP = GOOD[0]


def found(still: Still, plays: str = "right"):
    return faults([still], pinhole.sizes([still]), plays)


def with_marks(still: Still, **marks) -> Still:
    changed = {name.replace("_", "-"): place for name, place in marks.items()}
    return still.model_copy(update={"marks": still.marks | changed})


def face_on(checkpoint: str) -> Still:
    return next(still for still in GOOD if (still.view, still.checkpoint) == ("face-on", checkpoint))


def swapped(still: Still, joint: str) -> Still:
    lead, trail = f"lead-{joint}", f"trail-{joint}"
    return still.model_copy(update={"marks": still.marks | {lead: still.marks[trail], trail: still.marks[lead]}})


def scaled(start=(400.0, 1000.0), end=(900.0, 1000.0), length="1.00 m") -> Still:
    return Still.model_validate(
        {**SETUP.model_dump(), "scale": {"from": start, "to": end, "length": length}}, by_name=True, by_alias=True
    )


def test_good_stills_have_no_faults():
    assert faults(GOOD, pinhole.sizes(GOOD), "right") == []


@pytest.mark.parametrize("place", [(-1.0, 500.0), (500.0, 1081.0), (1921.0, 10.0)])
def test_a_mark_outside_the_picture(place):
    (where, says), *rest = found(with_marks(SETUP, head=place))
    assert (where, rest) == (("stills", 0, "marks", "head"), [])
    assert "outside the picture, which is 1920 wide and 1080 high" in says


def test_a_picture_of_unknown_size_is_not_searched_for_marks_outside():
    assert faults([with_marks(SETUP, head=(5000.0, 10.0))], {}, "right") == []


def test_an_end_of_the_scale_outside_the_picture():
    (where, _), *rest = found(scaled(end=(2400.0, 1000.0)))
    assert (where, rest) == (("stills", 0, "scale", "to"), [])


def test_two_marks_in_one_place():
    (where, says), *rest = found(with_marks(SETUP, neck=SETUP.marks["head"]))
    assert rest == []
    assert where == ("stills", 0, "marks", "head")
    assert "head is in the same place as neck" in says


def test_a_joint_behind_its_other_side_is_in_order_down_the_line():
    still = GOOD[1]
    assert found(with_marks(still, lead_hip=still.marks["trail-hip"])) == []


def test_a_scale_of_zero_length():
    (where, says), *rest = found(scaled(end=(400.0, 1000.0)))
    assert (where, rest) == (("stills", 0, "scale"), [])
    assert "Mark the two ends of a known length" in says


def with_stick(start=(700.0, 900.0), end=(640.0, 760.0), view="down-the-line") -> Still:
    given = {**SETUP.model_dump(by_alias=True), "camera": None, "marks": {}, "view": view}
    return Still.model_validate({**given, "stick": {"from": start, "to": end}})


def test_a_stick_that_runs_away_from_the_camera_is_in_order():
    assert found(with_stick()) == []


@pytest.mark.parametrize(
    ("view", "lies"), [("down-the-line", "along the target line"), ("face-on", "square to the target line")]
)
@pytest.mark.parametrize("end", [(900.0, 895.0), (300.0, 870.0), (705.0, 885.0)])
def test_a_stick_that_lies_across_the_picture_or_is_hardly_seen(view, lies, end):
    (where, says), *rest = found(with_stick(end=end, view=view))
    assert (where, rest) == (("stills", 0, "stick"), [])
    assert f"mark the stick that lies {lies}" in says


def test_a_stick_that_is_not_on_the_ground():
    (where, says), *rest = found(with_stick(end=(640.0, 500.0)))
    assert (where, rest) == (("stills", 0, "stick", "to"), [])
    assert "hold the camera level" in says


def test_an_end_of_the_stick_outside_the_picture():
    (where, says), *rest = found(with_stick(start=(700.0, 1100.0)))
    assert (where, rest) == (("stills", 0, "stick", "from"), [])
    assert "the stick's from at [700, 1100] lies outside the picture" in says


def test_a_mark_that_is_no_number():
    (where, says), *rest = found(with_marks(SETUP, head=(float("nan"), 10.0)))
    assert (where, rest) == (("stills", 0, "marks", "head"), [])
    assert "two numbers" in says


def test_the_seat_on_a_face_on_still():
    (where, says), *rest = found(with_marks(SETUP, seat=(700.0, 600.0)))
    assert (where, rest) == (("stills", 0, "marks", "seat"), [])
    assert "mark it on the down-the-line still" in says


def test_lead_and_trail_swapped():
    (where, says), *rest = found(swapped(SETUP, "hip"))
    assert (where, rest) == (("stills", 0, "marks", "lead-hip"), [])
    assert "hip line points away from the target" in says


def test_a_right_handed_picture_of_a_left_handed_player_is_told_for_every_line():
    assert [where[-1] for where, _ in found(SETUP, "left")] == ["lead-hip", "lead-shoulder", "lead-knee", "lead-ankle"]


@pytest.mark.parametrize(
    ("joint", "checkpoint"), [("hip", "impact"), ("hip", "top"), ("shoulder", "impact"), ("ankle", "top")]
)
def test_lead_and_trail_swapped_later_in_the_swing(joint, checkpoint):
    (where, says), *rest = found(swapped(face_on(checkpoint), joint))
    assert (where, rest) == (("stills", 0, "marks", f"lead-{joint}"), [])
    assert f"Look at lead-{joint} and trail-{joint}." in says


def test_shoulders_that_turn_past_the_ball_at_the_top_are_no_fault():
    assert found(swapped(face_on("top"), "shoulder")) == []


@pytest.mark.parametrize("length", ["100 m", "10 cm"])
def test_a_scale_by_which_nobody_is_of_that_size(length):
    (where, says), *rest = found(scaled(length=length))
    assert (where, rest) == (("stills", 0, "scale", "length"), [])
    assert "which no player measures" in says


def test_a_line_that_points_away_at_the_finish_is_no_fault():
    assert found(swapped(SETUP, "hip").model_copy(update={"checkpoint": "finish"})) == []


def test_two_stills_of_the_same_moment_of_one_swing():
    twice = [SETUP.model_copy(update={"swing": 2}), SETUP.model_copy(update={"swing": 2})]
    (where, says), *rest = faults(twice, pinhole.sizes(twice), "right")
    assert (where, rest) == (("stills", 1, "swing"), [])
    assert "already a face-on still of swing 2" in says


def test_every_fault_of_every_still_is_listed():
    bad = [with_marks(SETUP, head=(-5.0, 5.0)), with_marks(GOOD[1], head=(-5.0, 5.0))]
    assert [where[1] for where, _ in faults(bad, pinhole.sizes(bad), "right")] == [0, 1]
