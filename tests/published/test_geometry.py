"""Angles and triangulation against sources and implementations outside the project."""

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.spatial.transform import Rotation
from uncertainties import ufloat, umath

from reportgen.measuring import camera, geometry
from reportgen.measuring.blur import Noise
from reportgen.measuring.stills import measure
from reportgen.records.stills import Still
from tests.bench.measuring import METRICS
from tests.measuring import pinhole

WINTER = json.loads((Path(__file__).parent / "cases" / "winter_appendix_a.json").read_text(encoding="utf-8"))
FRAMES = [pytest.param(frame, id=f"frame {frame['frame']}") for frame in WINTER["frames"]]
ALONG = np.array([1.0, 0.0])


def joints(frame):
    return {name: np.array(place) for name, place in frame["metres"].items()}


@pytest.mark.parametrize("frame", FRAMES)
@pytest.mark.parametrize(
    ("segment", "distal", "proximal"), [("leg", "ank", "knee"), ("thigh", "knee", "hip"), ("half_hat", "hip", "rib")]
)
def test_segment_angles_are_those_that_winter_printed(frame, segment, distal, proximal):
    at = joints(frame)
    angle = geometry.signed_angle(ALONG, at[proximal] - at[distal])
    assert angle == pytest.approx(frame["printed"][segment], abs=WINTER["tolerance_deg"])


@pytest.mark.parametrize("frame", FRAMES)
def test_joint_angles_are_those_that_winter_printed(frame):
    at = joints(frame)
    thigh, shank, trunk = at["hip"] - at["knee"], at["fib"] - at["ank"], at["rib"] - at["hip"]
    assert geometry.signed_angle(shank, thigh) == pytest.approx(frame["printed"]["knee"], abs=WINTER["tolerance_deg"])
    assert geometry.signed_angle(trunk, thigh) == pytest.approx(frame["printed"]["hip"], abs=WINTER["tolerance_deg"])


def test_an_angle_in_space_is_the_rotation_that_made_it():
    """scipy's rotation vectors: a direction turned by an angle about an axis square to it."""
    random = np.random.default_rng(5)
    first = random.standard_normal((500, 3))
    axis = np.cross(first, random.standard_normal((500, 3)))
    axis /= np.linalg.norm(axis, axis=-1, keepdims=True)
    angle = random.uniform(0, 180, 500)
    second = Rotation.from_rotvec(np.radians(angle)[:, None] * axis).apply(first) * random.uniform(0.1, 9, (500, 1))
    np.testing.assert_allclose(geometry.angle_between(first, second), angle, atol=1e-9)


def test_a_knee_bends_by_the_rotation_between_thigh_and_shank():
    random = np.random.default_rng(6)
    hip, thigh = random.standard_normal((300, 3)), random.standard_normal((300, 3))
    axis = np.cross(thigh, random.standard_normal((300, 3)))
    bend = random.uniform(0, 150, 300)
    axis /= np.linalg.norm(axis, axis=-1, keepdims=True)
    shank = Rotation.from_rotvec(np.radians(bend)[:, None] * axis).apply(thigh)
    np.testing.assert_allclose(geometry.flexion(hip, hip + thigh, hip + thigh + shank), bend, atol=1e-9)


def test_a_turn_is_the_first_of_scipys_intrinsic_angles():
    random = np.random.default_rng(7)
    turns, dips = random.uniform(-179, 179, 300), random.uniform(-60, 60, 300)
    lines = Rotation.from_euler("ZY", np.stack([turns, dips], -1), degrees=True).apply([0.4, 0.0, 0.0])
    np.testing.assert_allclose(geometry.turn(lines), turns, atol=1e-9)


