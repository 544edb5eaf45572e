"""Means, standard deviations and intervals of repeated readings against certified and published values."""

import json
from math import sqrt
from pathlib import Path

import pytest

from reportgen.judging.conformity import interval
from reportgen.measuring.typed import mean_and_sd, typed_reading
from reportgen.records.lesson import TypedReading
from tests.judging.academies import library

CASES = json.loads((Path(__file__).parent / "cases" / "repeated_trials.json").read_text(encoding="utf-8"))
SETS = {case["name"]: case for case in CASES["nist_strd"]}
NEGLIGIBLE = 1e-12
"""The device's own standard uncertainty where a source has the spread of the readings alone."""


def alternating(first):
    """NumAcc2 to NumAcc4: the first value, then 0.1 below and 0.1 above it in turn, 500 pairs."""
    below, above = round(first - 0.1, 1), round(first + 0.1, 1)
    return (first, *(below, above) * 500)


def data_of(name):
    case = SETS[name]
    return tuple(case["data"]) if "data" in case else alternating(case["certified_mean"])


@pytest.mark.parametrize("name", SETS)
def test_mean_and_standard_deviation_are_those_that_nist_certified(name):
    """NIST Statistical Reference Datasets, univariate summary statistics: eight of the nine. PiDigits is left out: the
    first 5000 digits of pi, worked out anew, do not have its certified mean, so it cannot be given by rule."""
    case, data = SETS[name], data_of(name)
    assert len(data) == case["n"]
    mean, sd = mean_and_sd(data)
    tolerance = CASES["tolerance"].get(name, CASES["tolerance"]["others"])
    assert mean == pytest.approx(case["certified_mean"], rel=1e-13)
    assert sd == pytest.approx(case["certified_sd"], rel=tolerance)


def reading_of(trials):
    typed = TypedReading(metric="tempo-ratio", trials=tuple(trials), unit="1", how="sensor", u=1.0)
    return typed_reading(typed.model_copy(update={"u": NEGLIGIBLE}), library().metrics["tempo-ratio"])


@pytest.mark.parametrize("name", ["zarr13", "eighteen"])
def test_the_interval_of_repeated_readings_is_the_published_one(name):
    """zarr13: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2. eighteen: a published 95 % t interval of a
    textbook's 18 values (see the case file)."""
    case = CASES[name]
    reading = reading_of(case["data"])
    assert interval(reading.value, reading.u, reading.dof) == pytest.approx(
        case["published_ci95"], abs=case["tolerance"]
    )


def test_the_standard_uncertainty_of_a_mean_is_that_of_the_handbook():
    """NIST/SEMATECH e-Handbook 1.3.5.2: mean 9.26146, standard deviation 0.022789, 195 readings."""
    reading = reading_of(CASES["zarr13"]["data"])
    assert reading.value == pytest.approx(CASES["zarr13"]["published_mean"], abs=1e-6)
    assert reading.u * sqrt(195) == pytest.approx(CASES["zarr13"]["published_sd"], abs=1e-6)
