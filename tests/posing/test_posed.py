"""A figure stands on the ground, its limbs have their lengths, its knees bend as knees do, and the club is in its
hands: for every figure that is shipped."""

from functools import cache
from math import acos, degrees
from typing import get_args

import pytest

from reportgen.posing.arms import SHOULDER_GIVES, STATURE
from reportgen.posing.body import (
    ANKLE_HEIGHT,
    BALL_TO_TOE,
    FOREARM,
    HEEL_TO_BALL,
    HIPS_APART,
    SHANK,
    SHOULDERS_APART,
    SOLE,
    THIGH,
    TRUNK,
    UPPER_ARM,
    PoseError,
    joints,
)
from reportgen.posing.poses import setting_of, stance_of
from reportgen.posing.solving import posed as solved
from reportgen.posing.vectors import between
from reportgen.records.drill_figures import Base, DrillFigure
from tests.posing.shipped import base, each_figure

posed = cache(solved)

MILLIMETRE = 0.001
SIDES = ("lead", "trail")
HELD = ("iron", "wedge", "putter")

each_pose = pytest.mark.parametrize("pose", get_args(Base))


@each_figure
def test_both_feet_stand_on_the_ground(figure: DrillFigure) -> None:
    body = posed(figure).body
    for side in SIDES:
        sole = SOLE * STATURE
        assert body[f"{side}-ball-of-foot"].z == pytest.approx(sole, abs=MILLIMETRE)
        assert min(body[f"{side}-heel"].z, body[f"{side}-toe"].z) >= sole - MILLIMETRE


@each_figure
def test_a_heel_is_on_the_ground_unless_the_figure_lifts_it(figure: DrillFigure) -> None:
    body, setting = posed(figure).body, setting_of(figure)
    for side, lifted in (("lead", setting.lead_heel), ("trail", setting.trail_heel)):
        assert body[f"{side}-heel"].z - SOLE * STATURE == pytest.approx(lifted / 100, abs=MILLIMETRE)


@each_figure
def test_limbs_have_the_lengths_of_the_figure(figure: DrillFigure) -> None:
    body = posed(figure).body
    parts = {
        ("hip", "knee"): THIGH,
        ("knee", "ankle"): SHANK,
        ("shoulder", "elbow"): UPPER_ARM,
        ("elbow", "wrist"): FOREARM,
        ("heel", "ball-of-foot"): HEEL_TO_BALL,
        ("ball-of-foot", "toe"): BALL_TO_TOE,
    }
    for side in SIDES:
        for (start, end), share in parts.items():
            length = (body[f"{side}-{start}"] - body[f"{side}-{end}"]).length
            assert length == pytest.approx(share * STATURE, abs=MILLIMETRE), (side, start, end)


@each_figure
def test_trunk_hips_and_shoulders_have_the_lengths_of_the_figure(figure: DrillFigure) -> None:
    body, before = posed(figure).body, joints(stance_of(figure))
    hips = body["lead-hip"], body["trail-hip"]
    assert (hips[0] - hips[1]).length == pytest.approx(HIPS_APART * STATURE, abs=MILLIMETRE)
    assert (body["neck"] - between(*hips)).length == pytest.approx(TRUNK * STATURE, abs=MILLIMETRE)
    apart = (before["lead-shoulder"] - before["trail-shoulder"]).length
    assert apart == pytest.approx(SHOULDERS_APART * STATURE, abs=MILLIMETRE)
    for side in SIDES:
        assert (body[f"{side}-shoulder"] - before[f"{side}-shoulder"]).length <= SHOULDER_GIVES + MILLIMETRE


@each_figure
def test_the_club_is_in_the_hands_that_hold_it(figure: DrillFigure) -> None:
    found = posed(figure)
    body, setting = found.body, found.setting
    if "clubhead" not in body:
        assert setting.holds not in HELD or "neck" in (setting.lead_hand, setting.trail_hand)
        return
    shaft = (body["clubhead"] - body["grip"]).unit
    for side, at in (("lead", setting.lead_hand), ("trail", setting.trail_hand)):
        if at == "club":
            wrist = body[f"{side}-wrist"] - body["grip"]
            along = wrist.dot(shaft)
            assert -MILLIMETRE <= along <= 0.11, side
            assert (wrist - shaft * along).length <= 0.03, side


@each_figure
def test_no_club_is_below_the_ground(figure: DrillFigure) -> None:
    body = posed(figure).body
    if "clubhead" in body:
        assert body["clubhead"].z >= 0.0


@each_figure
def test_a_knee_bends_forward_and_by_what_is_written(figure: DrillFigure) -> None:
    body = posed(figure).body
    for side in SIDES:
        hip, knee, ankle = (body[f"{side}-{part}"] for part in ("hip", "knee", "ankle"))
        bent = 180 - degrees(acos(max(-1.0, min(1.0, (hip - knee).unit.dot((ankle - knee).unit)))))
        written = getattr(setting_of(figure), f"{side}_knee")
        if written is not None:
            assert bent == pytest.approx(written, abs=0.5)
        # to the side to which the foot points, or a little to the other knee
        before = body[f"{side}-toe"] - body[f"{side}-heel"]
        assert (knee - between(hip, ankle)).dot(before) >= -MILLIMETRE


@each_figure
def test_an_arm_that_swings_the_club_below_the_shoulders_is_nearly_straight(figure: DrillFigure) -> None:
    found = posed(figure)
    for side, at in (("lead", found.setting.lead_hand), ("trail", found.setting.trail_hand)):
        if at == "club" and abs(found.setting.arms) <= 60:
            shoulder, elbow, wrist = (found.body[f"{side}-{part}"] for part in ("shoulder", "elbow", "wrist"))
            assert degrees(acos((shoulder - elbow).unit.dot((wrist - elbow).unit))) > 90


@each_pose
def test_every_pose_can_be_stood_as_it_is(pose: str) -> None:
    assert posed(base(pose)).body["head"].z > 1.0 or pose == "sitting"


def test_a_figure_that_sits_has_its_hips_over_the_seat_and_its_feet_on_the_ground() -> None:
    body = posed(base("sitting")).body
    assert {round(body[f"{side}-hip"].z, 2) for side in SIDES} == {0.53}
    assert {round(body[f"{side}-ankle"].z, 3) for side in SIDES} == {round(ANKLE_HEIGHT * STATURE, 3)}


def test_a_level_belt_is_level() -> None:
    body = posed(base("address", lead_knee=35, trail_knee="level", shift=4)).body
    assert body["lead-hip"].z == pytest.approx(body["trail-hip"].z, abs=MILLIMETRE)


@pytest.mark.parametrize("turn", [-50, 0, 40])
def test_a_turn_of_the_belt_does_not_move_the_seat_away_from_a_wall_that_it_touches(turn: float) -> None:
    assert posed(base("address", belt=turn, hands="shoulder")).body["seat"].y == pytest.approx(-0.2625, abs=MILLIMETRE)


def test_a_turn_is_closed_away_from_the_target() -> None:
    body = posed(base("address", belt=30, chest=60, hands="shoulder")).body
    for part, turn in (("hip", 30), ("shoulder", 60)):
        line = body[f"lead-{part}"] - body[f"trail-{part}"]
        assert line.y > 0
        assert degrees(acos(line.x / (line.x**2 + line.y**2) ** 0.5)) == pytest.approx(turn, abs=3)


def test_a_foot_that_no_leg_reaches_is_an_error() -> None:
    with pytest.raises(PoseError, match="has a trail foot that the leg does not reach"):
        posed(base("address", trail_foot={"toward": -60}, stance=80))