# cv2.projectPoints, OpenCV 5.0.0, K = [800 0 320; 0 800 240; 0 0 1]: a point in metres and its pixel
@pytest.mark.parametrize(
    ("point", "pixel"), [((0.5, -0.25, 4.0), (420, 190)), ((-0.3, 0.6, 2.5), (224, 432)), ((0, 0, 2), (320, 240))]
)
def test_a_pinhole_picture_leads_back_to_the_point(point, pixel):
    distance, focal = 4.0, 800.0
    plane = camera.from_centre(pixel, (640, 480), "right") / (focal / distance)
    found = camera.without_perspective(plane, distance - point[2], 1 / distance)
    np.testing.assert_allclose(found, [point[0], -point[1]], atol=1e-6 / 200)


def test_a_length_behind_the_plane_reads_short_by_the_rule_of_similar_triangles():
    """L·Z / (Z + dz), Z 4 m, dz 0.25 m: 0.941176."""
    assert camera.without_perspective(np.array(0.9411764705882353), -0.25, 1 / 4) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize(("angle", "out", "shows"), [(30, 20, 31.566704), (45, 30, 49.106605), (60, 15, 60.852574)])
def test_a_line_out_of_the_plane_shows_steeper(angle, out, shows):
    """tan a' = tan a / cos φ."""
    a, phi = np.radians([angle, out])
    seen = np.array([np.cos(a) * np.cos(phi), np.sin(a)])
    assert geometry.signed_angle(ALONG, seen) == pytest.approx(shows, abs=1e-6)


def projection(view: pinhole.View) -> np.ndarray:
    """The 3 × 4 projection matrix of a camera, K [R | −R C], in homogeneous pixels."""
    focal = view.pixels_per_metre * view.distance
    inner = np.array([[focal, 0, pinhole.WIDTH / 2], [0, focal, pinhole.HEIGHT / 2], [0, 0, 1]])
    if view.view == "face-on":
        turned, place = [[1, 0, 0], [0, 0, -1], [0, -1, 0]], [view.aside, view.distance, view.height]
    else:
        turned, place = [[0, 1, 0], [0, 0, -1], [1, 0, 0]], [-view.distance, view.aside, view.height]
    rotation = np.array(turned, dtype=float)
    return inner @ np.hstack([rotation, -rotation @ np.array(place)[:, None]])


def test_triangulation_agrees_with_linear_least_squares():
    """The direct linear transform solved by numpy's lstsq, on random points seen by random pairs of cameras."""
    random = np.random.default_rng(8)
    for _ in range(40):
        face_on = pinhole.View("face-on", random.uniform(3, 8), random.uniform(0.8, 1.5), random.normal(0, 0.3))
        down = pinhole.View("down-the-line", random.uniform(3, 8), random.uniform(0.8, 1.5), random.normal(0, 0.3))
        points = random.uniform([-0.8, -0.6, 0], [0.8, 0.9, 1.9], (25, 3))
        seen = [view.picture(points) for view in (face_on, down)]
        size = (pinhole.WIDTH, pinhole.HEIGHT)
        planes = [camera.from_centre(pixels, size, "right") / 500.0 for pixels in seen]
        feet = camera.Feet(-face_on.aside, -down.aside)
        ours = camera.triangulate(planes[0], planes[1], camera.Distances(1 / face_on.distance, 1 / down.distance), feet)
        for number in range(len(points)):
            rows = [
                pixel[number][axis] * matrix[2] - matrix[axis]
                for pixel, matrix in zip(seen, (projection(face_on), projection(down)), strict=True)
                for axis in (0, 1)
            ]
            system = np.array(rows)
            least, *_ = np.linalg.lstsq(system[:, :3], -system[:, 3], rcond=None)
            assert ours.x[number] + face_on.aside == pytest.approx(least[0], abs=1e-9)
            assert ours.y[number] + down.aside == pytest.approx(least[1], abs=1e-9)
            assert ours.z_face_on[number] + face_on.height == pytest.approx(least[2], abs=1e-9)
            assert ours.z_down[number] + down.height == pytest.approx(least[2], abs=1e-9)


