"""When a course over the lessons is called a trend."""

from datetime import date, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.judging.trend import AT_MOST, theil_sen, trend

FIRST = date(2026, 1, 8)
LESSONS = st.lists(st.tuples(st.integers(0, 400), st.integers(-90, 90)), min_size=1, max_size=25)


def course(values, days):
    return [(FIRST + timedelta(days=day), value) for day, value in zip(days, values, strict=True)]


def weekly(values):
    return course(values, [7 * k for k in range(len(values))])


def test_a_steady_fall_is_a_clear_trend_per_thirty_days():
    found = trend(course([70, 69, 68, 67, 66, 65], [0, 10, 20, 30, 40, 50]))
    assert found is not None
    assert found.per_30_days == pytest.approx(-3)
    assert found.interval == pytest.approx((-3, -3))
    assert (found.lessons, found.clear) == (6, True)


def test_ups_and_downs_are_no_clear_trend():
    found = trend(weekly([60, 64, 59, 66, 58, 63]))
    assert found is not None
    assert found.interval[0] < 0 < found.interval[1]
    assert not found.clear


def test_lessons_that_are_all_alike_are_no_clear_trend():
    found = trend(weekly([60] * 6))
    assert found is not None
    assert (found.per_30_days, found.clear) == (0, False)


@pytest.mark.parametrize(
    "days",
    [[], [0], [0, 7, 14, 21], [0, 0, 0, 7, 7], [0, 0, 0, 0, 0, 0]],
    ids=["no lesson", "one", "four", "five on two dates", "six on one date"],
)
def test_too_few_lessons_or_dates_give_no_trend(days):
    assert trend(course([60 - k for k in range(len(days))], days)) is None


def test_two_lessons_on_one_day_both_count():
    found = trend(course([70, 68, 66, 64, 62], [0, 0, 10, 10, 20]))
    assert found is not None
    assert found.lessons == 5


def test_it_looks_back_over_the_last_ten_lessons_only():
    """A fall long ago does not hide that nothing has changed since."""
    then, since = [90 - 5 * k for k in range(8)], [50, 51, 50, 49, 50, 51, 49, 50, 50, 50]
    assert trend(weekly(then + since)) == trend(course(since, [7 * (8 + k) for k in range(10)]))


def test_one_wild_lesson_does_not_turn_it():
    assert trend(weekly([70, 69, 68, 99, 66, 65, 64])).per_30_days == pytest.approx(-30 / 7, abs=0.5)


def test_values_all_at_one_place_have_no_slope():
    with pytest.raises(ValueError, match="two places"):
        theil_sen([1, 1, 1], [1, 2, 3])


@given(LESSONS, st.randoms(use_true_random=False))
def test_the_order_in_which_lessons_of_different_days_are_given_does_not_matter(lessons, shuffler):
    points = course([value for _, value in lessons], [day for day, _ in lessons])
    by_day = dict(points)  # one lesson a day: those of one day have an order of their own
    shuffled = list(by_day.items())
    shuffler.shuffle(shuffled)
    assert trend(shuffled) == trend(sorted(by_day.items()))


@given(LESSONS)
def test_the_slope_lies_in_its_interval_and_mirrored_values_have_the_mirrored_trend(lessons):
    points = course([value for _, value in lessons], [day for day, _ in lessons])
    found, mirrored = trend(points), trend([(on, -value) for on, value in points])
    if found is None:
        assert mirrored is None
        return
    assert found.lessons <= AT_MOST
    low, high = found.interval
    assert low <= found.per_30_days <= high
    assert mirrored.per_30_days == pytest.approx(-found.per_30_days)
    assert found.clear == (low > 0 or high < 0)


@pytest.mark.parametrize("lessons", [5, 7, 10])
def test_without_a_true_trend_at_most_one_in_twenty_is_called_clear(lessons):
    draw = Random(lessons)
    runs = 2000
    clear = sum(trend(weekly([draw.gauss(60, 4) for _ in range(lessons)])).clear for _ in range(runs))
    assert clear / runs <= 0.05 + 3 * (0.05 * 0.95 / runs) ** 0.5
