"""What measurements tell of growth: the stage with its interval, the velocity, when they are too old, and in words."""

import re
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from reportgen.judging.bands import body_of, choose_band
from reportgen.judging.growth import HALF_WIDTH, STALE_AFTER_DAYS, growth_of, stage_of
from reportgen.records.academy import Student
from reportgen.records.body import GrowthEstimate
from reportgen.records.content import Band
from reportgen.records.lesson import Lesson
from reportgen.saying.body import told_growth
from reportgen.saying.findings import told_band
from reportgen.sheets.band_fits import BandConditions
from tests.judging.academies import library

DAY = date(2026, 3, 5)
BOY_OF_13 = {"date": "2026-03-01", "height": "160 cm", "sitting_height": "82 cm", "mass": "50 kg"}


def student(*growth: dict[str, str], born: str = "2012-09-01", sex: str = "male") -> Student:
    written: dict[str, Any] = {"name": "Ines Invented", "born": born, "plays": "right", "sex": sex, "growth": growth}
    return Student.model_validate(written)


def known(of: GrowthEstimate | None) -> GrowthEstimate:
    assert of is not None
    return of


@pytest.mark.parametrize(
    ("interval", "stage"),
    [
        ((-3.0, -0.01), "before"), ((-2.3, 0.0), "around"), ((-0.5, 1.8), "around"), ((0.0, 2.0), "around"),
        ((0.01, 2.4), "after"), (None, None),
    ],
)  # fmt: skip
def test_a_stage_is_only_sure_where_the_whole_interval_is(interval: tuple[float, float] | None, stage: str) -> None:
    assert stage_of(interval) == stage


def test_the_interval_reaches_over_both_equations_and_their_error() -> None:
    growth = known(growth_of(student(BOY_OF_13), DAY))
    years = [offset.years for offset in growth.offsets]
    assert [offset.equation for offset in growth.offsets] == ["Mirwald 2002", "Moore 2015"]
    assert growth.interval == pytest.approx((min(years) - HALF_WIDTH, max(years) + HALF_WIDTH))
    assert growth.stage == "around"


@pytest.mark.parametrize("left_out", [("mass",), ("sitting_height",), ("mass", "sitting_height")])
def test_without_mass_or_sitting_height_one_equation_is_left(left_out: tuple[str, ...]) -> None:
    measured = {key: value for key, value in BOY_OF_13.items() if key not in left_out}
    assert [o.equation for o in known(growth_of(student(measured), DAY)).offsets] == ["Moore 2015"]


def test_units_make_no_difference() -> None:
    other = {"date": "2026-03-01", "height": "1.6 m", "sitting_height": "820 mm", "mass": "110.2311311 lb"}
    mine, theirs = (known(growth_of(student(m), DAY)).interval for m in (BOY_OF_13, other))
    assert mine == pytest.approx(theirs)


def test_the_last_measurement_up_to_the_day_counts() -> None:
    later = {"date": "2026-04-01", "height": "161 cm"}
    of = student(BOY_OF_13, later)
    assert known(growth_of(of, DAY)).measured_on == date(2026, 3, 1)
    assert known(growth_of(of, date(2026, 4, 1))).measured_on == date(2026, 4, 1)
    assert growth_of(of, date(2026, 2, 28)) is None


@pytest.mark.parametrize(("days", "fresh"), [(STALE_AFTER_DAYS, True), (STALE_AFTER_DAYS + 1, False)])
def test_after_a_quarter_of_a_year_a_measurement_tells_nothing(days: int, fresh: bool) -> None:
    growth = growth_of(student(BOY_OF_13), date(2026, 3, 1) + timedelta(days=days))
    assert (growth is not None) == fresh


def test_nothing_is_said_of_the_growth_of_an_adult() -> None:
    of = student({"date": "2026-02-01", "height": "178 cm"}, born="2008-03-01")
    assert growth_of(of, date(2026, 2, 28)) is not None
    assert growth_of(of, date(2026, 3, 1)) is None


