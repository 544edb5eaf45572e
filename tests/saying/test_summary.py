"""The lesson in one sentence and in one row."""

import pytest

from reportgen.planning.glance import glance
from reportgen.saying.summary import summary, told_glance
from tests.planning.findings import finding


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ([5], "We measured one thing: it is in your range."),
        ([20], "We measured one thing: it is outside your range."),
        ([5, 5, 20, -9], "We measured 4 things: 2 in your range and 2 outside it."),
        ([5, 20, 10], "We measured 3 things: 1 in your range, 1 outside it and 1 too close to call."),
    ],
)
def test_the_summary_counts_every_verdict(values, says):
    assert summary([finding(f"m{number}", value) for number, value in enumerate(values)]) == says


def test_a_checkpoint_shows_its_gravest_verdict_and_how_many_are_in_range():
    at = {
        g.moment: (g.verdict, told_glance(g).says)
        for g in glance([finding("a", 5), finding("b", 20), finding("c", 10)])
    }
    assert at["impact"] == ("above range", "1 of 3 in range")
    assert at["top"] == (None, "not measured")
