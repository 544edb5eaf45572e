"""Which range a student is held against, and what the report says about it."""

from itertools import product
from typing import get_args

import pytest

from reportgen.judging.bands import choose_band
from reportgen.records.academy import Student
from reportgen.records.content import Band
from reportgen.records.words import ClubFamily, PressureStyle, Sex, Skill
from reportgen.sheets.band_fits import HIPS, BandConditions, tied
from tests.judging.academies import ADULT, JUNIOR, SENIOR, STIFF, finding_of, library, one, reading

NOBODY = Student.model_validate({"name": "Ines Invented", "born": "1986-05-01", "plays": "right"})
BACK = ["pelvis-closed-top", "thorax-closed-top", "separation-top"]
THROUGH = ["pelvis-open-impact", "thorax-open-impact"]


def bodies(*stages):
    stiff = ((), HIPS[:1], HIPS[1:], HIPS)
    others = product(stiff, (*get_args(Sex), None), get_args(ClubFamily), (*get_args(PressureStyle), None))
    return [
        BandConditions(stage, *rest, skill=skill)
        for stage, rest, skill in product(stages, others, (*get_args(Skill), None))
    ]


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
    assert all("While you grow we set no range" in (f.note or "") for f in report.findings)
    assert report.priorities == ()


@pytest.mark.parametrize("stage", [ADULT, SENIOR])
@pytest.mark.parametrize(("hip", "its_own", "others"), [("trail-hip", BACK, THROUGH), ("lead-hip", THROUGH, BACK)])
def test_a_stiff_hip_moves_only_the_ranges_of_what_it_limits_and_these_ask_for_no_more_turn(
    tmp_path, stage, hip, its_own, others
):
    turns = "".join(reading(metric, 40) for metric in (*its_own, *others))
    stiff = f"{stage}\nmobility: {{{hip}: restricted}}"
    typical, stiff = one(tmp_path / "typical", turns, stage), one(tmp_path / "stiff", turns, stiff)
    for metric in its_own:
        free, held = finding_of(typical, metric).band, finding_of(stiff, metric).band
        assert f"restricted {hip.replace('-', ' ')}" in held.for_
        assert held.low is None or held.low < free.low
        assert held.high is None or held.high <= free.high
    for metric in others:
        assert finding_of(typical, metric).band == finding_of(stiff, metric).band


def test_a_range_for_either_restricted_hip_reads_on(tmp_path):
    file = tmp_path / "bands" / "tempo-ratio.yaml"
    file.parent.mkdir()
    file.write_text(
        'metric: tempo-ratio\nunit: "1"\nbands:\n  - {id: ours, for: stiff hips, low: 2, high: 4, '
        "fits: {stage: [adult], hips: [restricted]}, basis: instructor, limits: ours, source: ours}\n"
    )
    for hip in ("lead-hip", "trail-hip"):
        report = one(tmp_path, reading("tempo-ratio", 3, '"1"'), f"{ADULT}\nmobility: {{{hip}: restricted}}")
        assert finding_of(report, "tempo-ratio").band.band == "ours"


@pytest.mark.parametrize(
    ("said", "low"),
    [
        ("beginner: true", 15), ("handicap: 28", 15), ("handicap: about 22", 15), ("handicap: 12.4", 25),
        ('handicap: "+2"', 25), ("handicap: none yet", 25), ("handicap: since 2019 about 30", 15),
        ("beginner: true\nhandicap: 4", 15), ("", 25),
    ],
)  # fmt: skip
def test_a_range_knows_how_practised_a_player_is(tmp_path, said, low):
    report = one(tmp_path, reading("pelvis-open-impact", 45), f"{ADULT}\n{said}")
    assert finding_of(report, "pelvis-open-impact").band.low == low


@pytest.mark.parametrize(("kind", "band"), [("", "tempo-ratio-adult"), ("kind: on-the-course", "on-grass")])
def test_a_range_can_be_of_one_kind_of_lesson(tmp_path, kind, band):
    file = tmp_path / "bands" / "tempo-ratio.yaml"
    file.parent.mkdir()
    file.write_text(
        'metric: tempo-ratio\nunit: "1"\nbands:\n  - {id: on-grass, for: the course, low: 2, high: 4, '
        "fits: {stage: [adult], kinds: [on-the-course]}, basis: instructor, limits: ours, source: ours}\n"
    )
    report = one(tmp_path, reading("tempo-ratio", 3, '"1"'), ADULT, kind)
    assert finding_of(report, "tempo-ratio").band.band == band


def test_two_ranges_that_fit_one_player_equally_well_are_found():
    written = {"for": "x", "low": 1, "high": 2, "basis": "instructor", "limits": "x", "source": "x"}
    one_hip, skill = (
        Band.model_validate({**written, "id": name, "fits": fits})
        for name, fits in (("a", {"restricted": ["lead-hip"]}), ("b", {"skill": ["beginner"]}))
    )
    assert tied((one_hip, skill)) == (one_hip, skill)
    assert (
        tied(
            (
                one_hip,
                one_hip.model_copy(
                    update={"low": None, "fits": skill.fits.model_copy(update={"restricted": ("lead-hip",)})}
                ),
            )
        )
        is None
    )


def test_of_what_teachers_disagree_about_the_page_says_whose_view_it_is(tmp_path):
    band = finding_of(one(tmp_path, reading("trail-hip-load", 2, "cm")), "trail-hip-load").band
    assert band.why == (
        "The range for adults, chosen by age. It is your academy’s view, since teachers disagree about this number."
    )


def test_the_report_says_which_range_was_used_and_why(tmp_path):
    band = finding_of(one(tmp_path, reading("thorax-open-impact", 30), f"{SENIOR}\n{STIFF}"), "thorax-open-impact").band
    assert (band.low, band.high, band.for_) == (5, 40, "seniors with a restricted lead hip")
    assert band.why == (
        "The range for seniors with a restricted lead hip, chosen by age and hip mobility. "
        "It is your teacher’s own figure, not a research norm."
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
    assert found.band.why == "Your teacher set this range for you: a stiff ankle"
