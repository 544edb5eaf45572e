"""The shipped metrics and bands keep their promises: complete, honest about their error and source, never ambiguous."""

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from reportgen.records.content import Band, BandFile, Metric
from reportgen.records.shot_table import UNIT_OF
from reportgen.records.units import convertible
from reportgen.sheets.band_fits import tied
from tests.published.real_swing import TRUTH

CONTENT = Path(__file__).parents[2] / "content"

METRIC_IDS = (
    "pelvis-closed-top", "pelvis-turn-late", "thorax-closed-top", "separation-top", "trail-hip-load",
    "trail-knee-flex-top", "trail-knee-kept", "knee-flex-transition", "seat-forward-delivery",
    "seat-forward-impact", "lead-hip-rise", "pelvis-open-impact", "thorax-open-impact", "lead-knee-flex-impact",
    "trail-heel-lift-impact", "side-bend-impact", "posture-change-impact", "pelvis-shift-impact",
    "lead-pressure-top", "lead-pressure-impact", "clubhead-speed", "ball-speed", "speed-ratio", "tempo-ratio",
    "putt-aim", "putt-tempo", "chip-lead-weight",
    "face-angle", "club-path", "face-to-path", "attack-angle", "dynamic-loft", "loft-to-path", "low-point",
    "strike-across", "strike-up", "start-direction", "launch-angle", "spin", "carry", "side", "curve", "height",
)  # fmt: skip
CLUB_AND_BALL = METRIC_IDS[27:]
TURNS = ("pelvis-closed-top", "pelvis-turn-late", "thorax-closed-top", "pelvis-open-impact", "thorax-open-impact")
SPEEDS = ("clubhead-speed", "ball-speed", "speed-ratio")
TYPED_ONLY = ("lead-pressure-top", "lead-pressure-impact", *SPEEDS)


def _read(folder: str) -> dict[str, Any]:
    return {p.stem: yaml.safe_load(p.read_text(encoding="utf-8")) for p in sorted((CONTENT / folder).glob("*.yaml"))}


@pytest.fixture(scope="module")
def metrics() -> dict[str, Metric]:
    return {name: Metric.model_validate(written) for name, written in _read("metrics").items()}


@pytest.fixture(scope="module")
def band_files() -> dict[str, BandFile]:
    return {name: BandFile.model_validate(written) for name, written in _read("bands").items()}


@pytest.fixture(scope="module")
def bands(band_files: dict[str, BandFile]) -> list[Band]:
    return [band for file in band_files.values() for band in file.bands]


def test_every_metric_is_there_and_no_other(metrics: dict[str, Metric]) -> None:
    assert set(metrics) == set(METRIC_IDS)


def test_a_metric_file_is_named_after_its_id(metrics: dict[str, Metric]) -> None:
    assert {name: m.id for name, m in metrics.items()} == {name: name for name in metrics}


def test_a_band_file_is_named_after_its_metric(band_files: dict[str, BandFile]) -> None:
    assert {name: f.metric for name, f in band_files.items()} == {name: name for name in band_files}


def test_each_metric_has_a_place_of_its_own_within_its_checkpoint(metrics: dict[str, Metric]) -> None:
    places = [(m.checkpoint, m.order) for m in metrics.values()]
    assert len(places) == len(set(places))


def test_names_and_headlines_fit_on_a_line(metrics: dict[str, Metric]) -> None:
    sides = [side for m in metrics.values() for side in (m.below, m.above) if side]
    lines = [m.name for m in metrics.values()] + [side.work_on for side in sides]
    assert [line for line in lines if len(line) > 60] == []


def test_no_two_headlines_are_the_same(metrics: dict[str, Metric]) -> None:
    headlines = [side.work_on for m in metrics.values() for side in (m.below, m.above) if side]
    assert len(headlines) == len(set(headlines))


def test_what_a_teacher_sees_on_pictures_has_a_formula_of_stills(metrics: dict[str, Metric]) -> None:
    without = [m.id for m in metrics.values() if m.stills is None]
    assert sorted(without) == sorted(
        (*TYPED_ONLY, *CLUB_AND_BALL, "tempo-ratio", "putt-aim", "putt-tempo", "chip-lead-weight")
    )


@pytest.mark.parametrize("metric", TYPED_ONLY)
def test_pressure_and_speed_are_never_taken_by_eye_or_from_pictures(metrics: dict[str, Metric], metric: str) -> None:
    u = metrics[metric].uncertainty
    assert (u.by_eye, u.one_view, u.two_views) == (None, None, None)
    assert u.sensor is not None


def test_better_ways_of_taking_a_value_are_surer(metrics: dict[str, Metric]) -> None:
    for metric in metrics.values():
        u = metric.uncertainty
        given = [x for x in (u.two_views, u.one_view, u.by_eye) if x is not None]
        assert given == sorted(set(given)), metric.id


@pytest.mark.parametrize("metric", TURNS)
def test_a_turn_from_one_view_is_no_surer_than_8_degrees(metrics: dict[str, Metric], metric: str) -> None:
    one_view = metrics[metric].uncertainty.one_view
    assert one_view is not None
    assert one_view >= 8


def test_separation_from_one_view_is_no_surer_than_12_degrees(metrics: dict[str, Metric]) -> None:
    one_view = metrics["separation-top"].uncertainty.one_view
    assert one_view is not None
    assert one_view >= 12


@pytest.mark.parametrize("metric", SPEEDS)
def test_speed_is_company_and_never_a_fault(
    metrics: dict[str, Metric], band_files: dict[str, BandFile], metric: str
) -> None:
    assert (metrics[metric].below, metrics[metric].above) == (None, None)
    assert all(band.context for band in band_files[metric].bands)


