"""The whole way from sheets to the judged lesson, on the invented academy: the shape that others script against."""

import json
from pathlib import Path

import pytest

from reportgen.pipeline import load
from reportgen.records.report import LessonReport
from tests.judging.academies import judge_folder, judged, reading, sheet, write_academy

ACADEMY = Path(__file__).parents[1] / "examples" / "academy"
NUMBER = (int, float)

TOP = ("student", "date", "findings", "priorities", "drills", "practice", "cautions", "missing")
FINDING = {
    "metric": str, "checkpoint": str, "value": NUMBER, "u": NUMBER, "interval": list, "unit": str,
    "how": str, "band": (dict, type(None)), "probability": (*NUMBER, type(None)), "verdict": str,
    "likelihood": (str, type(None)), "change": (dict, type(None)),
}  # fmt: skip
BAND = {"low": (*NUMBER, type(None)), "high": (*NUMBER, type(None)), "band": (str, type(None)), "basis": str}
CHANGE = {"since": str, "before": NUMBER, "by": NUMBER}


@pytest.fixture(scope="module")
def academy():
    return load(ACADEMY)


@pytest.fixture(scope="module")
def reports(academy):
    return [report for student in academy.students for report in judge_folder(academy, student)]


@pytest.fixture(scope="module")
def printed(reports):
    return [json.loads(report.model_dump_json(by_alias=True)) for report in reports]


@pytest.fixture(scope="module")
def findings(printed):
    return [finding for report in printed for finding in report["findings"]]


def fits(value, shape):
    return set(shape) <= set(value) and all(isinstance(value[key], kind) for key, kind in shape.items())


def test_every_lesson_of_the_invented_academy_is_judged(academy, reports):
    assert academy.problems == []
    assert len(reports) == sum(len(folder.lessons) for folder in academy.students.values()) > 30


def test_a_report_has_the_keys_that_the_documents_promise(printed):
    assert [set(TOP) - set(report) for report in printed] == [set()] * len(printed)


def test_a_finding_has_the_keys_and_kinds_that_the_documents_promise(findings):
    assert len(findings) > 100
    assert [f for f in findings if not fits(f, FINDING)] == []
    assert [f["band"] for f in findings if f["band"] and not fits(f["band"], BAND)] == []
    assert [f["change"] for f in findings if f["change"] and not fits(f["change"], CHANGE)] == []


def test_dates_are_written_as_year_month_day(printed, findings):
    written = [report["date"] for report in printed] + [f["change"]["since"] for f in findings if f["change"]]
    assert all(len(day) == 10 and day[4] == day[7] == "-" for day in written)


def test_probability_likelihood_and_verdict_come_together_or_not_at_all(findings):
    for f in findings:
        judged_too = f["band"] is not None and not f["band"]["context"] and not f["too_coarse"]
        assert (f["probability"] is not None) == (f["likelihood"] is not None) == judged_too
        assert (f["verdict"] != "not judged") == judged_too
        assert f["probability"] is None or 0 <= f["probability"] <= 1


def test_an_interval_holds_its_value_and_is_at_least_two_standard_uncertainties_to_each_side(findings):
    for f in findings:
        low, high = f["interval"]
        assert high - f["value"] == pytest.approx(f["value"] - low)
        assert high - f["value"] >= 1.9599 * f["u"]


def test_a_report_reads_back_from_its_json(reports):
    assert [LessonReport.model_validate_json(r.model_dump_json(by_alias=True)) for r in reports] == reports


def test_the_json_fits_its_own_schema_by_name(printed):
    properties = LessonReport.model_json_schema(mode="serialization", by_alias=True)["properties"]
    assert all(set(report) == set(properties) for report in printed)


def test_the_same_sheets_give_the_same_reports(academy, reports):
    again = load(ACADEMY)
    assert [r for student in again.students for r in judge_folder(again, student)] == reports


def test_lessons_are_numbered_in_the_order_of_their_dates(academy):
    for student in academy.students:
        lessons = judge_folder(academy, student)
        assert [r.number for r in lessons] == [*range(1, len(lessons) + 1)]
        assert [r.date for r in lessons] == sorted(r.date for r in lessons)


def test_a_second_lesson_on_a_day_follows_the_first(tmp_path):
    hips = [sheet(reading("pelvis-open-impact", value, u=1)) for value in (80, 70, 60)]
    first, second, third = judged(tmp_path, dict(zip(("2026-03-05-2", "2026-03-12", "2026-03-05"), hips, strict=True)))
    assert (first.lesson, second.lesson, third.lesson) == ("2026-03-05", "2026-03-05-2", "2026-03-12")
    assert (second.findings[0].change.before, str(second.findings[0].change.since)) == (60, "2026-03-05")
    assert third.findings[0].change.before == 80


def test_no_report_tells_what_is_for_the_desk_alone(academy, printed):
    about = [folder.student.about for folder in academy.students.values() if folder.student.about]
    text = json.dumps(printed, ensure_ascii=False)
    assert about
    assert [private for private in about if private in text] == []
    assert not any(str(folder.student.born) in text for folder in academy.students.values())


def test_no_report_of_one_student_names_another(academy):
    for student in academy.students:
        text = json.dumps([r.model_dump(mode="json") for r in judge_folder(academy, student)], ensure_ascii=False)
        partners = academy.students[student].student.shares_with
        others = [folder.student.name for name, folder in academy.students.items() if name not in (student, *partners)]
        assert [name for name in others if name in text] == []


def test_a_student_with_problems_is_not_judged(tmp_path):
    folder = load(write_academy(tmp_path, {"2026-03-05": "readings: [{metric: nothing}]"}))
    with pytest.raises(ValueError, match="has problems"):
        judge_folder(folder)
