"""What changed between two versions of a lesson, as one line says it."""

import json
from datetime import date
from typing import Any

import pytest

from reportgen.delivery.changes import as_mailed, read_mailed, written
from reportgen.judging.drill_tests import drills_tested
from reportgen.languages.catalogues import language_of
from reportgen.records.aims import NextLesson
from reportgen.records.drill_tests import DrillCount
from reportgen.records.findings import Finding, PlayerLevel
from reportgen.records.report import DeskRemark, LessonReport
from reportgen.records.setup import SetupFound
from reportgen.saying import mail
from reportgen.saying.readers import Reader
from reportgen.sheets.shipped import shipped
from tests.delivery.conftest import Demo
from tests.judging.academies import library


def what_changed(before: LessonReport, now: LessonReport) -> str | None:
    """What is said of a lesson that was mailed as it stood before."""
    return mail.what_changed(read_mailed(written(as_mailed(before))), as_mailed(now), library(), Reader())


@pytest.fixture(scope="session")
def report(demo: Demo) -> LessonReport:
    return demo.report("duarte-pemberlow")


def with_findings(report: LessonReport, *changed: dict[str, Any]) -> LessonReport:
    findings = [f.model_copy(update=new) for f, new in zip(report.findings, changed, strict=False)]
    return report.model_copy(update={"findings": (*findings, *report.findings[len(changed) :])})


def moved(finding: Finding, by: float) -> PlayerLevel:
    return finding.level.model_copy(update={"value": finding.level.value + by})


def test_the_same_lesson_has_no_change(report: LessonReport) -> None:
    assert what_changed(report, report) is None


def test_what_only_the_desk_sees_is_no_change(report: LessonReport) -> None:
    assert (
        what_changed(report, report.model_copy(update={"for_the_desk": (DeskRemark(code="other priorities"),)})) is None
    )


def test_a_value_is_told_with_what_it_was(report: LessonReport) -> None:
    first = report.findings[0]
    name, before = library().metrics[first.metric].name, first.level.value
    now = with_findings(report, {"level": moved(first, 40), "verdict": "above range"})
    assert what_changed(report, now) == (
        f"{name} is now {before + 40:.0f}° closed, above range (it was {before:.0f}° closed, in range)."
    )


def test_another_count_of_a_drills_test_is_told(report: LessonReport) -> None:
    counts = [DrillCount(drill="toes-free", date=report.date, made=made, of=10, by="student") for made in (7, 9)]
    before, now = (
        report.model_copy(update={"tested": tuple(drills_tested([one], library().drills).values())}) for one in counts
    )
    assert what_changed(before, now) == "The tests of the drills changed."


def test_another_word_for_the_setup_is_told(report: LessonReport) -> None:
    before, now = (
        report.model_copy(update={"setup": (SetupFound(what="grip", word=word, club="7-iron"),)})
        for word in ("strong", "neutral")
    )
    assert what_changed(before, now) == "The set-up changed."


@pytest.mark.parametrize("student", ["rosalind-okevre", "osgood-ferrant"])
def test_other_shots_are_told(demo: Demo, student: str) -> None:
    now = demo.report(student)
    before = now.model_copy(update={"counts": (), "strikes": (), "patterns": ()})
    assert what_changed(now, now) is None
    assert what_changed(before, now) == "The shots changed."


def test_another_number_of_this_lesson_at_the_same_level_is_no_change(report: LessonReport) -> None:
    assert what_changed(report, with_findings(report, {"value": report.findings[0].value + 40})) is None


def test_values_that_came_and_went_are_told(report: LessonReport) -> None:
    fewer = report.model_copy(update={"findings": report.findings[1:]})
    name = library().metrics[report.findings[0].metric].name
    assert what_changed(report, fewer) == f"{name} is taken out."
    assert str(what_changed(fewer, report)).startswith(f"{name} is new: ")


def test_many_values_are_counted(report: LessonReport) -> None:
    now = with_findings(report, *({"level": moved(f, 30)} for f in report.findings[:5]))
    assert str(what_changed(report, now)).endswith("; 2 more values changed.")


def test_a_stop_is_said_first(report: LessonReport) -> None:
    now = with_findings(report, {"level": moved(report.findings[0], 40)}).model_copy(
        update={"stopped": True, "drills": ()}
    )
    assert str(what_changed(report, now)).startswith("Please stop for now, and read the caution first; ")


def test_other_parts_are_named(report: LessonReport) -> None:
    now = report.model_copy(update={"notes": "Other words.", "drills": report.drills[:1]})
    assert what_changed(report, now) == "The drills and the notes changed."


def test_a_next_lesson_that_was_moved_is_named_and_one_that_is_past_is_not(report: LessonReport) -> None:
    before, moved = (
        report.model_copy(update={"next_lesson": NextLesson(date=date(2026, 12, day), time="17:30")}) for day in (3, 10)
    )
    assert what_changed(before, moved) == "When you meet next changed."
    assert what_changed(before, report) is None


def test_it_is_one_line(report: LessonReport) -> None:
    now = with_findings(report, *({"level": moved(f, 30)} for f in report.findings))
    assert len(str(what_changed(report, now)).splitlines()) == 1


def test_a_reader_who_changes_language_or_units_is_told_of_no_change(report: LessonReport) -> None:
    kept = as_mailed(report)
    german = language_of("de", shipped("content") / "languages")
    for reader in (Reader(german), Reader(units="imperial"), Reader(german, "imperial")):
        assert mail.what_changed(kept, as_mailed(report), library(), reader) is None


def first_edition(report: LessonReport, verdict: str) -> dict[str, Any]:
    """What the first edition kept of a mail about this lesson: names and amounts in the words of its reader."""
    values = {f.metric: {"name": f.metric, "amount": "9°", "verdict": f.verdict} for f in report.findings}
    values[report.findings[0].metric]["verdict"] = verdict
    return {"language": "en", "stopped": False, "parts": {"heading": "0f"}, "values": values}


def test_of_a_mail_of_the_first_edition_verdicts_alone_are_compared(report: LessonReport) -> None:
    first = report.findings[0]
    assert since(first_edition(report, first.verdict), report) is None
    assert str(since(first_edition(report, "below range"), report)).endswith(f"{first.verdict} (it was below range).")


def test_what_the_first_edition_called_no_range_is_not_judged_now(report: LessonReport) -> None:
    unjudged = with_findings(report, {"verdict": "not judged"})
    assert since(first_edition(unjudged, "no range"), unjudged) is None


def since(kept: dict[str, Any], report: LessonReport) -> str | None:
    return mail.what_changed(read_mailed(json.dumps(kept)), as_mailed(report), library(), Reader())


@pytest.mark.parametrize("damaged", ["", "{", "[]", '{"stopped": true, "values": 3}', '{"values": {"a": {}}}'])
def test_what_cannot_be_read_is_not_known(damaged: str) -> None:
    assert read_mailed(damaged) is None
