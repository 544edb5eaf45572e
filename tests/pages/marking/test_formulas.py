"""The page's formulas give what the report's give, on the same marks."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from reportgen.measuring.stills import measure
from reportgen.records.lesson import Lesson
from reportgen.sheets.reading import read_sheet
from tests.bench.measuring import MEASURES, METRICS
from tests.measuring import figures
from tests.pages.marking.conftest import DEMO

FIGURE = figures.bodies(6, np.random.default_rng(3))
TURNS_OF_ONE = {
    "pelvis-closed-top": ("hip", "top"),
    "thorax-closed-top": ("shoulder", "top"),
    "pelvis-open-impact": ("hip", "impact"),
    "thorax-open-impact": ("shoulder", "impact"),
}


def on_page(paper, stills, plays, sizes):
    """What the page's formulas give for the stills of a sheet: metric -> value or None."""
    written = [
        {
            **still.model_dump(by_alias=True, exclude_none=True, mode="json"),
            "marks": still.marks,
            "size": sizes[still.file],
        }
        for still in stills
    ]
    said = paper.run("return measured(arguments[0], arguments[1], measures)", written, plays)
    return {one["metric"]: one.get("value") for one in said}


def in_report(stills, plays, sizes):
    readings, _ = measure(stills, METRICS, plays, sizes, samples=64)
    return {reading.metric: reading for reading in readings}


def turn_of_one(stills, joint, checkpoint):
    """A turn by how narrow a line looks, from the sheet itself: acos(w / W) with W = √(w² + rise²) at setup − rise²."""

    def line(moment):
        still = next(s for s in stills if (s.view, s.checkpoint) == ("face-on", moment))
        return np.subtract(still.marks[f"lead-{joint}"], still.marks[f"trail-{joint}"])

    (width, rise), (setup_width, setup_rise) = line(checkpoint), line("setup")
    square = math.sqrt(setup_width**2 + setup_rise**2 - rise**2)
    return math.degrees(math.acos(min(1.0, width / square)))


def lessons():
    for number, plays in enumerate(["right", "left", "right", "left"]):
        views = (
            figures.View("face-on", 4.1, 1.1, 0.2, plays=plays),
            figures.View("down-the-line", 4.6, 1.0, -0.3, plays=plays),
        )
        for distances in (True, False):
            taken = figures.stills(FIGURE, number, views, np.random.default_rng(number), 3.0, distances=distances)
            yield pytest.param(taken, plays, id=f"two views, {plays}, distances {distances}")
        bent = tuple(replace(view, yaw_deg=yaw) for view, yaw in zip(views, (6.0, -4.0), strict=True))
        for as_scale in (True, False):
            random = np.random.default_rng(number)
            taken = figures.stills(FIGURE, number, bent, random, 3.0)
            sticks = figures.with_sticks(taken, bent, random, 3.0, as_scale=as_scale)
            yield pytest.param(sticks, plays, id=f"sticks, {plays}, scale is one {as_scale}")
    again = figures.stills(FIGURE, 4, views, np.random.default_rng(8), 3.0)
    yield pytest.param([*taken, *again], "left", id="two swings")


@pytest.mark.parametrize(("stills", "plays"), [*lessons()])
def test_values_from_two_views_are_those_of_the_report(paper, stills, plays):
    paper.open("empty")
    sizes = figures.sizes(stills)
    expected = {metric: reading.value for metric, reading in in_report(stills, plays, sizes).items()}
    assert len(expected) == len(MEASURES)
    assert on_page(paper, stills, plays, sizes) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("by", [15.0, 60.0])
def test_a_picture_that_has_moved_is_put_right_as_in_the_report(paper, by):
    """By a ball that is marked off by less than clicks are, and by more."""
    paper.open("empty")
    views = figures.View("face-on", 4.1, 1.1), figures.View("down-the-line", 4.6, 1.0)
    taken = [
        still.model_copy(update={"marks": {name: (x + by, y) for name, (x, y) in still.marks.items()}})
        if still.checkpoint == "impact"
        else still
        for still in figures.stills(FIGURE, 0, views, np.random.default_rng(5), 0.0)
    ]
    sizes = figures.sizes(taken)
    expected = {metric: reading.value for metric, reading in in_report(taken, "right", sizes).items()}
    assert on_page(paper, taken, "right", sizes) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("view", ["face-on", "down-the-line"])
def test_values_from_one_view_are_those_of_the_report(paper, view):
    """Near square, the report lifts a turn of one view by its uncertainty; the page says it as marked."""
    paper.open("empty")
    taken = figures.stills(FIGURE, 5, [figures.View(view, 4.0, 1.1)], np.random.default_rng(1), 2.0)
    page, report = on_page(paper, taken, "right", figures.sizes(taken)), in_report(taken, "right", figures.sizes(taken))
    assert {metric for metric, value in page.items() if value is not None} == report.keys()
    turned = {*TURNS_OF_ONE, "pelvis-turn-late", "separation-top"} if view == "face-on" else set()
    expected = {metric: reading.value for metric, reading in report.items() if metric not in turned}
    assert {metric: page[metric] for metric in expected} == pytest.approx(expected, abs=1e-6)
    if turned:
        turns = {metric: turn_of_one(taken, *where) for metric, where in TURNS_OF_ONE.items()}
        late = turn_of_one(taken, "hip", "top") - turn_of_one(taken, "hip", "takeaway")
        turns |= {"pelvis-turn-late": late, "separation-top": turns["thorax-closed-top"] - turns["pelvis-closed-top"]}
        assert {metric: page[metric] for metric in turns} == pytest.approx(turns, abs=1e-6)


@pytest.mark.parametrize(
    "sheet",
    sorted(str(f.relative_to(DEMO)) for f in DEMO.glob("students/*/lessons/*.yaml") if "stills:" in f.read_text()),
)
def test_values_of_a_demo_lesson_are_those_of_the_report(paper, sheet):
    paper.open("empty")
    lesson = read_sheet(DEMO / sheet, sheet, Lesson)[0].record
    plays = "left" if "plays: left" in (DEMO / Path(sheet).parents[1] / "student.yaml").read_text() else "right"
    sizes = {still.file: (960, 1400) for still in lesson.stills}
    expected = {m: reading.value for m, reading in in_report(lesson.stills, plays, sizes).items() if reading.views == 2}
    page = on_page(paper, lesson.stills, plays, sizes)
    assert len(expected) > 5
    assert {metric: page[metric] for metric in expected} == pytest.approx(expected, abs=1e-6)


def test_every_measure_of_the_report_is_one_of_the_page(paper):
    paper.open("empty")
    assert set(paper.run("return measures.map(({metric}) => metric)")) == {measure.metric for measure in MEASURES}


def test_a_place_is_not_compared_between_pictures_of_different_sizes(paper):
    paper.open("empty")
    taken = figures.stills(FIGURE, 0, [figures.View("face-on", 4.0, 1.1)], np.random.default_rng(1))
    sizes = figures.sizes(taken) | {"impact-face-on.png": (1080, 1920)}
    page = on_page(paper, taken, "right", sizes)
    assert page["pelvis-shift-impact"] is None
    assert "pelvis-shift-impact" not in in_report(taken, "right", sizes)
