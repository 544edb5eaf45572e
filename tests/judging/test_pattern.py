"""What a table of shots says, and what too few or odd ones do not."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.judging.pattern import moments, pattern
from reportgen.judging.two_patterns import hotelling, two_patterns

EIGHT = [
    (2.0, 140.0), (-6.5, 151.0), (4.0, 138.0), (11.0, 146.0), (0.5, 144.0), (-3.0, 149.0), (7.0, 135.0), (5.0, 143.0),
]  # fmt: skip
places = st.tuples(st.integers(-300, 300), st.integers(0, 2500)).map(lambda at: (at[0] / 10, at[1] / 10))
tables = st.lists(places, min_size=1, max_size=16)


def mirrored(shots):
    return [(-side, carry) for side, carry in shots]


def test_no_shot_is_no_pattern():
    with pytest.raises(ValueError, match="needs a shot"):
        pattern([])


def test_a_mishit_is_counted_and_left_in():
    with_one = pattern([*EIGHT, (1.0, 60.0)])
    assert (with_one.shots, with_one.mishits) == (9, 1)
    assert with_one.carry.mean < pattern(EIGHT).carry.mean - 5


def test_a_carry_of_just_70_of_100_is_no_mishit():
    assert pattern([(0, 100.0), (0, 100.0), (0, 70.0)]).mishits == 0
    assert pattern([(0, 100.0), (0, 100.0), (0, 69.9)]).mishits == 1


def test_a_mishit_hardly_moves_the_robust_spread():
    without, with_one = pattern(EIGHT).carry, pattern([*EIGHT, (1.0, 60.0)]).carry
    assert with_one.spread.sd > 4 * without.spread.sd
    assert with_one.robust_spread < 1.5 * without.robust_spread


def test_the_next_shot_has_no_ellipse_below_eight_shots():
    assert pattern(EIGHT).next_shot is not None
    assert pattern(EIGHT[:7]).next_shot is None
    assert pattern(EIGHT[:7]).centre is not None


def test_the_ellipse_of_the_next_shot_is_larger_than_that_of_the_centre():
    found = pattern(EIGHT)
    assert found.next_shot.long > found.centre.long > found.centre.short


def test_one_shot_has_a_place_alone():
    found = pattern([(3.0, 140.0)])
    assert (found.side.mean, found.side.median, found.carry.mean) == (3, 3, 140)
    assert found.side.interval is found.side.spread is found.side.robust_spread is found.centre is None


def test_shots_on_one_line_have_no_ellipse():
    found = pattern([(n / 10, 140 + n / 3) for n in range(9)])
    assert found.next_shot is found.centre is None


def test_a_long_axis_that_goes_out_to_the_trail_side_tilts_to_it():
    assert pattern([*[(n, 140.0 + n) for n in range(9)], (0.0, 141.0)]).next_shot.tilt == pytest.approx(45, abs=5)


def test_shots_that_scatter_across_the_line_lie_across_it():
    across = [(5.0 * n, 140.0 + (n % 2)) for n in range(9)]
    assert abs(pattern(across).next_shot.tilt) == pytest.approx(90, abs=2)


@given(tables)
def test_a_mirrored_table_has_the_mirrored_pattern(shots):
    found, other = pattern(shots), pattern(mirrored(shots))
    assert other.side.mean == -found.side.mean
    assert other.side.spread == found.side.spread
    assert other.carry == found.carry
    if found.centre and found.centre.long > 1.001 * found.centre.short:
        assert abs(other.centre.tilt) == pytest.approx(abs(found.centre.tilt))


def test_two_shots_are_not_held_against_anything():
    assert two_patterns(EIGHT, EIGHT[:2]) is None


def test_the_same_shots_twice_do_not_differ():
    found = two_patterns(EIGHT, EIGHT)
    assert (found.centre.p, found.spread.p) == (1, 1)
    assert (found.side.by, found.ratio) == (0, 1)


def test_a_centre_that_moved_far_differs_and_asks_for_no_shots():
    found = two_patterns(EIGHT, [(side + 40, carry) for side, carry in EIGHT])
    assert (found.centre.verdict, found.centre.shots) == ("these two days differ", None)
    assert found.spread.verdict == "not enough shots to say"
    assert found.side.by == pytest.approx(40)


def test_a_centre_that_moved_a_little_says_how_many_shots_it_would_take():
    found = two_patterns(EIGHT, [(side + 5, carry) for side, carry in EIGHT])
    assert found.centre.verdict == "not enough shots to say"
    assert 10 < found.centre.shots < 60


def test_the_ratio_is_the_later_spread_over_the_earlier_one():
    wide = [(2 * side, 2 * carry - 140) for side, carry in EIGHT]
    found = two_patterns(EIGHT, wide)
    assert (found.ratio, found.side.ratio, found.carry.ratio) == pytest.approx((2, 2, 2))


def test_a_date_without_any_scatter_has_no_ratio():
    assert two_patterns([(1.0, 140.0)] * 3, EIGHT).ratio is None


def test_dates_on_one_line_have_centres_of_which_nothing_is_said():
    line = [(n / 10, 140 + n / 3) for n in range(9)]
    assert hotelling(moments(line), moments(line[2:])) == (0, 1)


@given(tables, tables)
def test_any_two_tables_and_their_mirrors_say_the_same(before, after):
    found, other = two_patterns(before, after), two_patterns(mirrored(before), mirrored(after))
    if found is None:
        assert min(len(before), len(after)) < 3
        return
    assert other.centre.p == pytest.approx(found.centre.p)
    assert (other.spread, other.ratio) == (found.spread, found.ratio)
    assert other.side.interval == pytest.approx((-found.side.interval[1], -found.side.interval[0]))
