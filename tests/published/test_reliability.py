"""Repeatability and agreement against published tables and pingouin; how often intervals of few swings hold."""

import json
import subprocess
import sys
from math import sqrt
from pathlib import Path
from random import Random

import pytest

from reportgen.judging.conformity import interval
from reportgen.judging.reliability import (
    bland_altman,
    icc_one_way,
    mean_squares,
    minimal_detectable_change,
    standard_error_of_measurement,
)
from reportgen.measuring.typed import typed_reading
from reportgen.records.lesson import TypedReading
from tests.judging.academies import library

CASES = json.loads((Path(__file__).parent / "cases" / "reliability.json").read_text(encoding="utf-8"))
SHROUT_FLEISS = CASES["shrout_fleiss_1979"]
WEIR = CASES["weir_2005_a"]
BLAND_ALTMAN = CASES["bland_altman_1986"]
FEW_LESSONS = 4_000


def test_the_mean_squares_are_those_of_shrout_and_fleiss():
    found = mean_squares(SHROUT_FLEISS["data"])
    assert found.between == pytest.approx(SHROUT_FLEISS["published_ms"]["between"], abs=0.005)
    assert found.within == pytest.approx(SHROUT_FLEISS["published_ms"]["within"], abs=0.005)
    assert found.each == 4


def test_the_intraclass_correlation_is_that_of_shrout_and_fleiss():
    assert icc_one_way(SHROUT_FLEISS["data"]) == pytest.approx(SHROUT_FLEISS["published_icc_1_1"], abs=0.005)


def random_table(subjects, trials, between, seed):
    draw = Random(seed)
    levels = [draw.gauss(50, between) for _ in range(subjects)]
    return [[draw.gauss(level, 2) for _ in range(trials)] for level in levels]


TABLES = {
    "shrout-fleiss": SHROUT_FLEISS["data"],
    "weir": WEIR["data"],
    "random": random_table(9, 3, 5, seed=1),
    "no true difference": random_table(30, 2, 0, seed=2),
}
ASK_PINGOUIN = """
import json, sys
import pandas, pingouin
found = {}
for name, table in json.load(sys.stdin).items():
    rows = [(subject, trial, value) for subject, row in enumerate(table) for trial, value in enumerate(row)]
    long = pandas.DataFrame(rows, columns=["subject", "trial", "value"])
    icc = pingouin.intraclass_corr(data=long, targets="subject", raters="trial", ratings="value")
    found[name] = float(icc.set_index("Type").loc["ICC(1,1)", "ICC"])
print(json.dumps(found))
"""


@pytest.fixture(scope="module")
def by_pingouin():
    """ICC(1,1) of the tables as pingouin 0.7 has it, which names its coefficients otherwise than earlier versions.

    It runs by itself, as it loads libraries that other tests check the program does without.
    """
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", ASK_PINGOUIN], input=json.dumps(TABLES), capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.mark.parametrize("name", TABLES)
def test_the_intraclass_correlation_is_that_of_pingouin(by_pingouin, name):
    assert icc_one_way(TABLES[name]) == pytest.approx(by_pingouin[name], abs=1e-6)


@pytest.mark.parametrize("table", [SHROUT_FLEISS["data"], WEIR["data"], [[1, 2, 4], [7, 9], [3, 5, 5, 6]]])
def test_the_standard_error_of_measurement_is_the_root_of_the_mean_square_within(table):
    """Against scipy's analysis of variance: F = mean square between / mean square within."""
    from scipy.stats import f_oneway

    found = mean_squares(table)
    assert found.between / standard_error_of_measurement(table) ** 2 == pytest.approx(f_oneway(*table).statistic)


def test_weirs_standard_error_leaves_out_the_shift_between_trials_and_ours_counts_it():
    """Weir's SEM 7.6 is of the two-way model; with his mean square of trials it gives the one-way SEM, here 7.33."""
    subjects = len(WEIR["data"])
    one_way = sqrt((WEIR["published_sem"] ** 2 * (subjects - 1) + WEIR["two_way"]["trials_ms"]) / subjects)
    assert standard_error_of_measurement(WEIR["data"]) == pytest.approx(one_way, abs=0.05)
    assert standard_error_of_measurement(WEIR["data"]) != pytest.approx(WEIR["published_sem"], abs=0.05)


def test_the_minimal_detectable_change_is_that_of_weir():
    """1.96 √2 SEM, with his SEM to its digits."""
    assert minimal_detectable_change(WEIR["two_way"]["sem"]) == pytest.approx(WEIR["two_way"]["mdc95"], abs=1e-3)


def test_bias_and_limits_of_agreement_are_those_of_bland_and_altman():
    """Their printed limits are two standard deviations from the mean, with both rounded; ours are 1.96."""
    found = bland_altman(list(zip(BLAND_ALTMAN["wright"], BLAND_ALTMAN["mini"], strict=True)))
    published = BLAND_ALTMAN["published"]
    assert found.pairs == 17
    assert found.bias == pytest.approx(published["bias"], abs=0.05)
    assert found.sd == pytest.approx(published["sd"], abs=0.05)
    assert found.se_bias == pytest.approx(published["se_bias"], abs=0.05)
    assert found.se_limit == pytest.approx(published["se_loa"], abs=0.05)
    two_sd = [found.bias + (limit - found.bias) * 2 / 1.959963984540054 for limit in found.limits]
    assert two_sd == pytest.approx(published["loa_2s"], abs=0.15)


@pytest.mark.parametrize("swings", [2, 3, 5, 10])
@pytest.mark.parametrize("device", [0.1, 0.5, 1.0])
def test_intervals_of_means_of_a_few_swings_hold_the_truth_in_93_of_100(swings, device):
    """Swings that scatter by 1 m/s, by a sensor that is off by `device` (standard deviation) from day to day: the
    uncertainty comes from the swings themselves, and of few swings it is known badly."""
    draw, missed = Random(5), 0
    for _ in range(FEW_LESSONS):
        off = draw.gauss(0, device)
        trials = tuple(draw.gauss(40 + off, 1) for _ in range(swings))
        typed = TypedReading(metric="clubhead-speed", trials=trials, unit="m/s", how="sensor", u=device)
        found = typed_reading(typed, library().metrics["clubhead-speed"])
        low, high = interval(found.value, found.u, found.dof)
        missed += not low <= 40 <= high
    assert missed / FEW_LESSONS <= 0.07
