"""Conformity of a value with a range, and probability in words, against sources outside the project."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from reportgen.judging.conformity import chances, interval, likelihood

CASES = json.loads((Path(__file__).parent / "cases" / "conformance.json").read_text(encoding="utf-8"))
CONFORMANCE = [pytest.param(case, id=case["name"]) for case in CASES["conformance"]]
TOLERANCE = CASES["tolerance"]


def inside(case):
    return chances(case["y"], case["u"], case["lower"], case["upper"]).inside


@pytest.mark.parametrize("case", [c for c in CONFORMANCE if "published" in c.values[0]])
def test_worked_examples_of_jcgm_106(case):
    """JCGM 106:2012, clause 7. The inputs and the two printed digits are from memory: the pages were not at hand."""
    assert round(inside(case), 2) == case["published"]


@pytest.mark.parametrize("case", CONFORMANCE)
def test_conformance_probability_is_that_of_scipy(case):
    """scipy 1.17.1, scipy.stats.norm, as it was computed beforehand: on a limit, far outside, in a narrow range."""
    assert inside(case) == pytest.approx(case["computed"], rel=TOLERANCE, abs=TOLERANCE)


def test_far_outside_keeps_its_digits():
    """scipy.stats.norm gives 2.75e-89 here; a difference of two numbers near 1 would give 0."""
    case = next(case for case in CASES["conformance"] if case["name"] == "far outside above")
    assert inside(case) == pytest.approx(case["computed"], rel=1e-9)


@pytest.mark.parametrize("case", CASES["one_sided_z"], ids=lambda case: str(case["p"]))
def test_one_sided_points_of_the_normal_distribution(case):
    """The usual table of the normal distribution, computed with scipy.stats.norm.ppf."""
    assert chances(case["z"], 1, 0, None).inside == pytest.approx(case["p"], abs=TOLERANCE)
    assert chances(-case["z"], 1, None, 0).inside == pytest.approx(case["p"], abs=TOLERANCE)


values = st.floats(-200, 200)
us = st.floats(0.01, 50)
widths = st.floats(0.1, 100)


@given(values, us, values, widths)
def test_every_chance_is_that_of_the_normal_distribution(value, u, low, width):
    """scipy.stats.norm as second implementation."""
    found = chances(value, u, low, low + width)
    true = stats.norm(value, u)
    assert found.below == pytest.approx(true.cdf(low), abs=TOLERANCE)
    assert found.above == pytest.approx(true.sf(low + width), abs=TOLERANCE)
    assert found.inside == pytest.approx(true.cdf(low + width) - true.cdf(low), abs=TOLERANCE)


@given(values, us, values, widths, st.floats(1, 1e12))
def test_every_chance_with_few_swings_is_that_of_students_t(value, u, low, width, dof):
    """scipy.stats.t as second implementation."""
    found = chances(value, u, low, low + width, dof)
    true = stats.t(dof, value, u)
    assert found.below == pytest.approx(true.cdf(low), abs=TOLERANCE)
    assert found.above == pytest.approx(true.sf(low + width), abs=TOLERANCE)
    assert found.inside == pytest.approx(true.cdf(low + width) - true.cdf(low), abs=TOLERANCE)


@given(values, us, st.none() | st.floats(1, 1e9))
def test_the_interval_is_that_of_scipy(value, u, dof):
    """scipy.stats.norm.interval and scipy.stats.t.interval at 95 %."""
    expected = stats.norm.interval(0.95, value, u) if dof is None else stats.t.interval(0.95, dof, value, u)
    assert interval(value, u, dof) == pytest.approx(expected, rel=1e-9, abs=1e-9)


# IPCC guidance note on the consistent treatment of uncertainties (Mastrandrea et al. 2010), table 1, with the two
# terms that the fifth assessment report adds (extremely likely, extremely unlikely) and `more likely than not`.
# From memory: the page was not at hand.
IPCC = [
    ("virtually certain", 0.99, 1.0),
    ("extremely likely", 0.95, 1.0),
    ("very likely", 0.90, 1.0),
    ("likely", 0.66, 1.0),
    ("more likely than not", 0.50, 1.0),
    ("about as likely as not", 0.33, 0.66),
    ("unlikely", 0.0, 0.33),
    ("very unlikely", 0.0, 0.10),
    ("extremely unlikely", 0.0, 0.05),
    ("exceptionally unlikely", 0.0, 0.01),
]


@given(st.floats(0, 1))
def test_what_is_said_of_a_probability_holds_on_the_ipcc_scale(p):
    low, high = next((low, high) for says, low, high in IPCC if says == likelihood(p))
    assert low <= p <= high


@pytest.mark.parametrize(
    ("p", "says"),
    [
        (1.0, "virtually certain"), (0.99, "virtually certain"), (0.989, "extremely likely"),
        (0.95, "extremely likely"), (0.949, "very likely"), (0.90, "very likely"), (0.899, "likely"),
        (0.66, "likely"), (0.659, "more likely than not"), (0.501, "more likely than not"),
        (0.50, "about as likely as not"), (0.33, "about as likely as not"), (0.329, "unlikely"),
        (0.101, "unlikely"), (0.10, "very unlikely"), (0.051, "very unlikely"), (0.05, "extremely unlikely"),
        (0.011, "extremely unlikely"), (0.01, "exceptionally unlikely"), (0.0, "exceptionally unlikely"),
    ],
)  # fmt: skip
def test_the_strongest_term_of_the_ipcc_scale_that_holds_is_said(p, says):
    assert likelihood(p) == says
