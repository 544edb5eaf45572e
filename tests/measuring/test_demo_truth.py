"""The demo's stills are drawn from a figure whose true measures are known: what is measured on them is held to that."""

import numpy as np
import pytest
from PIL import Image

from examples.draw_stills import ACADEMY, CLICK_PX, draw, still_block, still_name
from examples.drawn_lessons import DRAWN
from examples.golfer import figure, true_values
from reportgen.measuring.readings import Errors, readings_of
from reportgen.pipeline import load
from reportgen.records.academy import MarkingError
from reportgen.sheets.attached import Attached

HAND = MarkingError(
    click_px=float(np.hypot(CLICK_PX, 12**-0.5)), scale_px=0.5,
    habit_mm=0, visit_mm=0, still_mm=0, yaw_deg=0, roll_deg=0, scale_plane_m=0,
)  # fmt: skip
"""What the drawn marks are off by in truth: the click, rounded to whole pixels; the scale's ends are only rounded."""

drawn = pytest.mark.parametrize("lesson", DRAWN, ids=lambda lesson: f"{lesson.student}-{lesson.date}")


@pytest.fixture(scope="module")
def academy():
    return load(ACADEMY)


def sheet_of(academy, lesson):
    return next(s for s in academy.students[lesson.student].lessons if s.name == lesson.date)


def errors(academy, lesson, marking):
    """Metric -> (measured − true) / u, from the stills of a lesson alone."""
    sheet = sheet_of(academy, lesson)
    alone = sheet.lesson.model_copy(update={"readings": (), "readings_from": None, "tempo": None})
    plays = academy.students[lesson.student].student.plays
    attached, metrics = Attached((), sheet.attached.sizes), academy.library.metrics
    readings, _ = readings_of(alone, attached, plays, Errors(marking), metrics)
    true = true_values(*(figure(pose) for pose in lesson.poses().values()))
    assert {r.metric for r in readings} == true.keys()
    return {r.metric: (r.value - true[r.metric]) / r.u for r in readings}


@drawn
def test_every_measured_value_lies_within_3_u_of_the_truth(academy, lesson):
    assert {m: e for m, e in errors(academy, lesson, academy.academy.marking).items() if abs(e) > 3} == {}


@drawn
def test_that_holds_too_where_only_the_errors_really_made_are_declared(academy, lesson):
    assert {m: e for m, e in errors(academy, lesson, HAND).items() if abs(e) > 3} == {}


@pytest.mark.parametrize("marking", [MarkingError(), HAND], ids=["as shipped", "as really made"])
def test_95_percent_of_the_values_lie_within_their_interval(academy, marking):
    found = [error for lesson in DRAWN for error in errors(academy, lesson, marking).values()]
    assert len(found) > 100
    assert np.mean(np.abs(found) <= 1.96) >= 0.95


def test_intervals_are_no_wider_than_the_errors_that_were_made(academy):
    """Root mean square of error / u, 1 where u says what it should; values of one lesson go together."""
    found = [error for lesson in DRAWN for error in errors(academy, lesson, HAND).values()]
    assert 0.6 < np.sqrt(np.mean(np.square(found))) < 1.25


@drawn
def test_the_sheet_holds_the_marks_that_the_figure_gives(lesson):
    sheet = ACADEMY / "students" / lesson.student / "lessons" / f"{lesson.date}.yaml"
    assert still_block(lesson) in sheet.read_text(encoding="utf-8")


@pytest.mark.parametrize("lesson", [DRAWN[0], DRAWN[2]], ids=["right-handed", "left-handed"])
def test_a_picture_drawn_again_is_the_same(lesson):
    camera, pose = lesson.cameras[1], lesson.impact
    file = ACADEMY / "students" / lesson.student / "stills" / still_name(lesson, "impact", camera)
    with Image.open(file) as kept:
        assert np.array_equal(np.asarray(draw(pose, camera).convert("RGB")), np.asarray(kept.convert("RGB")))


def test_the_pictures_of_the_demo_weigh_less_than_3_mb():
    assert sum(file.stat().st_size for file in ACADEMY.rglob("*.png")) < 3_000_000


def test_one_lesson_of_the_demo_rests_on_its_marks_alone(academy):
    sheets = [sheet_of(academy, lesson) for lesson in DRAWN]
    assert any(not s.lesson.readings and not s.lesson.readings_from and s.lesson.stills for s in sheets)
