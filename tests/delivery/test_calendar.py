"""The practice week as an iCalendar file, read back by the icalendar package (RFC 5545)."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from reportgen.pages.calendar import week_calendar
from reportgen.pipeline import load
from tests.judging.academies import ACADEMY, sheet, tell_folder, write_academy

SORE = "comfort: [{site: low-back, score: 8, when: during}]"
DAYS = "born: 1986-05-01\npractice: {minutes: 30, days: [tue, sat]}"


def calendar_of(root, text, student=DAYS):
    """The file of the lesson of 5 March, in an academy in Lisbon."""
    write_academy(root, {"2026-03-05": text}, student)
    (root / "academy.yaml").write_text(ACADEMY + "timezone: Europe/Lisbon\n")
    academy = load(root)
    return week_calendar(tell_folder(academy)[-1], academy.academy)


def events(raw):
    return Calendar.from_ical(raw).walk("VEVENT")


GIVEN = sheet("", "drills: [{drill: pendulum-swings, dose: 5 min}]")


def test_each_day_of_practice_is_an_event_in_the_academys_time_zone(tmp_path):
    begins = [event["dtstart"].dt for event in events(calendar_of(tmp_path, GIVEN))]
    lisbon = ZoneInfo("Europe/Lisbon")
    assert [day.replace(tzinfo=None) for day in begins] == [datetime(2026, 3, 7, 17), datetime(2026, 3, 10, 17)]
    assert [day.utcoffset() for day in begins] == [day.replace(tzinfo=lisbon).utcoffset() for day in begins]


def test_an_event_tells_what_to_do(tmp_path):
    description = str(events(calendar_of(tmp_path, GIVEN))[0]["description"])
    assert "Pendulum swings, 5 min." in description
    assert "The test of Pendulum swings: Count 10 in a row" in description
    assert description.endswith("Stop when something hurts.")


def test_a_corrected_lesson_keeps_the_uids_so_that_importing_again_updates(tmp_path):
    before = calendar_of(tmp_path / "a", GIVEN)
    after = calendar_of(tmp_path / "b", sheet("", "drills: [{drill: pendulum-swings, dose: 10 min}]"))
    assert before != after
    assert [str(e["uid"]) for e in events(before)] == [str(e["uid"]) for e in events(after)]


def test_uids_differ_from_day_to_day_and_tell_nothing(tmp_path):
    uids = [str(event["uid"]) for event in events(calendar_of(tmp_path, GIVEN))]
    assert len(set(uids)) == len(uids)
    assert not any(word in uid for uid in uids for word in ("ines", "invented", "2026"))


def test_no_method_is_set_since_the_file_is_for_import(tmp_path):
    calendar = Calendar.from_ical(calendar_of(tmp_path, GIVEN))
    assert "method" not in calendar
    assert calendar.errors == []


def test_lines_are_folded_at_75_octets(tmp_path):
    assert max(len(line) for line in calendar_of(tmp_path, GIVEN).split(b"\r\n")) <= 75


@pytest.mark.parametrize("text", ["", sheet("", "drills: [pendulum-swings]", SORE)])
def test_without_practice_and_after_a_stop_there_is_no_calendar(tmp_path, text):
    assert calendar_of(tmp_path, text) is None
