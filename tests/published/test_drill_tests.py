"""What the guide says that the pass mark of a drill's test is worth, by the binomial distribution of scipy."""

import re
from pathlib import Path

import pytest
from scipy.stats import binom

from reportgen.judging.counts import chance_to_pass

GUIDE = (Path(__file__).parents[2] / "content" / "guide" / "drills.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("makes", [0.2, 0.5, 0.8, 0.95])
@pytest.mark.parametrize(("passes", "of"), [(7, 10), (8, 10), (5, 5), (1, 12), (24, 30)])
def test_the_chance_to_pass_is_that_of_the_binomial_distribution(passes, of, makes):
    assert chance_to_pass(passes, of, makes) == pytest.approx(binom.sf(passes - 1, of, makes), rel=1e-12)


@pytest.mark.parametrize(
    ("sentence", "chance"),
    [
        (r"half of all tries in the long run passes 7 of 10 in (\d+) of 100 tests", binom.sf(6, 10, 0.5)),
        (r"and 8 of 10 in (\d+) of 100", binom.sf(7, 10, 0.5)),
        (r"Twice running, this player passes 7 of 10 in (\d+) of 100", binom.sf(6, 10, 0.5) ** 2),
        (r"8 of 10 in the long run fails 7 of 10 in (\d+) of 100", binom.cdf(6, 10, 0.8)),
    ],
    ids=["7 of 10", "8 of 10", "twice running", "fails"],
)
def test_the_guide_says_what_a_pass_is_worth(sentence, chance):
    (figure,) = re.findall(sentence, GUIDE)
    assert int(figure) == round(100 * chance)
