"""Counts of shots against published tables and scipy; how seldom a steady player is said to have changed."""

import json
from datetime import date, timedelta
from math import ceil, exp, log
from pathlib import Path
from random import Random

import pytest
from scipy.stats import binom, binomtest, fisher_exact

from reportgen.judging.counts import (
    Count,
    chance_to_pass,
    course,
    difference,
    fisher,
    long_run,
    miss_side,
    scatter_of_gate,
    through_gate,
)
from reportgen.judging.enough import shots_for_counts, shots_for_rates

CASES = json.loads((Path(__file__).parent / "cases" / "ball.json").read_text(encoding="utf-8"))["cases"]
DAY = date(2026, 3, 5)


def named(start):
    return [case for case in CASES if case.startswith(start)]


def counts_of(case):
    given = CASES[case]["inputs"]
    return Count(DAY, given["a"], given["n"]), Count(DAY, given["b"], given["m"])


def expected(case):
    return pytest.approx(CASES[case]["expected"], abs=CASES[case]["tolerance"])


@pytest.mark.parametrize("case", [*named("newcombe1"), *named("wilson")])
def test_the_long_run_has_the_published_interval(case):
    assert long_run(CASES[case]["inputs"]["k"], CASES[case]["inputs"]["n"]).interval == expected(case)


@pytest.mark.parametrize("of", [1, 3, 10, 27])
def test_the_long_run_has_the_interval_of_scipy(of):
    for made in range(of + 1):
        scipys = binomtest(made, of).proportion_ci(method="wilson")
        assert long_run(made, of).interval == pytest.approx((scipys.low, scipys.high), abs=1e-12)


@pytest.mark.parametrize("case", named("fisher"))
def test_two_counts_have_the_published_p(case):
    assert fisher(*counts_of(case)) == expected(case)


@pytest.mark.parametrize(("of", "of_later"), [(10, 10), (5, 12), (20, 10)])
def test_two_counts_have_the_p_of_scipy(of, of_later):
    for made in range(of + 1):
        for later in range(of_later + 1):
            scipys = fisher_exact([[made, of - made], [later, of_later - later]]).pvalue
            assert fisher(Count(DAY, made, of), Count(DAY, later, of_later)) == pytest.approx(scipys, rel=1e-9)


@pytest.mark.parametrize(
    ("of", "made", "first_beyond_luck"),
    [(10, 0, 5), (10, 1, 7), (10, 2, 8), (10, 3, 9), (10, 4, 10), (10, 5, 10), (10, 6, None),
     (20, 4, 11), (20, 6, 14), (20, 8, 16), (20, 10, 17), (20, 12, 19)],
)  # fmt: skip
def test_a_second_count_has_to_be_so_good_to_be_beyond_luck(of, made, first_beyond_luck):
    """Own table, worked out with scipy."""
    beyond = [later for later in range(made, of + 1) if fisher(Count(DAY, made, of), Count(DAY, later, of)) < 0.05]
    assert (beyond[0] if beyond else None) == first_beyond_luck


@pytest.mark.parametrize("case", named("newcombe2"))
def test_a_difference_has_the_published_interval(case):
    """Newcombe takes the second share from the first, we the earlier one from the later."""
    first, second = counts_of(case)
    assert difference(second, first) == expected(case)


@pytest.mark.parametrize(("before", "after", "shots"), [(0.5, 0.7, 93), (0.5, 0.8, 39)])
def test_shots_that_a_score_test_takes(before, after, shots):
    """Own table, worked out with scipy: 80 % power, two-sided 5 %."""
    assert ceil(shots_for_rates(before, after) - 0.05) == shots


@pytest.mark.parametrize(("before", "after"), [(0.3, 0.8), (0.5, 0.9), (0.4, 0.7)])
def test_with_so_many_shots_fishers_test_sees_the_difference_in_80_to_86_of_100(before, after):
    shots = shots_for_counts(before, after)
    first, second = (binom.pmf(range(shots + 1), shots, rate) for rate in (before, after))
    seen = sum(
        p * q
        for made, p in enumerate(first)
        for later, q in enumerate(second)
        if p * q > 1e-9 and fisher(Count(DAY, made, shots), Count(DAY, later, shots)) < 0.05
    )
    assert 0.80 <= seen <= 0.86


