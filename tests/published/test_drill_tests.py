"""What the pass mark of a drill's test is worth: the figures of the guide against the binomial distribution, as it is
defined and by scipy."""

import re
from math import comb
from pathlib import Path

import pytest
from scipy.stats import binom

GUIDE = (Path(__file__).parents[2] / "content" / "guide" / "drills.md").read_text(encoding="utf-8")


def chance_to_pass(passes, of, makes):
    """The chance that a player who makes a share of all tries in the long run makes at least so many: each way to make
    k of them has the probability makes^k (1 - makes)^(of - k)."""
    return sum(comb(of, k) * makes**k * (1 - makes) ** (of - k) for k in range(passes, of + 1))


@pytest.mark.parametrize("makes", [0.2, 0.5, 0.8, 0.95])
@pytest.mark.parametrize(("passes", "of"), [(7, 10), (8, 10), (5, 5), (1, 12), (24, 30)])
def test_the_chance_to_pass_is_that_of_the_binomial_distribution(passes, of, makes):
    assert chance_to_pass(passes, of, makes) == pytest.approx(binom.sf(passes - 1, of, makes), rel=1e-12)


@pytest.mark.parametrize(
    ("sentence", "chance"),
    [
        (r"half of all tries in the long run passes 7 of 10 in (\d+) of 100 tests", chance_to_pass(7, 10, 0.5)),
        (r"and 8 of 10 in (\d+) of 100", chance_to_pass(8, 10, 0.5)),
        (r"Twice running, this player passes 7 of 10 in (\d+) of 100", chance_to_pass(7, 10, 0.5) ** 2),
        (r"8 of 10 in the long run fails 7 of 10 in (\d+) of 100", 1 - chance_to_pass(7, 10, 0.8)),
    ],
    ids=["7 of 10", "8 of 10", "twice running", "fails"],
)
def test_the_guide_says_what_a_pass_is_worth(sentence, chance):
    (figure,) = re.findall(sentence, GUIDE)
    assert int(figure) == round(100 * chance)
