"""Two numbers that stand against each other in one sentence never look alike where they differ."""

import re
from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from reportgen.records.findings import Course
from reportgen.records.report import Point, Series
from reportgen.saying.progress import told_series
from reportgen.saying.wording import decimals_apart, number
from tests.judging.academies import finding_of, one, reading

figures = st.floats(-200, 200).map(lambda value: round(value, 3))


@given(figures, figures, st.integers(0, 2))
def test_numbers_that_differ_are_shown_unlike_and_with_no_digit_more_than_that_takes(first, second, decimals):
    shown = decimals_apart(decimals, first, second)
    if round(first, decimals + 3) != round(second, decimals + 3):
        assert number(first, shown) != number(second, shown)
    fewer = [number(first, d) == number(second, d) for d in range(decimals, shown)]
    assert all(fewer)


def test_numbers_that_are_alike_get_no_digit_more():
    assert decimals_apart(1, 0.6, 0.6) == 1
    assert decimals_apart(0, 57.4, 62.0) == 0


def test_a_change_never_reads_as_large_as_what_measuring_explains(tmp_path):
    finding = finding_of(one(tmp_path, reading("trail-hip-load", 2, "cm")), "trail-hip-load")
    first, last = date(2026, 3, 5), date(2026, 3, 26)

    @given(st.floats(0.05, 5), st.floats(1.0005, 1.2), st.sampled_from([1, -1]))
    def holds(error, times, way):
        course = Course(
            since=first, lessons=4, by=way * error * times, interval=(0, 1), detectable=error, rung="has moved",
            movement="changed",
        )  # fmt: skip
        points = tuple(
            Point(lesson=str(day), date=day, value=2, interval=(1, 3), level=finding.level, verdict="in range")
            for day in (first, last)
        )
        moved = finding.model_copy(update={"course": course})
        says = told_series(Series(metric="trail-hip-load", unit="cm", points=points), moved, last).says
        by, up_to = re.search(r"changed by ([\d.]+)\scm\. .* up to ([\d.]+)\scm\.", says).groups()
        assert float(by) > float(up_to) or error * (times - 1) < 0.0001

    holds()