def test_a_child_too_young_for_the_equations_has_a_velocity_and_no_stage() -> None:
    of = student(
        {"date": "2025-09-01", "height": "118 cm"}, {"date": "2026-03-01", "height": "121 cm"}, born="2018-09-01"
    )
    growth = known(growth_of(of, DAY))
    assert (growth.offsets, growth.interval, growth.stage, told_growth(growth).says) == ((), None, None, None)
    assert growth.velocity == pytest.approx(6.05, abs=0.01)


@pytest.mark.parametrize(("days", "told"), [(89, False), (90, True), (400, True), (401, False)])
def test_growth_in_cm_a_year_needs_heights_neither_too_close_nor_too_far_apart(days: int, told: bool) -> None:
    before = date(2026, 3, 1) - timedelta(days=days)
    growth = known(growth_of(student({"date": str(before), "height": "155 cm"}, BOY_OF_13), DAY))
    assert (growth.velocity is not None) == told
    if told:
        assert growth.velocity == pytest.approx(5 / days * 365.25)


def test_a_measurement_that_is_too_close_does_not_hide_the_one_before_it() -> None:
    of = student({"date": "2025-11-01", "height": "157 cm"}, {"date": "2026-02-15", "height": "159.8 cm"}, BOY_OF_13)
    assert known(growth_of(of, DAY)).velocity == pytest.approx(3 / 120 * 365.25)


@pytest.mark.parametrize(
    ("measured", "born", "words"),
    [
        (
            {"height": "135 cm", "sitting_height": "71 cm", "mass": "30 kg"},
            "2016-09-01",
            "your growth spurt has not begun",
        ),
        (
            {"height": "160 cm", "sitting_height": "82 cm", "mass": "50 kg"},
            "2012-09-01",
            "you are in your growth spurt, or near it",
        ),
        (
            {"height": "178 cm", "sitting_height": "93 cm", "mass": "70 kg"},
            "2009-09-01",
            "your growth spurt is behind you",
        ),
    ],
)
def test_the_stage_is_said_as_an_estimate_without_a_figure_of_the_body(
    measured: dict[str, str], born: str, words: str
) -> None:
    growth = told_growth(known(growth_of(student({"date": "2026-03-01", **measured}, born=born), DAY)))
    assert growth.says is not None
    assert words in growth.says
    assert "estimate" in growth.says
    assert "not a medical statement" in growth.says
    assert not re.search(r"\d ?(cm|kg|m)\b", growth.says)
    assert [figure for figure in re.findall(r"\d+", growth.says) if int(figure) > 8] == []


def test_the_interval_in_words_is_rounded_outward_to_half_a_year() -> None:
    growth = known(growth_of(student(BOY_OF_13), DAY))
    assert growth.interval == pytest.approx((-1.7, 0.9), abs=0.1)
    assert "up to 2 years from now, or did so up to 1 year ago" in str(told_growth(growth).says)


def _band(name: str, low: float, **of: Any) -> Band:
    return Band.model_validate(
        {
            "id": name, "for": name, "low": low, "high": 60, "fits": of, "basis": "common practice", "limits": "usual",
            "source": "common practice, no source",
        }
    )  # fmt: skip


def test_a_band_can_be_chosen_by_growth() -> None:
    bands = (_band("juniors", 10, stage=["junior"]), _band("after", 20, stage=["junior"], growth=["after"]))
    metric, of = library().metrics["pelvis-open-impact"], student(BOY_OF_13)
    chosen = [
        choose_band(metric, bands, BandConditions("junior", (), "male", "iron", None, stage), of)
        for stage in ("after", "around", None)
    ]
    assert [band.low for band in chosen if band] == [20, 10, 10]
    assert chosen[0] is not None
    told = told_band(chosen[0], metric.id, replace(library(), bands={metric.id: bands}), lambda value: value)
    assert (
        told.why
        == "The range for after, chosen by age and growth. It is your teacher’s own figure, not a research norm."
    )


def test_a_lesson_knows_the_growth_of_its_day() -> None:
    lesson = Lesson.model_validate({"student": "ines-invented", "date": "2026-03-05", "club": "7-iron"})
    assert body_of(student(BOY_OF_13), lesson).growth == "around"
    assert body_of(student(), lesson).growth is None
