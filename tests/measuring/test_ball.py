"""Where face and path do not say to which side the ball curves."""

import pytest

from reportgen.measuring.ball import SHARE_OF_FACE, Figure, curves_to, low_point


def test_a_face_to_path_within_twice_its_u_says_no_side():
    assert curves_to(Figure(1.9, 1)) is None
    assert curves_to(Figure(2.1, 1)) == "trail"


@pytest.mark.parametrize("strike_off", [0.011, -0.02])
def test_after_a_strike_off_the_middle_face_and_path_say_no_side(strike_off):
    assert curves_to(Figure(-6, 1), strike_off) is None


@pytest.mark.parametrize("strike_off", [None, 0.0, 0.010, -0.010])
def test_after_a_strike_in_the_middle_they_do(strike_off):
    assert curves_to(Figure(-6, 1), strike_off) == "lead"


def test_a_head_that_goes_down_has_its_low_point_beyond_the_ball():
    assert low_point(Figure(-4, 1), Figure(60, 2)).value > 0 > low_point(Figure(2, 1), Figure(48, 2)).value


def test_every_club_that_is_swung_has_a_share_of_the_face():
    assert set(SHARE_OF_FACE) == {"driver", "wood", "hybrid", "iron", "wedge"}
