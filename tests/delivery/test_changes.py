"""What changed between two versions of a lesson, as one line says it."""

import json
from typing import Any

import pytest

from reportgen.delivery.changes import as_mailed, read_mailed, written
from reportgen.languages.catalogues import language_of
from reportgen.records.report import DeskRemark, LessonReport
from reportgen.saying import mail
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell
from reportgen.saying.wording import amount
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


def test_the_same_lesson_has_no_change(report: LessonReport) -> None:
    assert what_changed(report, report) is None


def test_what_only_the_desk_sees_is_no_change(report: LessonReport) -> None:
    assert (
        what_changed(report, report.model_copy(update={"for_the_desk": (DeskRemark(code="other priorities"),)})) is None
    )


def test_a_value_is_told_with_what_it_was(report: LessonReport) -> None:
    first = report.findings[0]
    name = library().metrics[first.metric].name
    now = with_findings(report, {"value": first.value + 40, "verdict": "above range"})
    assert what_changed(report, now) == (
        f"{name} is now {first.value + 40:.0f}° closed, above range (it was {first.value:.0f}° closed, in range)."
    )


def test_values_that_came_and_went_are_told(report: LessonReport) -> None:
    fewer = report.model_copy(update={"findings": report.findings[1:]})
    name = library().metrics[report.findings[0].metric].name
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


def test_a_reader_who_changes_language_or_units_is_told_of_no_change(report: LessonReport) -> None:
    kept = as_mailed(report)
    german = language_of("de", shipped("content") / "languages")
    for reader in (Reader(german), Reader(units="imperial"), Reader(german, "imperial")):
        assert mail.what_changed(kept, as_mailed(report), library(), reader) is None


def first_edition(report: LessonReport, **changed: Any) -> dict[str, Any]:
    """What the first edition kept of a mail about this lesson: names and amounts in the words of its reader."""
    told = tell(report, library(), Reader())
    values = {
        f.metric: {
            "name": f.name,
            "amount": amount(f.value, f.unit, f.decimals, f.sign),
            "verdict": f.verdict,
        }
        for f in told.findings
    }
    return {"language": "en", "stopped": False, "parts": {"heading": "0f"}, "values": values, **changed}


def test_of_a_mail_of_the_first_edition_the_words_are_held_against_todays(report: LessonReport) -> None:
    kept = first_edition(report)
    assert since(kept, report) is None
    first = report.findings[0].metric
    kept["values"][first]["amount"] = "9° closed"
    assert "(it was 9° closed, in range)" in str(since(kept, report))


def test_of_a_mail_of_the_first_edition_in_another_language_only_verdicts_can_be_compared(report: LessonReport) -> None:
    kept = first_edition(report, language="de")
    first = report.findings[0].metric
    kept["values"][first]["amount"] = "9° geschlossen"
    assert since(kept, report) is None
    kept["values"][first]["verdict"] = "above range"
    assert "9° geschlossen, above range" in str(since(kept, report))


def since(kept: dict[str, Any], report: LessonReport) -> str | None:
    return mail.what_changed(read_mailed(json.dumps(kept)), as_mailed(report), library(), Reader())


@pytest.mark.parametrize("damaged", ["", "{", "[]", '{"stopped": true, "values": 3}', '{"values": {"a": {}}}'])
def test_what_cannot_be_read_is_not_known(damaged: str) -> None:
    assert read_mailed(damaged) is None
