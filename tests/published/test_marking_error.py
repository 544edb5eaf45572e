"""How marks and cameras blur a value, against closed forms and figures worked out apart from the program.

The figures are those of the project's own study of marking error (worked out with numpy, not measured); the closed
forms are textbook propagation of uncertainty (JCGM 100:2008, 5.1.2).
"""

from datetime import date, timedelta
from math import cos, hypot, radians, sin, sqrt

import numpy as np
import pytest
from scipy.stats import t as student

from reportgen.judging.conformity import chances, given_the_range
from reportgen.judging.course import factor, fitted
from reportgen.judging.covariance import Taken
from reportgen.judging.difference import u_of_difference
from reportgen.judging.level import WEEKS, level
from reportgen.measuring import camera
from reportgen.measuring.blur import Noise
from reportgen.measuring.stands import Shown, Stand, yaw_by_stick
from reportgen.measuring.stills import measure
from reportgen.records.findings import BandUsed, Parts, Reading
from reportgen.records.stills import Scale, Still
from tests.bench.measuring import METRICS
from tests.measuring import figures, pinhole

COMPONENTS = {"habit": 4.392886, "visit": 2.196443, "camera": 2.574743}
STILL, SWING, DAY, CLOCK = 3.199916, 3.0, 2.0, 1.202813
"""Pelvis open at impact: still and click, and of single swings the player's scatter and the clock."""


def pelvis(swings: int, *, marked_by: str | None = None, stand: str | None = None) -> Reading:
    parts = Parts(
        **COMPONENTS, still=STILL / sqrt(swings), clock=CLOCK / sqrt(swings), player=hypot(DAY, SWING / sqrt(swings))
    )
    return Reading(
        metric="pelvis-open-impact", value=40, u=7, how="still", parts=parts, marked_by=marked_by, stand=stand
    )


@pytest.mark.parametrize(
    ("swings", "stand_kept", "same_marker", "published"),
    [
        (1, False, True, 8.50175), (1, False, False, 10.529703), (1, True, True, 7.71616), (1, True, False, 9.906261),
        (3, False, True, 6.685666), (3, False, False, 9.126501), (3, True, True, 5.653096), (3, True, False, 8.399546),
        (5, False, True, 6.259538), (5, False, False, 8.81911), (5, True, True, 5.142098), (5, True, False, 8.064494),
    ],
)  # fmt: skip
def test_a_difference_counts_what_its_two_lessons_do_not_share(swings, stand_kept, same_marker, published):
    """What is left of a camera that was put back on its marks is a share of all of its part here, and of its yaw alone
    there: four in a thousand apart."""
    stand = "kept" if stand_kept else None
    first = pelvis(swings, stand=stand)
    second = pelvis(swings, stand=stand, marked_by=None if same_marker else "somebody else")
    assert u_of_difference(first, second) == pytest.approx(published, rel=4e-3)


def turned(noise: Noise, degrees: float, part: str) -> float:
    """The part of u of a level hip line of 182.6 mm that is turned open by so much, two square cameras far away."""
    half = 0.0913
    line = np.array([[half * cos(radians(degrees)), -half * sin(radians(degrees)), 0.95]])
    joints = {"lead-hip": line, "trail-hip": -line + [[0, 0, 1.9]]}
    for side, x in (("lead", 0.24), ("trail", -0.24)):
        joints[f"{side}-ankle"] = np.array([[x, 0.0, 0.08]])
    views = pinhole.View("face-on", 1e6, 1.0), pinhole.View("down-the-line", 1e6, 1.0)
    taken = pinhole.stills({"setup": joints, "impact": joints}, 0, views, np.random.default_rng(1),
                           checkpoints=("setup", "impact"))  # fmt: skip
    only = {"pelvis-open-impact": METRICS["pelvis-open-impact"]}
    readings, _ = measure(taken, only, "right", pinhole.sizes(taken), noise=noise, samples=8000)
    assert readings[0].value == pytest.approx(degrees, abs=1e-6)
    assert readings[0].parts is not None
    return float(getattr(readings[0].parts, part))


NOTHING = {"click_px": 1e-6, "scale_px": 1e-6, "habit_mm": 0, "visit_mm": 0, "still_mm": 0, "yaw_deg": 0, "roll_deg": 0,
           "scale_plane_m": 0}  # fmt: skip


@pytest.mark.parametrize(("degrees", "published"), [(0, 3.0), (45, 2.12132)])
def test_the_yaws_of_two_cameras_make_a_turn_uncertain(degrees, published):
    """u = sqrt(cos^4(turn) yaw_down^2 + sin^4(turn) yaw_face^2), both yaws 3 degrees."""
    assert turned(Noise(**{**NOTHING, "yaw_deg": 3}), degrees, "camera") == pytest.approx(published, rel=0.03)


