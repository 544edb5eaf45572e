"""Tempo from frame numbers, and the time that a frame leaves open."""

from math import sqrt

import pytest

from reportgen.measuring.timing import frame_rate, frame_time_u, lag, lag_u, one_clock_u, tempo_ratio


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


def test_a_pelvis_at_300_degrees_a_second_is_sure_to_6_degrees_in_a_slow_film():
    assert frame_time_u(300, 30) == pytest.approx(6.45, abs=0.01)


def test_films_that_do_not_tell_leave_the_lag_that_is_declared():
    assert lag_u(None, 240, 8) == lag_u(0.1, None, 8) == 0.008


def test_films_that_tell_leave_what_they_tell_and_half_a_frame():
    assert lag_u(0.0, 240, 8) == pytest.approx(0.5 / 240 / sqrt(3))
    assert lag_u(-1.0, 240, 8) == pytest.approx(1.0, abs=1e-4)


def times(face_on: dict[str, float], down: dict[str, float]) -> dict[tuple[str, str], float]:
    return {
        (view, at): seconds
        for view, film in (("face-on", face_on), ("down-the-line", down))
        for at, seconds in film.items()
    }


FACE_ON = {"setup": 0.4, "top": 2.7, "delivery": 2.95, "impact": 3.0}


def test_two_films_with_clocks_of_their_own_tell_how_far_they_disagree_from_delivery_to_impact():
    down = {"setup": 12.0, "top": 44.3, "delivery": 44.25, "impact": 44.35}
    assert lag(times(FACE_ON, down)) == pytest.approx(0.05)
    assert lag(times(down, FACE_ON)) == pytest.approx(-0.05)


@pytest.mark.parametrize("lacking", ["delivery", "impact"])
def test_a_film_that_does_not_tell_both_moments_tells_nothing(lacking):
    down = {at: seconds for at, seconds in FACE_ON.items() if at != lacking}
    assert lag(times(FACE_ON, down)) is None


def test_no_frame_rate_is_refused():
    with pytest.raises(ValueError, match="above 0"):
        frame_time_u(500, 0)


@pytest.mark.parametrize(("by", "ms"), [("sound", 1), ("pictures", 8)])
def test_films_on_one_clock_leave_what_their_pictures_are_apart_and_how_sure_the_clock_is(by, ms):
    assert one_clock_u(0.0, by, 120) == pytest.approx(ms / 1000 / sqrt(3))
    assert one_clock_u(-0.5, by, 120) == pytest.approx(0.5, abs=1e-4)


def test_a_clock_by_impact_as_a_person_picked_it_is_right_to_a_frame_of_each_film():
    assert one_clock_u(0.0, "hand", 120) == pytest.approx(sqrt(2 / 3) / 120)
