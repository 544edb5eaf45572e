"""Which range a student is held against, and what the report says about it."""

from itertools import product
from typing import get_args

import pytest

from reportgen.judging.bands import choose_band
from reportgen.records.academy import Student
from reportgen.records.words import ClubFamily, Hips, PressureStyle, Sex
from reportgen.sheets.library import BandConditions
from tests.judging.academies import ADULT, JUNIOR, SENIOR, STIFF, finding_of, library, one, reading

NOBODY = Student.model_validate({"name": "Ines Invented", "born": "1986-05-01", "plays": "right"})
TURNS = ["pelvis-closed-top", "pelvis-open-impact", "thorax-closed-top", "thorax-open-impact", "separation-top"]


def bodies(*stages):
    others = product(get_args(Hips), (*get_args(Sex), None), get_args(ClubFamily), (*get_args(PressureStyle), None))
    return [BandConditions(stage, *rest) for stage, rest in product(stages, others)]


@pytest.mark.parametrize("metric", sorted(library().metrics))
def test_no_shipped_range_judges_a_junior(metric):
    bands = library().bands.get(metric, ())
    assert {choose_band(library().metrics[metric], bands, body, NOBODY) for body in bodies("junior")} == {None}


def test_a_juniors_values_are_shown_without_a_verdict_and_the_report_says_why(tmp_path):
    lines = "".join(
        reading(metric, 45 if unit == "deg" else 2, unit, u=1)
        for metric, unit in [(m, library().metrics[m].unit) for m in sorted(library().metrics)]
        if unit in ("deg", "cm") and "full-swing" in library().metrics[metric].kinds
    )
    report = one(tmp_path, lines, JUNIOR)
    assert {f.verdict for f in report.findings} == {"not judged"}
    assert {(f.probability, f.likelihood, f.band) for f in report.findings} == {(None, None, None)}
    assert all("For a growing player we set no range" in (f.note or "") for f in report.findings)
    assert report.priorities == ()


@pytest.mark.parametrize("stage", [ADULT, SENIOR])
def test_a_stiff_hip_has_ranges_of_its_own_that_ask_for_no_more_turn(tmp_path, stage):
    turns = "".join(reading(metric, 40) for metric in TURNS)
    reports = one(tmp_path / "typical", turns, stage), one(tmp_path / "stiff", turns, f"{stage}\n{STIFF}")
    for metric in TURNS:
        typical, stiff = (finding_of(report, metric).band for report in reports)
        assert "restricted hip" in stiff.for_
        assert stiff.low is None or stiff.low < typical.low
        assert stiff.high is None or stiff.high <= typical.high


def test_the_report_says_which_range_was_used_and_why(tmp_path):
    band = finding_of(one(tmp_path, reading("pelvis-open-impact", 45), f"{SENIOR}\n{STIFF}"), "pelvis-open-impact").band
    assert (band.low, band.high, band.for_) == (15, 45, "seniors with a restricted hip")
    assert band.why == (
        "The range for seniors with a restricted hip, chosen by age and hip mobility; "
        "your instructor's default, not a research norm."
    )
    assert band.source.startswith("common practice, no source")


@pytest.mark.parametrize(("style", "verdict"), [
    ("pressure_style: front-foot", "below range"), ("pressure_style: reverse", "not judged"), ("", "not judged"),
])  # fmt: skip
def test_pressure_under_the_lead_foot_is_judged_only_where_the_style_is_known_and_front_foot(tmp_path, style, verdict):
    report = one(tmp_path, reading("lead-pressure-impact", 55, '"%"', u=3), f"{ADULT}\n{style}")
    assert finding_of(report, "lead-pressure-impact").verdict == verdict


def test_a_range_for_context_is_shown_and_never_judged(tmp_path):
    report = one(tmp_path, reading("clubhead-speed", 20, "m/s"), f"{ADULT}\nsex: male", "club: driver")
    found = finding_of(report, "clubhead-speed")
    assert (found.band.low, found.verdict, found.probability) == (36, "not judged", None)
    assert "not judged" in found.note


def test_a_range_for_one_club_is_not_used_with_another(tmp_path):
    report = one(tmp_path, reading("clubhead-speed", 20, "m/s"), f"{ADULT}\nsex: male")
    assert finding_of(report, "clubhead-speed").band is None


def test_a_range_for_one_sex_is_not_used_where_the_sex_is_not_given(tmp_path):
    report = one(tmp_path, reading("clubhead-speed", 20, "m/s"), ADULT, "club: driver")
    assert finding_of(report, "clubhead-speed").band is None


TARGET = "targets: [{metric: pelvis-shift-impact, low: 1, high: 3, unit: in, reason: a stiff ankle}]"


@pytest.mark.parametrize("stage", [ADULT, JUNIOR])
def test_the_instructors_own_target_wins_in_its_own_unit_and_says_why(tmp_path, stage):
    report = one(tmp_path, reading("pelvis-shift-impact", 5, "cm", u=0.2), f"{stage}\n{TARGET}")
    found = finding_of(report, "pelvis-shift-impact")
    assert (found.band.low, found.band.high) == pytest.approx((2.54, 7.62))
    assert (found.verdict, found.band.basis) == ("in range", "instructor")
    assert found.band.why == "Your instructor set this range for you: a stiff ankle"
