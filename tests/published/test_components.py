"""Components of variance against a published analysis."""

import pytest
from scipy.stats import chi2

from reportgen.judging.components import analysis, deviation

DYESTUFF = [
    [1545, 1440, 1440, 1520, 1580],
    [1540, 1555, 1490, 1560, 1495],
    [1595, 1550, 1605, 1510, 1560],
    [1445, 1440, 1595, 1465, 1545],
    [1595, 1630, 1515, 1635, 1625],
    [1520, 1455, 1450, 1480, 1445],
]
"""Yield of dyestuff in grams, six batches of five (Davies OL, Goldsmith PL. Statistical Methods in Research and
Production. 1972; the data set `Dyestuff` of the R package lme4). Data and results are from memory."""


def test_the_components_of_the_dyestuff_are_those_that_are_published():
    """Batches 1764.05, single yields 2451.25: standard deviations 42.00 and 49.51 (Bates D, Mächler M, Bolker B, Walker
    S. J Stat Softw 2015;67(1), and the manual of lme4; from memory). Balanced, so that the analysis of variance and
    restricted maximum likelihood agree."""
    found = analysis(DYESTUFF)
    assert (found.dof_between, found.dof_within, found.each) == (5, 24, 5)
    assert found.components() == pytest.approx((2451.25, 1764.05))
    assert deviation(lambda of: of[0].between, [found]).sd == pytest.approx(42.00, abs=0.005)
    assert deviation(lambda of: of[0].within, [found]).sd == pytest.approx(49.51, abs=0.005)


def test_the_interval_of_a_single_mean_square_is_the_chi_square_one():
    """Against scipy's distribution."""
    found = deviation(lambda of: of[0].within, [analysis(DYESTUFF)])
    exact = [(2451.25 * 24 / chi2.ppf(p, 24)) ** 0.5 for p in (0.975, 0.025)]
    assert (found.low, found.high) == pytest.approx(exact, rel=0.02)
