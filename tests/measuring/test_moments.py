"""Two films that are not of one moment, and a turn that one picture shows without a sign."""

import numpy as np
import pytest

from reportgen.measuring.blur import Noise
from reportgen.measuring.stills import measure
from reportgen.saying.missing import told_missing
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped
from tests.bench.measuring import METRICS
from tests.measuring import figures, pinhole
from tests.published.real_swing import FPS, Late, filmed, square_cameras

LIBRARY = load_library(shipped("content"), shipped("content") / "no-academy")[0]
TOGETHER, APART = Late(), Late(down=-3)
FAST = {"pelvis-open-impact", "thorax-open-impact", "lead-knee-flex-impact", "side-bend-impact", "pelvis-shift-impact"}
STILL = {"pelvis-closed-top", "thorax-closed-top", "trail-hip-load", "trail-knee-flex-top"}


def found(taken):
    """(readings by metric, what is said of each that is missing)."""
    readings, missing = measure(taken, METRICS, "right", pinhole.sizes(taken))
    return {r.metric: r for r in readings}, {gap.metric: told_missing(gap, LIBRARY).says for gap in missing}


def with_marks(taken, checkpoint, view, **moved):
    """The stills, with marks of one of them moved by so many pixels across and up."""
    return [
        still.model_copy(
            update={
                "marks": still.marks
                | {
                    name.replace("_", "-"): tuple(np.add(still.marks[name.replace("_", "-")], by))
                    for name, by in moved.items()
                }
            }
        )
        if (still.checkpoint, still.view) == (checkpoint, view)
        else still
        for still in taken
    ]


def without_wrists(taken):
    return [
        still.model_copy(update={"marks": {n: p for n, p in still.marks.items() if not n.endswith("wrist")}})
        for still in taken
    ]


def test_what_changes_fast_is_not_taken_from_pictures_that_are_three_frames_apart():
    readings, missing = found(filmed(square_cameras(), APART))
    assert readings.keys() & FAST == set()
    assert {missing[metric] for metric in FAST} == {
        "The two pictures (impact) are not of one moment: the wrists are not equally high above the hips. Take "
        "both from the same moment of the videos, or mark wrists and hips again."
    }


def test_what_stands_still_is_measured_all_the_same():
    assert found(filmed(square_cameras(), APART))[0].keys() >= STILL


def test_pictures_of_one_moment_give_everything():
    assert found(filmed(square_cameras(), TOGETHER))[1] == {}


def test_without_wrists_nobody_can_tell():
    assert found(without_wrists(filmed(square_cameras(), APART)))[0].keys() >= FAST


def test_a_wrist_that_sits_wrong_at_setup_takes_nothing_away():
    wrong = with_marks(filmed(square_cameras()), "setup", "down-the-line", lead_wrist=(0, 80))
    assert found(wrong)[1] == {}


def test_one_swing_whose_pictures_are_apart_leaves_the_others():
    good = [still.model_copy(update={"swing": 1}) for still in filmed(square_cameras())]
    bad = [still.model_copy(update={"swing": 2}) for still in filmed(square_cameras(), APART)]
    readings, missing = found([*good, *bad])
    assert missing == {}
    assert len(readings["pelvis-closed-top"].swings) == 2
    assert readings["pelvis-open-impact"].swings == ()


def framed(late_at_impact: int = 0, clocks_apart: int = 70):
    """Both films with the frames of their stills, the down-the-line one later picked at impact."""
    frames = {"setup": 10, "takeaway": 120, "top": 160, "transition": 175, "delivery": 188, "impact": 192}
    return [
        still.model_copy(
            update={
                "frame": frames[still.checkpoint]
                + (still.view == "down-the-line") * (clocks_apart + late_at_impact * (still.checkpoint == "impact"))
            }
        )
        for still in filmed(square_cameras())
    ]


def test_films_whose_frames_agree_are_surer_than_films_without_frames():
    agreed, unknown = found(framed())[0], found(filmed(square_cameras()))[0]
    assert agreed["thorax-open-impact"].u < unknown["thorax-open-impact"].u
    assert agreed["trail-heel-lift-impact"].u == unknown["trail-heel-lift-impact"].u