@pytest.mark.parametrize("case", ["side-1", "side-2"])
def test_misses_of_one_side_have_the_p_of_the_sign_test(case):
    given = CASES[case]["inputs"]
    assert miss_side(given["k"], given["n"] - given["k"]).p == expected(case)


@pytest.mark.parametrize(("of", "least"), [(5, None), (6, 6), (8, 8), (10, 9), (12, 10), (15, 12), (20, 15)])
def test_so_many_misses_of_one_side_show_it(of, least):
    """Own table, worked out with scipy."""
    shown = [more for more in range(of // 2, of + 1) if miss_side(more, of - more).side == "trail"]
    assert (shown[0] if shown else None) == least


@pytest.mark.parametrize("case", ["pass-2", "binom-1"])
def test_a_pass_mark_is_passed_by_luck_so_often(case):
    given = CASES[case]["inputs"]
    assert chance_to_pass(given["k"], given["n"], given["p"]) == expected(case)


@pytest.mark.parametrize(
    ("passes", "of", "times", "percent"),
    [(7, 10, 1, (17, 65, 99)), (8, 10, 1, (5, 38, 93)), (14, 20, 1, (6, 61, 100)), (7, 10, 2, (3, 42, 97))],
)
def test_what_pass_marks_are_worth(passes, of, times, percent):
    """In per cent for players who make half, 7 and 9 of 10 in the long run (own table)."""
    assert tuple(round(100 * chance_to_pass(passes, of, rate, times)) for rate in (0.5, 0.7, 0.9)) == percent


def test_starts_that_scatter_by_3_degrees_go_through_a_gate_so_often():
    given = CASES["gate-2"]["inputs"]
    assert through_gate(given["width"], given["distance"], given["sd"]) == expected("gate-2")


def test_a_start_that_is_off_the_middle_goes_through_less_often():
    """2 m at 20 m, scatter 3 deg, 2 deg off: 56 of 100 (own)."""
    assert through_gate(2, 20, 3, off=2) == pytest.approx(0.56, abs=0.005)


def test_7_of_10_through_a_gate_tell_the_scatter_of_starts():
    given = CASES["gate-4"]["inputs"]
    assert scatter_of_gate(given["p"], given["width"], given["distance"]) == expected("gate-4")


def said_changed(share, dates, of, seed, *, last=None, seasons=1500):
    """How often a count is said to have changed over lessons a fortnight apart, of a player whose days scatter by 0.5
    (SD of the logit) about a share that goes to `last`."""
    draw, said = Random(seed), 0
    start, end = (log(x / (1 - x)) for x in (share, last or share))
    for _ in range(seasons):
        counts = []
        for n in range(dates):
            rate = 1 / (1 + exp(-draw.gauss(start + (end - start) * n / (dates - 1), 0.5)))
            counts.append(Count(DAY + timedelta(days=14 * n), sum(draw.random() < rate for _ in range(of)), of))
        said += course(counts).verdict == "has changed"
    return said / seasons


@pytest.mark.parametrize("share", [0.3, 0.5, 0.8])
@pytest.mark.parametrize(("dates", "of"), [(3, 10), (5, 10), (9, 10), (3, 20), (9, 20)])
def test_a_steady_player_is_hardly_ever_said_to_have_changed(share, dates, of):
    assert said_changed(share, dates, of, seed=7) <= 0.02


@pytest.mark.parametrize(("dates", "of", "at_least"), [(6, 10, 0.15), (10, 10, 0.40), (10, 20, 0.60)])
def test_a_player_who_goes_from_30_to_80_of_100_is_said_to_have_changed_so_often(dates, of, at_least):
    assert said_changed(0.3, dates, of, seed=8, last=0.8, seasons=400) >= at_least