@pytest.mark.parametrize("metric", ["pelvis-closed-top", "thorax-closed-top", "separation-top", "pelvis-open-impact"])
def test_too_little_turn_spares_stiff_hips_and_growing_players(metrics: dict[str, Metric], metric: str) -> None:
    below = metrics[metric].below
    assert below is not None
    assert "grow" in below.means
    assert re.search(r"stiff|restricted", below.means)


def test_a_band_belongs_to_a_metric_and_converts_to_its_unit(
    metrics: dict[str, Metric], band_files: dict[str, BandFile]
) -> None:
    assert set(band_files) <= set(metrics)
    assert [f.metric for f in band_files.values() if not convertible(f.unit, metrics[f.metric].unit)] == []


def test_a_value_on_each_judged_side_has_something_said_about_it(
    metrics: dict[str, Metric], band_files: dict[str, BandFile]
) -> None:
    silent = [
        band.id
        for file in band_files.values()
        for band in file.bands
        if not band.context
        and (
            (band.low is not None and metrics[file.metric].below is None)
            or (band.high is not None and metrics[file.metric].above is None)
        )
    ]
    assert silent == []


def test_no_two_bands_share_an_id(bands: list[Band]) -> None:
    assert len({band.id for band in bands}) == len(bands)


def test_no_band_fits_a_junior(bands: list[Band]) -> None:
    assert [band.id for band in bands if not band.fits.stage or "junior" in band.fits.stage] == []


def test_the_most_specific_band_is_never_a_tie(band_files: dict[str, BandFile]) -> None:
    assert {name: tied(file.bands) for name, file in band_files.items()} == dict.fromkeys(band_files)


def test_every_metric_with_something_to_work_on_has_a_band(
    metrics: dict[str, Metric], band_files: dict[str, BandFile]
) -> None:
    """Club and ball are shown without a range: what suits depends on the shot that is wanted."""
    judged = [m for m in metrics.values() if (m.below or m.above) and m.id not in UNIT_OF]
    assert [m.id for m in judged if m.id not in band_files] == []


def test_a_range_is_wide_enough_to_be_told_from_two_pictures_or_by_a_sensor(
    metrics: dict[str, Metric], band_files: dict[str, BandFile]
) -> None:
    """Narrower than 2.56 u, no value could be told to be in it with a certainty of 0.80."""
    narrow = []
    for name, file in band_files.items():
        u = metrics[name].uncertainty
        best = min(x for x in (u.two_views or u.sensor, u.sensor, u.by_eye) if x is not None)
        narrow += [
            b.id
            for b in file.bands
            if not b.context and b.low is not None and b.high is not None and b.high - b.low < 2.56 * best
        ]
    assert narrow == []


@pytest.mark.parametrize("metric", ["trail-hip-load", "pelvis-open-impact"])
def test_numbers_that_teachers_disagree_about_are_the_academys_view(
    band_files: dict[str, BandFile], metric: str
) -> None:
    assert all(band.disputed for band in band_files[metric].bands)


def test_no_recorded_swing_is_told_to_lean_more_at_impact(band_files: dict[str, BandFile]) -> None:
    """The swing of the motion-capture database in tests/published."""
    assert [b.id for b in band_files["side-bend-impact"].bands if not (b.low or 0) <= TRUTH["side-bend-impact"]] == []


@pytest.mark.parametrize("folder", ["metrics", "bands"])
def test_a_source_that_names_a_paper_names_where_it_stands(folder: str) -> None:
    text = "".join(path.read_text(encoding="utf-8") for path in (CONTENT / folder).glob("*.yaml"))
    assert re.findall(r"[:;(]\s+[A-Z][a-z]+ (?:19|20)\d\d", text) == []


def test_a_band_that_no_paper_backs_says_so(bands: list[Band]) -> None:
    unsaid = [
        band.id
        for band in bands
        if not (
            re.search(r"\b(19|20)\d\d\b", band.source)
            if band.basis == "published"
            else band.source.startswith(band.basis)
        )
    ]
    assert unsaid == []


def test_hips_of_adults_are_asked_for_the_trades_rule_of_thumb_at_the_top(band_files: dict[str, BandFile]) -> None:
    adult = next(band for band in band_files["pelvis-closed-top"].bands if band.id == "pelvis-closed-top-adult")
    assert (adult.low, adult.high) == (35, 55)


@pytest.mark.parametrize("metric", ["pelvis-closed-top", "thorax-closed-top", "separation-top", "pelvis-open-impact"])
@pytest.mark.parametrize("stage", ["adult", "senior"])
def test_a_restricted_hip_is_never_asked_for_more(band_files: dict[str, BandFile], metric: str, stage: str) -> None:
    by_id = {band.id: band for band in band_files[metric].bands}
    free, restricted = by_id[f"{metric}-{stage}"], by_id[f"{metric}-{stage}-restricted"]
    assert free.low is not None
    assert free.high is not None
    assert restricted.high is not None
    assert restricted.low is None or restricted.low < free.low
    assert restricted.high <= free.high


def test_pressure_is_judged_only_for_the_front_foot_style(band_files: dict[str, BandFile]) -> None:
    judged = [
        band
        for metric in ("lead-pressure-top", "lead-pressure-impact")
        for band in band_files[metric].bands
        if not band.context
    ]
    assert {band.fits.pressure_style for band in judged} == {("front-foot",)}


def test_nobody_with_a_restricted_hip_is_asked_for_more_separation(band_files: dict[str, BandFile]) -> None:
    restricted = [band for band in band_files["separation-top"].bands if band.fits.restricted]
    assert [band.low for band in restricted] == [None, None]
