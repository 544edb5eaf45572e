"""From pixels to metres, by one camera and by two."""

import numpy as np
import pytest

from reportgen.measuring import camera
from tests.measuring import pinhole

SIZE = (pinhole.WIDTH, pinhole.HEIGHT)


def planes(views, points):
    return [
        camera.from_centre(view.picture(points), SIZE, view.plays) / view.pixels_per_metre  # type: ignore[arg-type]
        for view in views
    ]


def test_a_left_handed_players_target_is_on_the_pictures_left():
    np.testing.assert_allclose(camera.from_centre((860, 440), SIZE, "left"), [100, 100])


def test_a_right_handed_players_target_is_on_the_pictures_right():
    np.testing.assert_allclose(camera.from_centre((1060, 640), SIZE, "right"), [100, -100])


def test_parallel_projection_leaves_a_place_as_it_shows():
    assert camera.without_perspective(np.array(0.7), 0.4, 0.0) == 0.7


@pytest.mark.parametrize("plays", ["right", "left"])
def test_two_cameras_give_back_every_point(plays: str):
    views = (
        pinhole.View("face-on", 3.4, 1.2, 0.3, 480.0, plays),
        pinhole.View("down-the-line", 6.5, 0.9, 0.5, 510.0, plays),
    )
    points = np.random.default_rng(3).uniform([-0.8, -0.5, 0], [0.8, 0.9, 1.9], (50, 3))
    face_on, down = planes(views, points)
    found = camera.triangulate(face_on, down, camera.Distances(1 / 3.4, 1 / 6.5), camera.Feet(-0.3, -0.5))
    np.testing.assert_allclose(found.x + 0.3, points[:, 0], atol=1e-12)
    np.testing.assert_allclose(found.y + 0.5, points[:, 1], atol=1e-12)
    np.testing.assert_allclose(found.z_face_on + 1.2, points[:, 2], atol=1e-12)
    np.testing.assert_allclose(found.z_down + 0.9, points[:, 2], atol=1e-12)


@pytest.mark.parametrize(("yaw_face_on", "yaw_down"), [(3.0, 3.0), (-4.0, 1.0), (10.0, -7.0)])
def test_two_cameras_that_are_turned_give_back_every_point_where_their_yaws_are_known(yaw_face_on, yaw_down):
    views = (
        pinhole.View("face-on", 3.4, 1.2, yaw_deg=yaw_face_on),
        pinhole.View("down-the-line", 6.5, 0.9, yaw_deg=yaw_down),
    )
    points = np.random.default_rng(4).uniform([-0.8, -0.5, 0], [0.8, 0.9, 1.9], (50, 3))
    face_on, down = planes(views, points)
    yaws = camera.Yaws.of(np.radians(yaw_face_on), np.radians(yaw_down))
    found = camera.triangulate(face_on, down, camera.Distances(1 / 3.4, 1 / 6.5), camera.Feet(0, 0), yaws)
    np.testing.assert_allclose(np.stack([found.x, found.y], -1), points[:, :2], atol=1e-12)
    np.testing.assert_allclose(found.z_face_on + 1.2, points[:, 2], atol=1e-12)
    np.testing.assert_allclose(found.z_down + 0.9, points[:, 2], atol=1e-12)


def test_the_middle_of_the_feet_is_found_wherever_the_cameras_aim():
    views = (pinhole.View("face-on", 3.4, 1.2, 0.3), pinhole.View("down-the-line", 6.5, 0.9, 0.5))
    ankles = np.array([[0.26, 0.03, 0.08], [-0.26, -0.03, 0.08]])
    face_on, down = planes(views, ankles)
    feet = camera.middle_of_feet((face_on[0], face_on[1]), (down[0], down[1]), 1 / 3.4, 1 / 6.5)
    assert (feet.x, feet.y) == pytest.approx((-0.3, -0.5), abs=1e-12)
