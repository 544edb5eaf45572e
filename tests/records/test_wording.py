"""How values, ranges and dates read in a sentence."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.records.content import SignWords
from reportgen.saying.wording import amount, club_name, day, full_day, limits, listed, number, short_day, size

OPEN = SignWords(plus="open", minus="closed")
TOWARD = SignWords(plus="toward the ball", minus="back")
NBSP = "\u00a0"


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (62.4, 0, "62"), (2.14, 1, "2.1"), (-0.4, 1, "−0.4"), (-0.04, 1, "0.0"), (-0.4, 0, "0"), (-0.0, 2, "0.00"),
        (1000.5, 1, "1000.5"), (-12, 0, "−12"),
    ],
)  # fmt: skip
def test_a_number_has_its_decimals_a_true_minus_and_no_negative_zero(value, decimals, text):
    assert number(value, decimals) == text


@given(st.floats(-1000, 1000), st.integers(0, 3))
def test_a_number_reads_back_to_within_half_of_its_last_digit(value, decimals):
    text = number(value, decimals)
    assert abs(float(text.replace("−", "-")) - value) <= 0.5 * 10**-decimals + 1e-9
    assert "-" not in text
    assert not (text.startswith("−") and float(text[1:]) == 0)


@pytest.mark.parametrize(
    ("value", "unit", "decimals", "sign", "text"),
    [
        (62, "deg", 0, OPEN, "62° open"),
        (-8, "deg", 0, OPEN, "8° closed"),
        (0.3, "deg", 0, OPEN, "0°"),
        (-0.3, "deg", 0, OPEN, "0°"),
        (-4, "deg", 0, None, "−4°"),
        (2.1, "cm", 1, None, f"2.1{NBSP}cm"),
        (-1.25, "cm", 1, TOWARD, f"1.2{NBSP}cm back"),
        (80, "%", 0, None, f"80{NBSP}%"),
        (3.04, "1", 1, None, "3.0"),
    ],
)
def test_an_amount_has_its_unit_and_words_in_the_place_of_a_sign(value, unit, decimals, sign, text):
    assert amount(value, unit, decimals, sign) == text


@pytest.mark.parametrize(
    ("low", "high", "unit", "decimals", "sign", "text"),
    [
        (35, 55, "deg", 0, OPEN, "35° to 55° open"),
        (-5, 3, "cm", 1, TOWARD, f"5{NBSP}cm back to 3{NBSP}cm toward the ball"),
        (-15, 10, "deg", 0, None, "−15° to 10°"),
        (1.3, 2.5, "cm", 1, None, f"1.3 to 2.5{NBSP}cm"),
        (0, 4, "cm", 1, None, f"0 to 4{NBSP}cm"),
        (0, 2.5, "cm", 1, TOWARD, f"0.0 to 2.5{NBSP}cm toward the ball"),
        (None, 4, "cm", 1, None, f"up to 4{NBSP}cm"),
        (23, None, "deg", 0, None, "23° or more"),
        (None, -5, "deg", 0, OPEN, "5° closed or more"),
        (-5, None, "deg", 0, OPEN, "at most 5° closed"),
        (None, 5, "deg", 0, OPEN, "up to 5° open"),
        (5, None, "deg", 0, OPEN, "5° open or more"),
        (-20, -5, "deg", 0, OPEN, "20° to 5° closed"),
        (2.3, 3.7, "1", 1, None, "2.3 to 3.7"),
        (75, 95, "%", 0, None, f"75 to 95{NBSP}%"),
    ],
)
def test_a_range_is_said_with_as_few_decimals_as_show_it(low, high, unit, decimals, sign, text):
    assert limits(low, high, unit, decimals, sign) == text


def test_a_range_without_limits_cannot_be_said():
    with pytest.raises(ValueError, match="at least one limit"):
        limits(None, None, "cm", 1)


def test_a_change_has_a_size_and_no_sign():
    assert (size(-17.2, "deg", 0), size(1.2, "cm", 1)) == ("17°", f"1.2{NBSP}cm")


def test_dates_are_said_in_three_lengths():
    of = date(2026, 3, 5)
    assert (full_day(of), day(of), short_day(of)) == ("5 March 2026", "5 March", "5 Mar")


@pytest.mark.parametrize(
    ("words", "text"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_a_list_of_words_ends_with_and(words, text):
    assert listed(words) == text


@pytest.mark.parametrize(
    ("club", "said"),
    [("7-iron", "7-iron"), ("sand-wedge", "sand wedge"), ("no-club", "no club"), ("driver", "driver")],
)
def test_a_club_is_said_as_golfers_say_it(club, said):
    assert club_name(club) == said
