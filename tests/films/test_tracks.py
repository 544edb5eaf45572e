"""Sides are put right before anything is taken from a track, and two clocks are found by heights alone."""

import numpy as np
import pytest

from reportgen.films.clocks import lag_by_heights
from reportgen.films.moments import moments
from reportgen.films.pose import EXCHANGED, POINTS, WEIGHTS, Pose
from reportgen.films.swings import on_one_clock, swing_of
from reportgen.films.tracks import Seen, smoothed, track
from reportgen.records.words import Side, View

RATE = 120


def body(view: View, plays: Side) -> np.ndarray:
    """(35, 2) a player over the ball: the lead side nearer the target face-on, the trail foot lower down-the-line; left
    and right as the model has them."""
    points = np.zeros((POINTS + 2, 2))
    heights = {0: 100, 11: 200, 13: 280, 15: 360, 23: 380, 25: 500, 27: 620, 29: 640, 31: 640}
    for left, height in heights.items():
        lead_x, trail_x = (340, 260) if view == "face-on" else (305, 295)
        lead_y, trail_y = (0, 0) if view == "face-on" else (-8, 8)
        points[left], points[left + 1 if left else 0] = (lead_x, height + lead_y), (trail_x, height + trail_y)
    if plays == "left":
        points[:, 0] = 600 - points[:, 0]
        points = points[EXCHANGED]  # the lead side of who plays left is the right
    return points


def film(view: View, plays: Side, pictures: int, exchanged: range = range(0)) -> list[Seen]:
    """Pictures in which nothing moves; in those `exchanged` the model takes left for right."""
    still = body(view, plays)
    return [
        Seen(n, n / RATE, Pose(1.0, still[EXCHANGED] if n in exchanged else still, np.ones(POINTS)))
        for n in range(pictures)
    ]


@pytest.mark.parametrize("plays", ["right", "left"])
@pytest.mark.parametrize("view", ["face-on", "down-the-line"])
def test_left_taken_for_right_is_put_right(view: View, plays: Side) -> None:
    sound, confused = (track(film(view, plays, 30, where), view, plays) for where in (range(0), range(10, 20)))
    assert (confused.points == sound.points).all()


@pytest.mark.parametrize(("plays", "toward"), [("right", 1), ("left", -1)])
def test_the_lead_side_is_nearer_the_target_face_on(plays: Side, toward: int) -> None:
    points = track(film("face-on", plays, 5), "face-on", plays).points
    assert ((points[:, 27, 0] - points[:, 28, 0]) * toward > 0).all()


def test_a_limb_alone_that_is_exchanged_is_put_right() -> None:
    seen = film("face-on", "right", 20)
    wrong = seen[7].pose.points.copy()
    wrong[[11, 12, 13, 14, 15, 16]] = wrong[[12, 11, 14, 13, 16, 15]]
    seen[7] = seen[7]._replace(pose=Pose(1.0, wrong, np.ones(POINTS)))
    points = track(seen, "face-on", "right").points
    assert (points[7] == points[6]).all()


def test_sides_that_fall_together_are_not_told() -> None:
    seen = film("face-on", "right", 20)
    together = seen[7].pose.points.copy()
    together[[25, 26, 27, 28, 29, 30, 31, 32], 0] = 300
    seen[7] = seen[7]._replace(pose=Pose(1.0, together, np.ones(POINTS)))
    told = track(seen, "face-on", "right").told
    assert not told[7, 27]
    assert told[7, 11]
    assert told[[6, 8], 27].all()


def test_smoothing_leaves_a_steady_movement_alone_and_halves_noise() -> None:
    rng = np.random.default_rng(5)
    seen = film("face-on", "right", 60)
    noisy = [
        one._replace(pose=one.pose._replace(points=one.pose.points + np.array([4.0 * n, 0])))
        for n, one in enumerate(seen)
    ]
    steady = smoothed(track(noisy, "face-on", "right"), [27])[:, 0, 0]
    assert np.diff(steady) == pytest.approx(4.0)
    jitter = [one._replace(pose=one.pose._replace(points=one.pose.points + rng.normal(0, 5, (35, 2)))) for one in seen]
    assert smoothed(track(jitter, "face-on", "right"), [27])[:, 0, 1].std() < 0.6 * 5


def test_pictures_without_a_person_are_no_part_of_a_track() -> None:
    seen = [*film("face-on", "right", 5), Seen(5, 5 / RATE, None)]
    assert list(track(seen, "face-on", "right").numbers) == [0, 1, 2, 3, 4]


def test_a_film_without_a_person_proposes_nothing() -> None:
    swing = swing_of([Seen(n, n / RATE, None) for n in range(50)], (0.2,), "face-on", "right")
    assert swing.moments == ()
    assert on_one_clock(swing, swing).by_pictures is None


def test_a_player_who_stands_still_made_no_swing() -> None:
    assert moments(track(film("face-on", "right", 200), "face-on", "right"), "face-on", "right") == ()


@pytest.mark.parametrize("shift", [-0.31, 0.0, 0.2471])
def test_two_films_are_put_on_one_clock_by_heights(shift: float) -> None:
    """Heights that are known as a formula, seen by two cameras of other scales and rates."""

    def seen(rate: float, scale: float, ahead: float, view: View) -> list[Seen]:
        out = []
        for n in range(int(3 * rate)):
            points = body(view, "right") * scale
            clock = n / rate + ahead
            for name in (11, 12, 15, 16, 25, 26):
                points[name, 1] += scale * 40 * np.sin(2.1 * clock + name) * np.exp(-((clock - 1.5) ** 2))
            out.append(Seen(n, n / rate, Pose(1.0, points, np.ones(POINTS))))
        return out

    first = track(seen(120, 1.0, 0.0, "face-on"), "face-on", "right")
    second = track(seen(60, 1.3, shift, "down-the-line"), "down-the-line", "right")
    assert lag_by_heights(first, second) == pytest.approx(shift, abs=0.004)


def test_the_weights_are_the_very_file_that_was_taken() -> None:
    import hashlib

    origin = (WEIGHTS.parent / "ORIGIN.txt").read_text(encoding="utf-8")
    assert f"sha256 {hashlib.sha256(WEIGHTS.read_bytes()).hexdigest()}" in origin
    assert "Apache License" in (WEIGHTS.parent / "LICENSE").read_text(encoding="utf-8")
