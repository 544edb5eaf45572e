"""The whole history of a student as a table for spreadsheets, for programs and for the terminal."""

import csv
import json
from io import StringIO

import pytest

from reportgen.history import COLUMNS, all_findings_table, history_csv, history_json
from tests.judging.academies import judged, reading, sheet

THIRD = 100 / 3
SPEEDS = "  - {metric: clubhead-speed, trials: [82.1, 83.4, 81.9], unit: mph, how: sensor}\n"


@pytest.fixture
def reports(tmp_path):
    lessons = {
        "2026-03-05": sheet(reading("pelvis-open-impact", 75, u=1) + reading("side-bend-impact", 30, u=1)),
        "2026-03-12": sheet(reading("pelvis-open-impact", THIRD, u=1) + SPEEDS),
        "2026-03-12-2": "notes: only talk",
        "2026-03-19": sheet(reading("pelvis-open-impact", -4, u=1), "club: driver"),
    }
    return judged(tmp_path, lessons)


def rows(text):
    return list(csv.DictReader(StringIO(text, newline="")))


def test_there_is_a_line_for_each_lesson_and_metric(reports):
    assert [(row["lesson"], row["metric"]) for row in rows(history_csv(reports))] == [
        ("2026-03-05", "pelvis-open-impact"), ("2026-03-05", "side-bend-impact"),
        ("2026-03-12", "pelvis-open-impact"), ("2026-03-12", "clubhead-speed"),
        ("2026-03-19", "pelvis-open-impact"),
    ]  # fmt: skip


def test_the_columns_stay_as_they_are(reports):
    """People script them: a change here breaks their scripts."""
    assert history_csv(reports).split("\r\n")[0] == (
        "student,lesson,date,club,metric,value,u,low95,high95,unit,how,views,swings,"
        "band_low,band_high,band_for,probability,verdict,change_since,change_by,"
        "level,level_low95,level_high95,level_lessons,"
        "course_since,course_lessons,course_by,course_low95,course_high95,course_says"
    )


def test_numbers_are_in_full_and_read_back_as_they_were(reports):
    finding = reports[1].findings[0]
    row = rows(history_csv(reports))[2]
    assert float(row["value"]) == finding.value
    assert (float(row["low95"]), float(row["high95"])) == finding.interval
    assert (row["change_since"], float(row["change_by"])) == ("2026-03-05", finding.change.by)


def test_what_became_of_a_metric_is_told_from_the_third_day_on(tmp_path):
    days = ("2026-03-05", "2026-03-12", "2026-03-19")
    reports = judged(tmp_path, {day: sheet(reading("pelvis-open-impact", 60, u=1)) for day in days})
    second, third = rows(history_csv(reports))[1:]
    course = reports[2].findings[0].course
    assert (second["course_since"], second["course_says"]) == ("", "")
    assert (third["course_since"], third["course_lessons"], third["course_says"]) == ("2026-03-05", "3", course.rung)
    assert float(third["course_by"]) == course.by
    assert (float(third["course_low95"]), float(third["course_high95"])) == course.interval


def test_swings_are_in_the_unit_of_their_line(reports):
    row = rows(history_csv(reports))[3]
    assert row["unit"] == "m/s"
    assert [float(swing) for swing in row["swings"].split()] == pytest.approx(
        [82.1 * 0.44704, 83.4 * 0.44704, 81.9 * 0.44704]
    )


def test_what_is_not_known_is_empty(reports):
    first, speed = rows(history_csv(reports))[0], rows(history_csv(reports))[3]
    assert [first[name] for name in ("swings", "change_since", "change_by", "course_since", "course_says")] == [""] * 5
    assert [speed[name] for name in ("band_low", "band_high", "probability")] == [""] * 3


def test_lines_end_and_quotes_stand_as_rfc_4180_has_it(reports):
    band = reports[0].findings[0].band.model_copy(update={"for_": 'his, and "hers"'})
    findings = (reports[0].findings[0].model_copy(update={"band": band}),)
    text = history_csv([reports[0].model_copy(update={"findings": findings})])
    assert text.count("\r\n") == text.count("\n") == 2
    assert text.endswith("\r\n")
    assert ',"his, and ""hers""",' in text


def test_json_has_the_same_rows_with_numbers_truths_and_nothings_as_such(reports):
    found = json.loads(history_json(reports))
    assert [tuple(row) for row in found] == [COLUMNS] * 5
    assert (found[2]["value"], found[0]["course_says"]) == (reports[1].findings[0].value, None)
    assert found[3]["swings"] == list(reports[1].findings[1].swings)


def test_a_student_without_lessons_has_a_table_without_lines():
    assert (rows(history_csv([])), json.loads(history_json([]))) == ([], [])


def printed(reports, capsys, monkeypatch, width):
    monkeypatch.setenv("COLUMNS", str(width))
    monkeypatch.setenv("TERM", "dumb")
    all_findings_table(reports)
    return capsys.readouterr().out


def test_the_terminal_shows_a_lesson_a_column_the_newest_last(reports, capsys, monkeypatch):
    lines = printed(reports, capsys, monkeypatch, 120).splitlines()
    heads, clubs = lines[1], lines[2]
    assert heads.split() == ["5", "Mar", "12", "Mar", "12", "Mar", "no.", "2", "19", "Mar"]
    assert clubs.split() == ["7-iron", "7-iron", "7-iron", "driver"]
    pelvis = next(line for line in lines if "Hips open" in line)
    assert pelvis.split("closed)")[1].split() == ["▲", "75", "◇", "52", "▼", "−4"]
    assert "Impact: Hips open, ° (− is closed)" in pelvis


def test_what_the_terminal_has_no_room_for_is_said(reports, capsys, monkeypatch):
    narrow = printed(reports, capsys, monkeypatch, 60)
    assert "5 Mar " not in narrow
    assert "19 Mar" in narrow
    assert "before these: no room here" in narrow
    assert max(map(len, narrow.splitlines())) <= 60


def test_lessons_of_several_years_carry_the_year(reports, capsys, monkeypatch):
    later = reports[-1].model_copy(update={"date": reports[-1].date.replace(year=2027), "lesson": "2027-03-19"})
    assert "19 Mar 2027" in printed([*reports[:-1], later], capsys, monkeypatch, 120)


def test_nothing_measured_is_said_in_words(reports, capsys, monkeypatch):
    assert printed(reports[2:3], capsys, monkeypatch, 80) == "Nothing has been measured yet.\n"
