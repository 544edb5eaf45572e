"""Patterns of shots against textbooks, scipy and simulation: ellipses, spreads, and two dates."""

import json
from math import ceil, cos, hypot, radians, sin
from pathlib import Path
from random import Random

import numpy as np
import pytest
from scipy.stats import f, levene, permutation_test, ttest_ind

from reportgen.judging.enough import power_of_ratio, shots_for_shift, shots_for_spread
from reportgen.judging.pattern import (
    Moments,
    centre_radius2,
    ellipse,
    f_point,
    moments,
    next_shot_radius2,
    pattern,
    robust_spread,
)
from reportgen.judging.reliability import minimal_detectable_change, spread
from reportgen.judging.two_patterns import (
    LEVEL,
    OF_DISTANCES,
    brown_forsythe,
    drawn,
    hotelling,
    permutation,
    two_patterns,
)

FILE = json.loads((Path(__file__).parent / "cases" / "ball.json").read_text(encoding="utf-8"))
CASES = FILE["cases"]
A, B = ([(side, carry) for carry, side in FILE["shots"][name]] for name in ("A", "B"))
SIDES = [[side for side, _ in shots] for shots in (A, B)]


def expected(case):
    return pytest.approx(CASES[case]["expected"], abs=CASES[case]["tolerance"])


# one date


@pytest.mark.parametrize("case", ["ell-pred-10", "ell-pred-20", "ell-pred80"])
def test_the_ellipse_of_the_next_shot_is_so_large(case):
    assert next_shot_radius2(CASES[case]["inputs"]["n"], CASES[case]["inputs"]["level"]) == expected(case)


def test_the_ellipse_of_the_centre_is_so_large():
    assert centre_radius2(10, 0.95) == expected("ell-mean")


@pytest.mark.parametrize("dof", [1, 3, 8, 18, 298])
def test_the_closed_form_of_the_f_distribution_is_that_of_scipy(dof):
    for share in (0.5, 0.8, 0.95, 0.99):
        assert f_point(share, dof) == pytest.approx(f.ppf(share, 2, dof), rel=1e-9)


def caught(share, n, trials, seed):
    """How often the ellipse of n shots holds one more shot of the same player, whose side and carry go together."""
    draw = np.random.default_rng(seed)
    shape = np.array([[9.0, 0.0], [-4.0, 5.0]])
    shots = draw.standard_normal((trials, n + 1, 2)) @ shape.T + [3.0, 150.0]
    return (
        sum(holds(ellipse(moments(of[:n].tolist()), next_shot_radius2(n, share)), *of[n].tolist()) for of in shots)
        / trials
    )


def holds(found, side, carry):
    """Whether a place lies in the ellipse that is drawn: by its axes and its tilt."""
    along, across = carry - found.carry, side - found.side
    turn = radians(found.tilt)
    return (
        hypot(
            (along * cos(turn) + across * sin(turn)) / found.long,
            (across * cos(turn) - along * sin(turn)) / found.short,
        )
        <= 1
    )


@pytest.mark.parametrize("n", [8, 10, 20])
def test_the_ellipse_holds_so_many_of_the_next_shots(n):
    assert 0.94 <= caught(0.95, n, 20_000, seed=11) <= 0.96
    assert 0.79 <= caught(0.80, n, 20_000, seed=12) <= 0.81


def test_the_pattern_of_ten_shots_is_the_one_worked_out():
    found = pattern(A)
    carry, side = found.carry, found.side
    assert [carry.mean, side.mean] == expected("pat-mean")
    assert [carry.median, side.median] == expected("pat-median")
    assert [carry.spread.sd, side.spread.sd] == expected("pat-sd")
    assert found.next_shot.tilt == expected("pat-angle")


def test_the_correlation_of_ten_shots_is_the_one_worked_out():
    of = moments(A)
    assert of.cov / (of.var_side * of.var_carry) ** 0.5 == expected("pat-corr")


def test_an_sd_of_ten_shots_has_the_interval_of_the_chi_square_distribution():
    found = spread(SIDES[0])
    assert [limit / found.sd for limit in found.interval] == expected("sd-ci-10")


@pytest.mark.parametrize("n", [5, 6, 7, 8, 9, 10, 12, 15, 20, 30])
def test_the_robust_spread_of_normal_values_is_their_sd_on_average(n):
    draw = Random(n)
    trials = 8_000
    mean = sum(robust_spread([draw.gauss(0, 1) for _ in range(n)]) for _ in range(trials)) / trials
    assert mean == pytest.approx(1, abs=0.02)