@pytest.mark.parametrize(("mm", "published"), [(5, 2.218742), (12, 5.324981)])
def test_where_the_hips_are_seen_makes_a_turn_uncertain(mm, published):
    """u = sigma sqrt(2) / length, here 182.6 mm."""
    assert turned(Noise(**{**NOTHING, "habit_mm": mm}), 0, "habit") == pytest.approx(published, rel=0.03)


@pytest.mark.parametrize(
    ("x", "y", "yaws", "planes"),
    [
        (0.12, -0.08, (3.0, 3.0), (0.113427, -0.083862)),
        (-0.25, 0.3, (-4.0, 1.0), (-0.288817, 0.323147)),
    ],
)
def test_two_cameras_whose_yaws_are_known_give_back_the_place(x, y, yaws, planes):
    """Plane coordinates of a point seen from 4.4 m face-on and 4.2 m down the line."""
    face_on, down = (np.array([plane, 0.0]) for plane in planes)
    distances, feet = camera.Distances(1 / 4.4, 1 / 4.2), camera.Feet(0.0, 0.0)
    found = camera.triangulate(face_on, down, distances, feet, camera.Yaws.of(*np.radians(yaws)))
    assert (found.x, found.y) == pytest.approx((x, y), abs=1e-6)


@pytest.mark.parametrize(
    ("one", "other", "focal", "u_click"),
    [
        ((155.969104, 622.009571), (99.594236, 490.196208), 2100.0, 0.54),  # down-the-line, along the target line
        ((4.063537, 569.384224), (31.69301, 701.184666), 2200.0, 0.55),  # face-on, across it
    ],
)
def test_a_stick_on_the_ground_tells_how_a_level_camera_is_turned(one, other, focal, u_click):
    """Two ends in pixels to the target or ball and below the centre, of a camera turned by 3 degrees; and what clicks
    of 3 px make of it."""
    assert np.degrees(yaw_by_stick(one, other, focal)) == pytest.approx(3.0, abs=1e-5)
    clicks = 3.0 * np.random.default_rng(5).standard_normal((2, 2, 20_000))
    ends = [tuple(np.add(end, click.T).T) for end, click in zip((one, other), clicks, strict=True)]
    assert np.std(np.degrees(yaw_by_stick(*ends, focal))) == pytest.approx(u_click, abs=0.01)


@pytest.mark.parametrize(
    ("one", "other", "focal", "off"),
    [
        ((155.969104, 622.009571), (99.594236, 490.196208), 2100.0, (0.02, 0.21)),
        ((4.063537, 569.384224), (31.69301, 701.184666), 2200.0, (0.01, 0.1)),
    ],
)
def test_a_camera_that_leans_or_points_down_a_little_hardly_spoils_it(one, other, focal, off):
    """The yaw read when the camera leans by 1 degree, and when it points down by half a degree."""
    lean = radians(1.0)
    leaning = [(u * cos(lean) - v * sin(lean), v * cos(lean) + u * sin(lean)) for u, v in (one, other)]
    down = [(u, v + focal * np.tan(radians(0.5))) for u, v in (one, other)]
    read = [abs(float(np.degrees(yaw_by_stick(*ends, focal))) - 3.0) for ends in (leaning, down)]
    assert read == pytest.approx(off, abs=0.06)


@pytest.mark.parametrize(("distance", "nearer", "measured"), [(4.4, 0.25, 530.120482), (4.2, -0.15, 482.758621)])
def test_a_scale_that_lies_nearer_than_the_player_shows_too_large(distance, nearer, measured):
    """True pixels a metre are measured * (D - s) / D: 500 in both cases."""
    scale = Scale.model_validate({"from": (0, 0), "to": (measured, 0), "length": "1.00 m", "is_stick": True})
    still = Still(file="x.png", view="face-on", checkpoint="setup")
    shown = Shown(still, 1, (1920, 1080), "right", scale, np.array([scale.px_per_m]), distance, None)
    square = np.zeros(1)
    stand = Stand(square, square, square, stick_nearer=np.array([nearer]))
    assert 1 / stand.metres_a_pixel(shown) == pytest.approx(500.0, abs=1e-6)


@pytest.mark.parametrize(("yaws", "turn", "read"), [((3, 3), 38, 35.0), ((3, 0), 45, 43.576521)])
def test_a_camera_that_is_not_square_shows_another_turn(yaws, turn, read):
    """Parallel rays, a line turned closed: a common yaw is a turn of the player."""
    lead, across = radians(turn), radians(yaws[0])
    x, y = cos(lead), sin(lead)
    seen_x = x * cos(across) + y * sin(across)
    seen_y = y * cos(radians(yaws[1])) - x * sin(radians(yaws[1]))
    views = np.array([seen_x, 0.0]), np.array([seen_y, 0.0])
    found = camera.triangulate(*views, camera.Distances(0.0, 0.0), camera.Feet(0.0, 0.0))
    assert np.degrees(np.arctan2(found.y, found.x)) == pytest.approx(read, abs=1e-4)