def test_the_clocks_of_two_films_may_be_apart_by_anything():
    here, there = (found(framed(clocks_apart=apart))[0]["thorax-open-impact"].u for apart in (0, 9000))
    assert here == pytest.approx(there)


@pytest.mark.parametrize("frames", [2, -3])
def test_frames_that_disagree_widen_what_needs_both_pictures(frames):
    agreed, late = found(framed())[0], found(framed(late_at_impact=frames))[0]
    rate = METRICS["thorax-open-impact"].stills.rate
    grown = late["thorax-open-impact"].u ** 2 - agreed["thorax-open-impact"].u ** 2
    assert grown == pytest.approx((rate * frames / FPS) ** 2)
    assert late["thorax-closed-top"].u == agreed["thorax-closed-top"].u
    assert late["pelvis-shift-impact"].u == agreed["pelvis-shift-impact"].u


CAMERA = (pinhole.View("face-on", 4.4, 1.1),)
NOTHING = Noise(0.1, 0.1, 0, 0, 0, 0, 0, 0)


def turned(shoulders: float, hips: float, checkpoint: str = "impact"):
    """Face-on stills of a body that is square at setup and turned so far (deg, + open) at a later moment."""
    figure = figures.bodies(1, np.random.default_rng(3))
    for joint, degrees in (("shoulder", shoulders), ("hip", hips)):
        middle, angle = (figure["setup"][f"lead-{joint}"] + figure["setup"][f"trail-{joint}"]) / 2, np.radians(degrees)
        half = np.linalg.norm(figure["setup"][f"lead-{joint}"] - middle)
        for at, by in (("setup", 0.0), (checkpoint, angle)):
            along = half * np.array([np.cos(by), -np.sin(by), 0.0])
            figure[at][f"lead-{joint}"], figure[at][f"trail-{joint}"] = middle + along, middle - along
    return figure


def one_picture(figure, seed=0, noise=NOTHING):
    random = np.random.default_rng(seed)
    marker = pinhole.marker(figure, random, noise)
    taken = pinhole.stills(figure, 0, CAMERA, random, noise.click_px, noise.still_mm, marker)
    readings, _ = measure(taken, METRICS, "right", pinhole.sizes(taken), noise=noise, samples=64)
    return {reading.metric: reading for reading in readings}


@pytest.mark.parametrize("open_by", [-25, -12, 0, 12, 25])
def test_a_turn_near_square_from_one_picture_runs_to_both_sides(open_by):
    reading = one_picture(turned(shoulders=open_by, hips=0))["thorax-open-impact"]
    assert reading.value == 0.0
    assert abs(open_by) < 1.96 * reading.u < abs(open_by) + 21  # how deep the shoulders stand is unknown


@pytest.mark.parametrize("open_by", [-25, -12, 5, 20])
def test_marked_as_declared_its_interval_holds_shoulders_that_are_closed_still(open_by):
    figure = turned(shoulders=open_by, hips=max(open_by, -10))
    of = [one_picture(figure, seed, Noise())["thorax-open-impact"] for seed in range(50)]
    assert np.mean([abs(open_by - reading.value) <= 1.96 * reading.u for reading in of]) >= 0.93


def test_hips_that_are_surely_further_open_than_any_are_closed_keep_their_sign():
    reading = one_picture(turned(shoulders=20, hips=42))["pelvis-open-impact"]
    assert reading.value == pytest.approx(42, abs=1.5)
    assert reading.u < 2


def test_at_the_top_a_turn_has_its_sign():
    assert one_picture(turned(shoulders=-20, hips=-8, checkpoint="top"))["thorax-closed-top"].value > 15


def test_two_pictures_show_the_sign():
    figure = turned(shoulders=-18, hips=5)
    both = (*CAMERA, pinhole.View("down-the-line", 4.2, 1.1))
    taken = pinhole.stills(figure, 0, both, np.random.default_rng(0))
    readings, _ = measure(taken, METRICS, "right", pinhole.sizes(taken), noise=NOTHING, samples=64)
    values = {reading.metric: reading.value for reading in readings}
    assert values["thorax-open-impact"] == pytest.approx(-18, abs=0.1)