def test_a_least_real_change_of_the_mean_side_is_the_published_one():
    assert minimal_detectable_change(CASES["rel-3"]["inputs"]["sem"]) == expected("rel-3")


# two dates


def test_two_centres_have_the_t2_worked_out():
    t2, p = hotelling(moments(A), moments(B))
    assert t2 == expected("t2-ab")
    assert p == expected("t2-ab-p")


def test_two_centres_have_the_t2_of_johnson_and_wichern():
    """Applied Multivariate Statistical Analysis, example 6.4 (two groups of homes; from memory): T² = 16.2 as printed;
    its printed means and covariances give 16.07."""
    first = Moments(45, 204.4, 556.6, 13825.3, 73107.4, 23823.4)
    second = Moments(55, 130.0, 355.0, 8632.0, 55964.5, 19616.7)
    assert hotelling(first, second)[0] == pytest.approx(16.2, abs=0.15)


def test_a_place_is_as_far_from_the_centre_as_johnson_and_wichern_have_it():
    """Example 5.1: T² = n d'S⁻¹d. The ellipse about the mean with T²/n as its squared radius goes through the place."""
    case = CASES["t2-jw51"]
    found = ellipse(moments(case["inputs"]["pts"]), case["expected"] / 3)
    place = case["inputs"]["mu"]
    inside, outside = ([m + (x - m) * by for m, x in zip((8, 6), place, strict=True)] for by in (0.999, 1.001))
    assert holds(found, *inside)
    assert not holds(found, *outside)


def test_centres_that_differ_along_one_axis_alone_have_students_t_squared():
    """T² = t² where the other axis says nothing (own algebra), with t by scipy."""
    draw = Random(4)
    first, second = [draw.gauss(0, 1) for _ in range(9)], [draw.gauss(1, 1) for _ in range(7)]
    of = [Moments(len(x), float(np.mean(x)), 150.0, float(np.var(x, ddof=1)), 4.0, 0.0) for x in (first, second)]
    assert hotelling(*of)[0] == pytest.approx(ttest_ind(first, second).statistic ** 2)


@pytest.mark.parametrize(("case", "groups"), [("bf-ab", SIDES), ("bf-nist", CASES["bf-nist"]["inputs"]["groups"])])
def test_spreads_have_the_published_w(case, groups):
    assert brown_forsythe(groups)[0] == expected(case)


@pytest.mark.parametrize("groups", [SIDES, CASES["bf-nist"]["inputs"]["groups"], [[1, 2, 9], [4, 4, 5, 8, 30.5]]])
def test_spreads_have_the_w_and_p_of_scipy(groups):
    scipys = levene(*groups, center="median")
    assert brown_forsythe(groups) == pytest.approx((scipys.statistic, scipys.pvalue), rel=1e-9)


def test_all_arrangements_give_the_p_that_can_be_counted():
    given = CASES["perm-1"]["inputs"]
    assert permutation(given["a"], given["b"]) == expected("perm-1")


def test_five_against_five_have_no_smaller_p_than_2_of_252():
    assert permutation([1, 2, 3, 4, 5], [60, 70, 80, 90, 99]) == expected("perm-2")


@pytest.mark.parametrize(("n", "of_later", "seed"), [(4, 4, 1), (5, 3, 2), (3, 7, 3), (6, 6, 4)])
def test_all_arrangements_give_the_p_of_scipy(n, of_later, seed):
    draw = Random(seed)
    first, second = ([draw.choice([1, 2, 2.5, 4, 7]) for _ in range(size)] for size in (n, of_later))
    scipys = permutation_test(
        (first, second), lambda a, b, axis: abs(a.mean(axis) - b.mean(axis)), alternative="greater", vectorized=True
    )
    assert permutation(first, second) == pytest.approx(scipys.pvalue)


@pytest.mark.parametrize(("n", "of_later"), [(8, 8), (5, 14), (12, 12)])
def test_drawn_arrangements_give_nearly_the_p_of_all(n, of_later):
    """Four standard errors of 1999 drawn ones."""
    draw = Random(n)
    for _ in range(5):
        first, second = [draw.expovariate(1) for _ in range(n)], [draw.expovariate(0.6) for _ in range(of_later)]
        p = permutation(first, second)
        assert drawn(first, second) == pytest.approx(p, abs=4 * (p * (1 - p) / 1999) ** 0.5 + 1 / 2000)


