"""What counts of shots say, and what too few of them do not."""

from datetime import date, timedelta

import pytest

from reportgen.judging.counts import Count, course, long_run, miss_side, two_dates
from reportgen.judging.enough import shots_for_counts, shots_for_shift, shots_for_spread

FIRST = date(2026, 3, 5)


def counts(*made, of=10, days=14):
    return [Count(FIRST + timedelta(days=days * n), one, of) for n, one in enumerate(made)]


@pytest.mark.parametrize(("made", "of"), [(0, 0), (4, 3), (-1, 5)])
def test_what_is_no_count_has_no_long_run(made, of):
    with pytest.raises(ValueError, match="no count"):
        long_run(made, of)


def test_none_and_all_of_ten_stay_within_0_and_1():
    assert long_run(0, 10).interval[0] == 0
    assert long_run(10, 10).interval[1] == 1


def test_three_and_eight_of_ten_are_not_enough_to_say_and_19_a_date_would_be():
    found = two_dates(*counts(3, 8))
    assert (found.verdict, found.shots) == ("not enough shots to say", 19)
    assert (found.since, found.by) == (FIRST, pytest.approx(0.5))


def test_nine_and_three_of_ten_differ():
    found = two_dates(*counts(9, 3))
    assert (found.verdict, found.shots) == ("these two days differ", None)
    assert found.interval[1] < 0


def test_no_number_of_shots_is_asked_for_where_nothing_differs():
    assert two_dates(*counts(7, 7)).shots is None


@pytest.mark.parametrize("asked", [shots_for_counts(0.5, 0.51), shots_for_spread(0.99, 1), shots_for_shift(0.01, 2)])
def test_nobody_is_asked_for_more_than_a_thousand_shots(asked):
    assert asked is None


def test_two_dates_are_no_course():
    assert course(counts(0, 10)) is None


def test_three_counts_of_two_days_are_none_either():
    first, second = counts(0, 10)
    assert course([first, first, second]) is None


def test_two_counts_of_one_day_are_one():
    first, second, third = counts(3, 5, 8)
    halves = [Count(second.on, 2, 4), Count(second.on, 3, 6)]
    assert course([first, *halves, third]) == course([first, second, third])


def test_the_order_in_which_dates_are_given_says_nothing():
    taken = counts(2, 4, 5, 9)
    assert course(taken[::-1]) == course(taken)


def test_a_count_that_grows_over_six_dates_has_changed():
    found = course(counts(1, 3, 4, 6, 8, 10))
    assert (found.verdict, found.dates, found.shots) == ("has changed", 6, 60)
    assert found.by > found.detectable


def test_a_count_that_falls_has_changed_too():
    assert course(counts(10, 8, 6, 4, 3, 1)).by < 0
    assert course(counts(10, 8, 6, 4, 3, 1)).verdict == "has changed"


def test_a_straight_line_of_equal_dates_is_found_as_it_is():
    assert course(counts(20, 30, 40, of=100)).by == pytest.approx(0.2)


def test_two_good_days_at_the_end_of_a_count_that_goes_up_and_down_are_no_change():
    assert course(counts(2, 9, 1, 8, 3, 9, of=20)).verdict == "not enough shots to say"


@pytest.mark.parametrize("always", [0, 10])
def test_none_and_all_on_every_date_are_no_change(always):
    found = course(counts(always, always, always, always))
    assert (found.by, found.verdict) == (pytest.approx(0), "not enough shots to say")


def test_shares_that_scatter_more_about_their_line_have_a_wider_interval():
    calm, wild = course(counts(5, 5, 5, 5, 5)), course(counts(0, 10, 0, 10, 0))
    ends = [found.interval[1] - found.interval[0] for found in (calm, wild)]
    assert ends[1] > 1.2 * ends[0]


def test_many_shots_a_date_do_not_take_the_scatter_of_days_away():
    few, many = course(counts(5, 6, 7)), course(counts(500, 600, 700, of=1000))
    assert many.detectable > 0.5 * few.detectable


def test_without_misses_no_side_is_shown():
    assert miss_side(0, 0).side is None


def test_misses_show_the_side_that_has_more_of_them():
    assert miss_side(1, 9).side == "lead"
    assert miss_side(9, 1).side == "trail"


def test_the_side_of_thousands_of_misses_is_told_too():
    assert (miss_side(3100, 2900).side, miss_side(3010, 2990).side) == ("trail", None)