MOST = {"trail-hip-load": 3.2, "seat-forward-impact": 4.4, "trail-heel-lift-impact": 3.8}


@pytest.mark.parametrize(("metric", "most"), MOST.items())
def test_the_smallest_change_of_one_swing_that_is_seen_in_a_movement(metric, most):
    """Two lessons of one marked swing each, the stand put up anew: 1.96 times u of the difference, in cm."""
    random = np.random.default_rng(1)
    figure = figures.bodies(1, random)
    views = pinhole.View("face-on", 4.4, 1.1), pinhole.View("down-the-line", 4.2, 1.1, 0.3)
    taken = [
        still.model_copy(update={"fps": 120.0}) for still in pinhole.stills(figure, 0, views, random, click_px=0.0)
    ]
    readings = {r.metric: r for r in measure(taken, METRICS, "right", pinhole.sizes(taken))[0]}
    assert 1.96 * u_of_difference(readings[metric], readings[metric]) <= most


@pytest.mark.parametrize(("lessons", "u", "whole"), [(5, 5.45, 13.511532), (14, 3.97, 6.706428)])
def test_a_line_through_equal_steps_has_the_textbook_uncertainty(lessons, u, whole):
    """Ordinary least squares: u of the slope is u_L over the root of the sum of squares of the times, and the smallest
    change over all that is seen at 95 % is 1.96 times that times the number of steps."""
    days = [date(2026, 1, 1) + timedelta(weeks=week) for week in range(lessons)]
    taken = [Taken(day, Reading(metric="x", value=40, u=u, how="still", parts=Parts(visit=u))) for day in days]
    assert 1.96 * fitted(taken).u == pytest.approx(whole, rel=1e-4)


@pytest.mark.parametrize("chance", [0.05, 0.01, 0.003])
@pytest.mark.parametrize("dof", [11.3, 14.0, 18.7])
def test_the_factor_of_a_line_is_students(chance, dof):
    assert factor(chance, dof) == pytest.approx(student.ppf(1 - chance / 2, dof), rel=2e-3)


@pytest.mark.parametrize(
    ("values", "level_now", "sd"),
    [([50, 47, 49, 44, 46, 41], 44.763912, 2.305146), ([45, 45, 45], 45.0, 2.558599)],
)
def test_a_level_is_that_of_a_kalman_filter(values, level_now, sd):
    """A local level with the variances 16 of a value and 2.5 of a week, from a filter that knows nothing beforehand."""
    width = 4 * sqrt(2.5 * WEEKS)
    wanders = BandUsed(band="x", low=30, high=30 + width, basis="common practice")
    days = [date(2026, 1, 1) + timedelta(weeks=week) for week in range(len(values))]
    parts = Parts(visit=4.0)
    taken = [
        Taken(day, Reading(metric="x", value=value, u=4, how="still", parts=parts))
        for day, value in zip(days, values, strict=True)
    ]
    found = level(taken, METRICS["pelvis-open-impact"], wanders)
    assert (found.value, found.u) == (pytest.approx(level_now, abs=1e-6), pytest.approx(sd, abs=1e-6))


def test_what_every_lesson_shares_stays_in_the_level():
    """u of the level is √(P + h² + c²): the habit of one marker and the camera of one stand never average out."""
    band = BandUsed(band="x", low=30, high=50, basis="common practice")
    days = [date(2026, 1, 1) + timedelta(weeks=week) for week in range(6)]
    u = {}
    for habit in (0.0, 3.0):
        parts = Parts(visit=4.0, habit=habit)
        taken = [Taken(day, Reading(metric="x", value=40, u=5, how="still", parts=parts)) for day in days]
        u[habit] = level(taken, METRICS["pelvis-open-impact"], band).u
    assert u[3.0] == pytest.approx(hypot(u[0.0], 3.0), rel=1e-9)


@pytest.mark.parametrize(
    ("value", "mean", "below", "inside", "above"),
    [(30, 34.43662, 0.541253, 0.458669, 7.8e-05), (45, 45.0, 0.032977, 0.934046, 0.032977)],
)
def test_the_range_weighs_in_as_something_known_beforehand(value, mean, below, inside, above):
    """Variances of 22 of the lesson and 20 of what never averages out, a range from 35 to 55."""
    where, sd = given_the_range(value, sqrt(22.0 + 20.0), 35, 55)
    of = chances(where, sd, 35, 55)
    assert (where, sd) == (pytest.approx(mean, abs=1e-5), pytest.approx(5.438517, abs=1e-6))
    assert (of.below, of.inside, of.above) == (
        pytest.approx(below, abs=1e-6), pytest.approx(inside, abs=1e-6), pytest.approx(above, abs=1e-6),
    )  # fmt: skip
