"""The student on a day: age, stage, hips; and the family of the club in hand."""

from datetime import date

import pytest

from reportgen.records.academy import Student
from reportgen.records.words import club_family


def student(**written):
    return Student.model_validate({"name": "Ines Invented", "born": "1986-05-01", "plays": "left", **written})


@pytest.mark.parametrize(
    ("born", "on", "age"),
    [
        ("1986-05-01", "2026-04-30", 39),
        ("1986-05-01", "2026-05-01", 40),
        ("2008-02-29", "2025-02-28", 16),
        ("2008-02-29", "2025-03-01", 17),
        ("2008-02-29", "2028-02-28", 19),
        ("2008-02-29", "2028-02-29", 20),
    ],
)
def test_age_is_in_completed_years_and_29_february_turns_on_1_march(born, on, age):
    assert student(born=born).age_on(date.fromisoformat(on)) == age


@pytest.mark.parametrize(
    ("on", "stage"),
    [
        ("2026-02-28", "junior"), ("2026-03-01", "adult"),
        ("2068-02-28", "adult"), ("2068-02-29", "senior"),
    ],
)  # fmt: skip
def test_a_junior_is_grown_up_on_the_18th_birthday_and_a_senior_from_the_60th(on, stage):
    assert student(born="2008-02-29").stage_on(date.fromisoformat(on)) == stage


@pytest.mark.parametrize(
    ("written", "hips"),
    [
        ("typical", "typical"), ("restricted", "restricted"),
        ("22.9 deg", "restricted"), ("23.0 deg", "typical"), ("0 deg", "restricted"), ("90 deg", "typical"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("side", ["lead-hip", "trail-hip"])
def test_one_restricted_hip_makes_the_hips_restricted(side, written, hips):
    assert student(mobility={side: written}).mobility.hips == hips


def test_a_hip_that_nobody_looked_at_counts_as_typical():
    assert student().mobility.hips == "typical"


@pytest.mark.parametrize("written", ["stiff", "28", "91 deg", "-1 deg", "28 cm"])
def test_a_hip_is_described_by_a_word_or_an_angle_and_nothing_else(written):
    with pytest.raises(ValueError, match="lead-hip"):
        student(mobility={"lead-hip": written})


@pytest.mark.parametrize(("called", "said"), [(None, "Ines"), ("Nes", "Nes")])
def test_the_report_calls_a_student_by_the_first_word_of_the_name_or_as_they_are_called(called, said):
    assert student(called=called).first_name == said


@pytest.mark.parametrize(
    ("club", "family"),
    [
        ("driver", "driver"), ("3-wood", "wood"), ("5-hybrid", "hybrid"), ("7-iron", "iron"), ("1-iron", "iron"),
        ("pitching-wedge", "wedge"), ("lob-wedge", "wedge"), ("putter", "putter"), ("no-club", "no-club"),
    ],
)  # fmt: skip
def test_every_club_belongs_to_a_family(club, family):
    assert club_family(club) == family
