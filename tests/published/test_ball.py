"""What club and ball say of each other, against published examples, rules of thumb and geometry.

`cases/ball.json` holds the source of each and what it rests on: most were read second-hand or worked out here.
"""

import json
from math import sqrt
from pathlib import Path
from random import Random

import pytest
from uncertainties import ufloat, umath

from reportgen.measuring.ball import (
    Figure,
    axis_from_spins,
    axis_tilt,
    curve,
    curves_to,
    face_from_start,
    face_of_lie,
    face_to_path,
    loft_to_path,
    low_point,
    off_line,
    path_of_swing,
    start_direction,
)
from reportgen.measuring.speeds import speed_ratio

CASES = json.loads((Path(__file__).parent / "cases" / "ball.json").read_text(encoding="utf-8"))["cases"]


def exact(*values):
    return [Figure(value, 0.0) for value in values]


def inputs_of(case, *names):
    return exact(*(CASES[case]["inputs"][name] for name in names))


def expected(case):
    return pytest.approx(CASES[case]["expected"], abs=CASES[case]["tolerance"])


@pytest.mark.parametrize("case", ["dplane-4", "dplane-5"])
def test_the_tilt_of_the_axis_is_that_of_the_plane_of_club_and_face(case):
    assert axis_tilt(*inputs_of(case, "attack", "dynloft", "face", "path")).value == expected(case)


@pytest.mark.parametrize("case", ["dplane-7", "dplane-8"])
def test_side_spin_and_back_spin_tilt_the_axis_as_published(case):
    assert axis_from_spins(*inputs_of(case, "sidespin", "backspin")).value == expected(case)


def test_the_tilt_of_a_small_face_to_path_is_its_share_of_the_loft_to_path():
    """tan(tilt) = Δ / loft to path for small angles (own algebra)."""
    tilt, loft = (formula(*exact(-1, 14, 0.1, 0)).value for formula in (axis_tilt, loft_to_path))
    assert tilt == pytest.approx(0.1 / loft * 180 / 3.141592653589793, rel=0.05)


def test_the_loft_to_path_of_a_face_square_to_the_path_is_loft_less_attack():
    """Both lie in one upright plane then (own geometry)."""
    assert loft_to_path(*exact(-4.1, 20.2, 3, 3)).value == pytest.approx(24.3, abs=1e-9)


def test_the_loft_to_path_has_the_cosine_that_is_printed():
    """cos = cosA cosL cosΔ + sinA sinL (Jorgensen, The Physics of Golf; from memory)."""
    draw = Random(1)
    for _ in range(50):
        attack, loft, face, path = draw.uniform(-9, 6), draw.uniform(5, 55), draw.uniform(-9, 9), draw.uniform(-9, 9)
        a, lo, delta = (umath.radians(x) for x in (attack, loft, face - path))
        printed = umath.degrees(
            umath.acos(umath.cos(a) * umath.cos(lo) * umath.cos(delta) + umath.sin(a) * umath.sin(lo))
        )
        assert loft_to_path(*exact(attack, loft, face, path)).value == pytest.approx(printed, abs=1e-6)


def test_face_to_path_is_that_of_the_open_table():
    assert face_to_path(*inputs_of("ftp-1", "face", "path")).value == expected("ftp-1")


@pytest.mark.parametrize("case", ["start-1", "start-2", "start-3"])
def test_the_start_is_the_published_mean_of_face_and_path(case):
    assert start_direction(*inputs_of(case, "face", "path", "w")).value == expected(case)


def test_the_face_is_worked_out_of_start_and_path():
    assert face_from_start(*inputs_of("start-4", "start_", "path", "w")).value == expected("start-4")


@pytest.mark.parametrize(
    ("case", "formula", "names"),
    [("start-5", start_direction, ["face", "path", "w"]), ("start-6", face_from_start, ["start_", "path", "w"])],
)
def test_the_uncertainty_of_start_and_face_is_propagated(case, formula, names):
    given = CASES[case]["inputs"]
    assert formula(*(Figure(given[name], given[f"u_{name}"]) for name in names)).u == expected(case)


@pytest.mark.parametrize("case", ["offset-2", "offset-3", "offset-4"])
def test_a_start_line_is_so_far_off_as_published(case):
    assert off_line(*inputs_of(case, "distance", "start_")).value == expected(case)


def test_the_curve_is_counted_from_the_start_line():
    assert curve(*inputs_of("curve-1", "side", "carry", "start_")).value == expected("curve-1")


def test_half_a_degree_of_start_makes_a_curve_at_150_metres_uncertain_by_1_3():
    """150 m · tan(0.5 deg) = 1.3 m (own)."""
    assert curve(Figure(6, 0), Figure(150, 0), Figure(-2, 0.5)).u == pytest.approx(1.3, abs=0.02)


@pytest.mark.parametrize("seed", range(5))
def test_uncertainties_are_those_of_the_uncertainties_package(seed):
    """First order of small ones, against derivatives by rule."""
    draw = Random(seed)
    side, carry, start = Figure(draw.gauss(0, 10), 0.2), Figure(draw.uniform(60, 200), 2), Figure(draw.gauss(0, 3), 0.1)
    y, d, s = (ufloat(*one) for one in (side, carry, start))
    assert curve(side, carry, start).u == pytest.approx((y - d * umath.tan(umath.radians(s))).std_dev, rel=1e-3)


@pytest.mark.parametrize("case", ["path-1", "path-3"])
def test_a_head_that_still_goes_down_goes_out(case):
    """The printed examples are small angles."""
    assert path_of_swing(*inputs_of(case, "swingdir", "attack", "plane")).value == expected(case)


def test_the_low_point_is_that_of_the_arc():
    assert low_point(*inputs_of("low-1", "attack", "plane", "radius")).value == expected("low-1")


@pytest.mark.parametrize("case", ["lie-1", "lie-2"])
def test_toe_up_aims_to_the_lead_side(case):
    assert face_of_lie(*inputs_of(case, "loft", "toe_up")).value == expected(case)


@pytest.mark.parametrize("case", ["sign-1", "sign-2", "sign-3", "sign-4", "sign-5"])
def test_the_ball_curves_to_the_side_that_the_face_is_open_to(case):
    side = curves_to(face_to_path(*inputs_of(case, "face", "path")))
    assert (side or "straight") == CASES[case]["expected"]


@pytest.mark.parametrize("case", ["sign-1", "sign-2", "sign-3", "sign-5"])
def test_the_axis_tilts_to_the_side_that_the_ball_curves_to(case):
    face, path = inputs_of(case, "face", "path")
    tilt = axis_tilt(*exact(-2, 20), face, path).value
    assert ("trail" if tilt > 0 else "lead") == CASES[case]["expected"]


@pytest.mark.parametrize("case", ["ratio-1", "ratio-2"])
def test_the_speed_ratio_is_that_of_its_speeds(case):
    given = CASES[case]["inputs"]
    assert speed_ratio(given["ball"], 0.1, given["club"], 0.1)[0] == expected(case)


def test_the_uncertainty_of_the_speed_ratio_is_propagated():
    given = CASES["ratio-3"]["inputs"]
    assert speed_ratio(given["ball"], given["u_ball"], given["club"], given["u_club"])[1] == expected("ratio-3")


def test_independent_uncertainties_add_in_squares():
    assert face_to_path(Figure(3, 1), Figure(-4, 1)).u == pytest.approx(sqrt(2))
