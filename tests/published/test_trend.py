"""The slope through a student's lessons against published examples, certified data and scipy."""

import json
from pathlib import Path
from random import Random

import pytest

from reportgen.judging.trend import theil_sen

CASES = json.loads((Path(__file__).parent / "cases" / "trend.json").read_text(encoding="utf-8"))
SEN = CASES["sen_1968"]
NORRIS = CASES["norris"]


def test_slope_and_interval_are_those_of_sen():
    slope, low, high = theil_sen(SEN["x"], SEN["y"], SEN["confidence"])
    assert slope == pytest.approx(SEN["slope"])
    assert (low, high) == pytest.approx((SEN["low"], SEN["high"]), abs=SEN["tolerance"])


def test_on_nists_norris_data_it_agrees_with_the_certified_slope():
    """The certified slope is of least squares: the two estimate one slope, and the interval must hold it."""
    slope, low, high = theil_sen(NORRIS["x"], NORRIS["y"])
    assert slope == pytest.approx(NORRIS["slope"], abs=NORRIS["sd_of_slope"])
    assert low < NORRIS["slope"] < high


def test_a_few_wild_values_do_not_turn_it():
    """A quarter of Norris' values a thousand too high: least squares would be far off, the median of slopes is not."""
    wild = [value + 1000 * (place % 4 == 0) for place, value in enumerate(NORRIS["y"])]
    slope, low, high = theil_sen(NORRIS["x"], wild)
    assert slope == pytest.approx(NORRIS["slope"], rel=0.02)
    assert low < NORRIS["slope"] < high


def drawn(seed):
    """Lessons of a random student: days that may be the same, values that may be alike, a slope or none."""
    draw = Random(seed)
    count = draw.randint(4, 14)
    days = sorted(draw.randint(0, draw.choice([5, 30, 300])) for _ in range(count))
    days[-1] += 1
    digits, slope = draw.choice([0, 1, 6]), draw.choice([0.0, 0.1, -1.0])
    return days, [round(draw.gauss(slope * day, 3), digits) for day in days]


@pytest.mark.parametrize("confidence", [0.8, 0.95, 0.99])
@pytest.mark.parametrize("seed", range(60))
def test_slope_and_interval_are_those_of_scipy(seed, confidence):
    from scipy.stats import theilslopes

    days, values = drawn(seed)
    theirs = theilslopes(values, days, confidence)
    assert theil_sen(days, values, confidence) == pytest.approx((theirs.slope, theirs.low_slope, theirs.high_slope))