def test_a_shift_has_the_interval_of_welch():
    """The case takes the second from the first, we the earlier from the later."""
    low, high = two_patterns(A, B).side.interval
    assert [-high, -low] == expected("welch-ab")


def test_the_worked_pair_differs_in_spread_and_not_in_its_centre():
    """Worked out with numpy: p of the centre 0.246, of the distances 0.0089, of the spread of side 0.042."""
    found = two_patterns(A, B)
    assert (found.centre.verdict, found.spread.verdict) == ("not enough shots to say", "these two days differ")
    assert [found.spread.p, found.side.p] == pytest.approx([0.0089, 0.042], abs=0.0005)


# how many shots it would take


@pytest.mark.parametrize("case", ["npow-1", "npow-2"])
def test_so_many_shots_see_a_spread_20_percent_smaller(case):
    given = CASES[case]["inputs"]
    assert shots_for_spread(given["ratio"], given["axes"]) == CASES[case]["expected"]


@pytest.mark.parametrize(("ratio", "one_axis", "both"), [(0.7, 64, 33), (0.5, 19, 10)])
def test_so_many_shots_see_a_smaller_spread(ratio, one_axis, both):
    """Own table, worked out with scipy."""
    assert (shots_for_spread(ratio, 1), shots_for_spread(ratio, 2)) == (one_axis, both)


@pytest.mark.parametrize("case", ["pow-2", "pow-3"])
def test_ten_shots_a_date_see_a_smaller_spread_so_often(case):
    given = CASES[case]["inputs"]
    assert power_of_ratio(given["ratio"], given["axes"] * (given["n"] - 1)) == expected(case)


@pytest.mark.parametrize(("shift", "shots"), [(1.325, 10), (0.91, 20)])
def test_so_many_shots_see_a_shift_along_one_axis(shift, shots):
    """Own table: 1.3 SD by ten a date, 0.9 by twenty, as Student's test has it."""
    assert shots_for_shift(shift, 1) == shots


# how often two days of one player differ


def dates(draw, n, tails, scale=1.0, shift=0.0):
    """Shots with normal tails, or with those of Student's t with 4 degrees of freedom."""
    wide = [1.0 if tails == "normal" else (4 / (2 * draw.gammavariate(2, 1))) ** 0.5 for _ in range(n)]
    return [(shift + scale * 8 * draw.gauss(0, 1) * w, 150 + scale * 10 * draw.gauss(0, 1) * w) for w in wide]


@pytest.mark.parametrize("tails", ["normal", "long"])
@pytest.mark.parametrize(("n", "of_later"), [(5, 5), (10, 10), (10, 30)])
def test_shots_of_one_player_are_said_to_differ_in_7_of_100_pairs_of_days_at_most(n, of_later, tails):
    """Nominally in 5; the standard error of 400 pairs is 1.1."""
    draw = Random(n)
    pairs = [two_patterns(dates(draw, n, tails), dates(draw, of_later, tails)) for _ in range(400)]
    said = sum("these two days differ" in (pair.centre.verdict, pair.spread.verdict) for pair in pairs)
    assert said / len(pairs) <= 0.07


def told_apart(question, shots, *, scale=1.0, shift=0.0):
    draw = Random(6)
    pairs = [two_patterns(dates(draw, shots, "normal"), dates(draw, shots, "normal", scale, shift)) for _ in range(300)]
    return sum(getattr(pair, question).verdict == "these two days differ" for pair in pairs) / len(pairs)


@pytest.mark.parametrize("ratio", [0.5, 0.7])
def test_as_many_shots_as_are_asked_for_see_a_smaller_spread_in_about_80_of_100(ratio):
    axes = (8**2 + 10**2) ** 2 / (8**4 + 10**4)
    shots = ceil(OF_DISTANCES * shots_for_spread(ratio, axes, LEVEL / 2))
    assert 0.75 <= told_apart("spread", shots, scale=ratio) <= 0.90


def test_as_many_shots_as_are_asked_for_see_another_centre_in_about_80_of_100():
    """A shift by the 8 m that side scatters by."""
    assert 0.75 <= told_apart("centre", shots_for_shift(1.0, 2, LEVEL / 2), shift=8.0) <= 0.90
