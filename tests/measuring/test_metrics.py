"""Every metric against the truth of invented bodies, without any noise on the marks."""

import numpy as np
import pytest

from reportgen.measuring.blur import Noise
from reportgen.measuring.stills import measure
from tests.bench.measuring import MEASURES, METRICS
from tests.measuring import figures, pinhole

BODIES = 6
FIGURE = figures.bodies(BODIES, np.random.default_rng(12))
TRUTH = figures.truths(FIGURE)
FAR = 1e6
"""A camera so far away that its picture has no perspective, metres."""

IDS = [measure.metric for measure in MEASURES]
UNIT = {measure.metric: measure.unit for measure in MEASURES}
FACE_ON = [
    "trail-hip-load", "lead-hip-rise", "trail-heel-lift-impact", "side-bend-impact", "pelvis-shift-impact",
]  # fmt: skip
DOWN_THE_LINE = [
    "seat-forward-delivery", "seat-forward-impact", "lead-hip-rise", "trail-heel-lift-impact", "posture-change-impact",
]  # fmt: skip


def values(number: int, *views: pinhole.View, noise: Noise | None = None) -> dict[str, float]:
    taken = pinhole.stills(FIGURE, number, views, np.random.default_rng(0))
    readings, _ = measure(taken, METRICS, "right", pinhole.sizes(taken), noise=noise, samples=50)
    return {reading.metric: reading.value for reading in readings}


@pytest.fixture(scope="module")
def from_two():
    views = pinhole.View("face-on", 3.5, 1.1, 0.2), pinhole.View("down-the-line", 5.0, 0.9, 0.4)
    return [values(number, *views) for number in range(BODIES)]


@pytest.mark.parametrize("metric", IDS)
def test_two_views_give_the_true_value(metric: str, from_two):
    # one picture alone shows the seat, so how deep it stands is a guess; the scale lies a little beside the ankles
    within = 1.5 if metric.startswith("seat") else 0.15
    for number in range(BODIES):
        assert from_two[number][metric] == pytest.approx(TRUTH[metric][number], abs=within)


@pytest.mark.parametrize("metric", FACE_ON)
def test_a_metric_in_the_face_on_plane_needs_that_view_only(metric: str):
    for number in range(BODIES):
        found = values(number, pinhole.View("face-on", FAR, 1.1))
        assert found[metric] == pytest.approx(TRUTH[metric][number], abs=1e-3)


@pytest.mark.parametrize("metric", DOWN_THE_LINE)
def test_a_metric_in_the_down_the_line_plane_needs_that_view_only(metric: str):
    for number in range(BODIES):
        found = values(number, pinhole.View("down-the-line", FAR, 1.1))
        assert found[metric] == pytest.approx(TRUTH[metric][number], abs=1e-3)


@pytest.mark.parametrize("metric", ["pelvis-closed-top", "thorax-closed-top", "pelvis-open-impact"])
def test_a_turn_from_the_face_on_view_is_right_up_to_what_setup_was_not_square(metric: str):
    for number in range(BODIES):
        found = values(number, pinhole.View("face-on", FAR, 1.1), noise=Noise(0.01, 0.01, 0, 0, 0, 0, 0, 0))
        assert found[metric] == pytest.approx(TRUTH[metric][number], abs=1.5)


@pytest.mark.parametrize("metric", ["trail-knee-flex-top", "lead-knee-flex-impact"])
def test_a_knee_from_down_the_line_never_bends_more_than_in_space(metric: str):
    for number in range(BODIES):
        assert values(number, pinhole.View("down-the-line", FAR, 1.1))[metric] <= TRUTH[metric][number] + 1e-6


def test_a_knee_is_not_measured_from_the_face_on_view():
    assert "lead-knee-flex-impact" not in values(0, pinhole.View("face-on", FAR, 1.1))


def test_a_turn_is_not_measured_from_the_down_the_line_view():
    assert "pelvis-open-impact" not in values(0, pinhole.View("down-the-line", FAR, 1.1))