@pytest.mark.parametrize(
    ("proximal", "vertex", "distal", "u"),
    [((0, 300), (0, 0), (400, 0), 2.0), ((100, 200), (150, 420), (320, 610), 1.5), ((0, 100), (0, 0), (100, 0), 1.0)],
)
def test_the_spread_of_a_three_point_angle_is_its_propagated_uncertainty(proximal, vertex, distal, u):
    """Sampled clicks against first-order propagation by the uncertainties package."""
    (px, py), (vx, vy), (dx, dy) = ([ufloat(value, u) for value in point] for point in (proximal, vertex, distal))
    expected = umath.atan2((px - vx) * (dy - vy) - (py - vy) * (dx - vx), (px - vx) * (dx - vx) + (py - vy) * (dy - vy))
    random = np.random.default_rng(9)
    p, v, d = (np.array(point) + u * random.standard_normal((40_000, 2)) for point in (proximal, vertex, distal))
    sampled = np.std(geometry.signed_angle(p - v, d - v))
    assert sampled == pytest.approx(np.degrees(expected.std_dev), rel=0.03)


CLICK, PLACED, END = 3.0, 0.012, 2.0


def marked(view: str, checkpoint: str, marks: dict[str, tuple[float, float]]) -> Still:
    return Still(
        file=f"{view}-{checkpoint}.png",
        view=view,
        checkpoint=checkpoint,
        scale={"from": (400, 1000), "to": (900, 1000), "length": "1.00 m"},
        camera={"distance": pinhole.metres(1e6), "height": pinhole.metres(1.0)},
        marks=marks,
    )


def reading(metric: str, *taken: Still):
    noise = Noise(CLICK, END, 0, 0, 1000 * PLACED, 0, 0, 0)
    only = {metric: METRICS[metric]}
    readings, _ = measure(taken, only, "right", pinhole.sizes(list(taken)), noise=noise, samples=8_000)
    return readings[0]


def scale():
    """Pixels in a metre with the clicks on both ends of the scale."""
    return (ufloat(900, END) - ufloat(400, END)) / 1.0


def place(pixels: float, placed: bool = True):
    """A coordinate in pixels with its click and, in pixels too, the landmark's placement."""
    return ufloat(pixels, CLICK) + (ufloat(0, PLACED) * 500 if placed else 0)


def test_a_side_bend_has_the_propagated_uncertainty():
    marks = {"lead-hip": (1000, 540), "trail-hip": (900, 545), "neck": (870, 310)}
    lead, trail, neck = ([place(value) for value in marks[name]] for name in marks)
    expected = umath.atan2((lead[0] + trail[0]) / 2 - neck[0], (lead[1] + trail[1]) / 2 - neck[1])
    found = reading("side-bend-impact", marked("face-on", "impact", marks))
    assert found.value == pytest.approx(np.degrees(expected.nominal_value), abs=1e-6)
    assert found.u == pytest.approx(np.degrees(expected.std_dev), rel=0.03)


def test_a_rise_has_the_propagated_uncertainty_with_the_scale_it_shares():
    per_metre = scale()
    before, after = place(700), place(400)
    expected = 100 * (before - after) / per_metre
    found = reading(
        "lead-hip-rise",
        marked("face-on", "transition", {"lead-hip": (1000, 700)}),
        marked("face-on", "impact", {"lead-hip": (1010, 400)}),
    )
    assert found.value == pytest.approx(expected.nominal_value, abs=1e-3)
    assert found.u == pytest.approx(expected.std_dev, rel=0.03)


def test_a_planar_knee_bend_has_the_propagated_uncertainty():
    marks = {"trail-hip": (850, 500), "trail-knee": (950, 720), "trail-ankle": (860, 940)}
    hip, knee, ankle = ([place(value) for value in marks[name]] for name in marks)
    a, b = [k - h for k, h in zip(knee, hip, strict=True)], [n - k for n, k in zip(ankle, knee, strict=True)]
    expected = umath.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1])
    found = reading("trail-knee-flex-top", marked("down-the-line", "top", marks))
    out_of_plane = 0.2 * found.value
    assert found.value == pytest.approx(np.degrees(expected.nominal_value), abs=1e-6)
    assert np.sqrt(found.u**2 - out_of_plane**2) == pytest.approx(np.degrees(expected.std_dev), rel=0.03)
