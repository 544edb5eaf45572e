"""Signs, ranges and edges of the angles; their values stand against other sources in tests/published."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.measuring import geometry
from reportgen.records.formulas import AXES


def at(*coordinates: float) -> np.ndarray:
    return np.array(coordinates)


def test_a_line_whose_lead_end_comes_toward_the_ball_is_closed():
    assert geometry.turn(at(1.0, 1.0, 0.0)) == pytest.approx(45)


def test_a_line_whose_lead_end_goes_away_from_the_ball_is_open():
    assert geometry.turn(at(1.0, -1.0, 0.0)) == pytest.approx(-45)


def test_the_dip_of_a_line_does_not_turn_it():
    assert geometry.turn(at(1.0, 1.0, -3.0)) == pytest.approx(45)


def test_a_straight_leg_has_no_bend():
    assert geometry.flexion(at(0, 0, 1), at(0, 0, 0.5), at(0, 0, 0)) == 0


def test_a_knee_toward_the_ball_is_bent_in_the_plane():
    hip, knee, ankle = at(0, 0, 1), at(0, 0.1, 0.5), at(0, 0, 0)
    assert geometry.planar_flexion(hip, knee, ankle) == pytest.approx(2 * np.degrees(np.arctan(0.2)))


def test_a_knee_behind_the_leg_is_overstretched_in_the_plane():
    assert geometry.planar_flexion(at(0, 0, 1), at(0, -0.1, 0.5), at(0, 0, 0)) < 0


def test_a_trunk_that_leans_away_from_the_target_bends_to_the_trail_side():
    assert geometry.tilt(at(-1.0, 0.3, 1.0), *AXES["trail-side"]) == pytest.approx(45)


def test_a_trunk_that_leans_to_the_ball_bends_forward():
    assert geometry.tilt(at(0.3, 1.0, 1.0), *AXES["ball"]) == pytest.approx(45)


def test_shoulders_tilt_from_the_level_however_far_they_are_turned_to_the_ball():
    assert geometry.tilt(at(1.0, 5.0, 0.5), *AXES["up"]) == pytest.approx(np.degrees(np.arctan(0.5)))
    assert geometry.tilt(at(1.0, 5.0, 0.5), *AXES["down"]) == pytest.approx(-np.degrees(np.arctan(0.5)))


def test_a_hip_that_sinks_straight_toward_the_ankle_moves_by_all_of_it():
    moved = geometry.movement_along(at(0, 0, 1.0), at(0, 0.2, 0.9), at(0, 0, 0.0))
    assert moved == pytest.approx(0.1)


def test_a_hip_that_slides_across_the_leg_does_not_move_toward_the_ankle():
    assert geometry.movement_along(at(0, 0, 1.0), at(0.2, 0, 1.0), at(0, 0, 0.0)) == pytest.approx(0.0)


def test_half_the_width_is_a_turn_of_sixty_degrees():
    assert geometry.foreshortened_turn(at(0.1), at(0.2)) == pytest.approx(60)


def test_a_width_beyond_zero_is_a_turn_of_more_than_ninety_degrees():
    assert geometry.foreshortened_turn(at(-0.1), at(0.2)) == pytest.approx(120)


def test_a_line_wider_than_itself_counts_as_square():
    assert geometry.foreshortened_turn(at(0.21), at(0.2)) == 0


@given(st.floats(-0.7, 0.7))
def test_a_line_that_only_dips_has_not_turned(dip: float):
    now, at_setup = at(np.cos(dip), 0, np.sin(dip)), at(1.0, 0, 0)
    assert geometry.foreshortened_turn(now[0], geometry.square_width(now, at_setup)) == pytest.approx(0, abs=1e-5)


@given(st.floats(-720, 720))
def test_a_wrapped_angle_points_the_same_way(angle: float):
    wrapped = geometry.wrapped(np.array(angle))
    assert -180 <= wrapped <= 180
    assert np.cos(np.radians(wrapped - angle)) == pytest.approx(1)


@given(st.floats(1e-7, 1e-3))
def test_angles_stay_sharp_next_to_zero(small: float):
    assert geometry.angle_between(at(1, 0, 0), at(1, small, 0)) == pytest.approx(np.degrees(small), rel=1e-5)
