"""What changed between two versions of a lesson, as one line says it."""

from typing import Any

import pytest

from reportgen.delivery.changes import what_changed
from reportgen.records.report import LessonReport
from tests.delivery.conftest import Demo


@pytest.fixture(scope="session")
def report(demo: Demo) -> LessonReport:
    return demo.report("duarte-pemberlow")


def with_findings(report: LessonReport, *changed: dict[str, Any]) -> LessonReport:
    findings = [f.model_copy(update=new) for f, new in zip(report.findings, changed, strict=False)]
    return report.model_copy(update={"findings": (*findings, *report.findings[len(changed) :])})


def test_the_same_lesson_has_no_change(report: LessonReport) -> None:
    assert what_changed(report, report) is None


def test_what_only_the_desk_sees_is_no_change(report: LessonReport) -> None:
    assert what_changed(report, report.model_copy(update={"for_the_desk": ("Ask about the knee.",)})) is None


def test_a_value_is_told_with_what_it_was(report: LessonReport) -> None:
    first = report.findings[0]
    now = with_findings(report, {"value": first.value + 40, "verdict": "above range"})
    assert what_changed(report, now) == (
        f"{first.name} is now {first.value + 40:.0f}° closed, above range (it was {first.value:.0f}° closed, in range)."
    )


def test_values_that_came_and_went_are_told(report: LessonReport) -> None:
    fewer = report.model_copy(update={"findings": report.findings[1:]})
    name = report.findings[0].name
    assert what_changed(report, fewer) == f"{name} is taken out."
    assert str(what_changed(fewer, report)).startswith(f"{name} is new: ")


def test_many_values_are_counted(report: LessonReport) -> None:
    now = with_findings(report, *({"value": f.value + 30} for f in report.findings[:5]))
    assert str(what_changed(report, now)).endswith("; 2 more values changed.")


def test_a_stop_is_said_first(report: LessonReport) -> None:
    now = with_findings(report, {"value": 99.0}).model_copy(update={"stopped": True, "drills": ()})
    assert str(what_changed(report, now)).startswith("Please stop for now, and read the caution first; ")


def test_other_parts_are_named(report: LessonReport) -> None:
    now = report.model_copy(update={"notes": "Other words.", "drills": report.drills[:1]})
    assert what_changed(report, now) == "The drills and the notes changed."


def test_it_is_one_line(report: LessonReport) -> None:
    now = with_findings(report, *({"value": f.value + 30} for f in report.findings))
    assert len(str(what_changed(report, now)).splitlines()) == 1
