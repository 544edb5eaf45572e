"""Tempo from frame numbers, and the time that a frame leaves open."""

import pytest

from reportgen.measuring.timing import frame_rate, frame_time_u, tempo_ratio


def test_tempo_is_backswing_over_downswing():
    assert tempo_ratio(100, 190, 220)[0] == 3.0


@pytest.mark.parametrize(("fps", "percent"), [(30, 13.1), (60, 6.5), (120, 3.3), (240, 1.6)])
def test_a_quarter_of_a_second_carries_less_the_faster_the_film(fps: int, percent: float):
    ratio, u = tempo_ratio(0, 0.75 * fps, fps)
    assert 100 * u / ratio == pytest.approx(percent, abs=0.05)


def test_the_remark_has_the_rate_and_what_a_frame_carries():
    remark = frame_rate(0, 22.5, 30, 30)
    assert (remark.code, remark.figures["fps"], remark.figures["seconds"]) == ("frame rate", 30, 0.25)
    assert remark.figures["percent"] == pytest.approx(13.1, abs=0.05)


@pytest.mark.parametrize("frames", [(10, 10, 20), (10, 30, 30), (30, 20, 10)])
def test_frames_out_of_order_are_refused(frames):
    with pytest.raises(ValueError, match="comes before"):
        tempo_ratio(*frames)


def test_a_pelvis_at_500_degrees_a_second_moves_4_8_degrees_in_a_slow_frame():
    assert frame_time_u(500, 30) == pytest.approx(4.81, abs=0.01)


def test_no_frame_rate_is_refused():
    with pytest.raises(ValueError, match="above 0"):
        frame_time_u(500, 0)
