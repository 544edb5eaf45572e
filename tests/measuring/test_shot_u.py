"""The standard uncertainty of one number of one shot."""

import pytest

from reportgen.measuring.shot_u import shot_u
from reportgen.records.academy import ShotError
from reportgen.records.shot_table import WORDS, Shot

SHOT = Shot(file="shots.csv", line=2, club="7-iron", **{word.replace("-", "_"): 2.0 for word in WORDS})


def u(word: str, shot: Shot = SHOT, errors: ShotError | None = None, **own: float) -> float | None:
    return shot_u(word, shot, errors or ShotError(), own)


@pytest.mark.parametrize(
    ("word", "figure"),
    [("face-angle", 1.0), ("club-path", 1.0), ("attack-angle", 1.0), ("start-direction", 0.5), ("carry", 0.04)],
)
def test_without_a_figure_of_the_academys_the_assumed_one_counts(word: str, figure: float) -> None:
    assert u(word) == pytest.approx(figure)


def test_the_academys_own_figure_counts() -> None:
    assert u("carry", errors=ShotError(carry_percent=10)) == pytest.approx(0.2)


def test_the_figure_of_the_column_wins() -> None:
    assert u("carry", errors=ShotError(carry_percent=10), carry=3.0) == 3.0


def test_a_difference_has_the_uncertainties_of_both() -> None:
    assert u("face-to-path", errors=ShotError(face_deg=3, path_deg=4)) == pytest.approx(5)


def test_the_side_has_a_share_of_the_carry() -> None:
    shot = SHOT.model_copy(update={"carry": 200.0, "side": -1.0})
    assert u("side", shot, ShotError(side_percent=1)) == pytest.approx(2)
    assert u("side", shot.model_copy(update={"carry": None})) is None


def test_what_a_shot_does_not_have_has_no_uncertainty() -> None:
    assert u("spin", SHOT.model_copy(update={"spin": None})) is None


@pytest.mark.parametrize("word", WORDS)
def test_every_number_of_a_shot_but_speeds_side_spin_and_those_of_putts_has_one(word: str) -> None:
    known_elsewhere = {"ball-speed", "clubhead-speed", "speed-ratio", "side-spin", "distance", "past"}
    assert (u(word) is None) == (word in known_elsewhere)
