"""Ball speed over clubhead speed."""

import pytest
from uncertainties import ufloat

from reportgen.measuring.speeds import speed_ratio, speed_ratio_doubt


def test_the_ratio_carries_the_uncertainty_of_both_speeds():
    expected = ufloat(66.0, 0.9) / ufloat(45.0, 0.7)
    assert speed_ratio(66.0, 0.9, 45.0, 0.7) == pytest.approx((expected.nominal_value, expected.std_dev))


@pytest.mark.parametrize("speeds", [(0.0, 1.0, 45.0, 1.0), (66.0, 1.0, -45.0, 1.0)])
def test_a_speed_of_nothing_is_refused(speeds):
    with pytest.raises(ValueError, match="above 0"):
        speed_ratio(*speeds)


def test_a_ratio_at_the_limit_is_believed():
    assert speed_ratio_doubt(1.52) is None


def test_a_ratio_above_the_limit_is_doubted_and_not_praised():
    assert speed_ratio_doubt(1.53).code == "ratio too high"
