"""The practice week and the next lesson as an iCalendar file, read back by the icalendar package (RFC 5545)."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from reportgen.pages.calendar import week_calendar
from reportgen.pipeline import load
from tests.judging.academies import ACADEMY, JUNIOR, sheet, tell_folder, write_academy

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


NEXT = 'next_lesson: {date: 2026-04-02, time: "9:30", minutes: 45, place: Practice ground}'


def lesson_in(raw):
    """The one event that is the next lesson."""
    (found,) = (event for event in events(raw) if str(event["uid"]).endswith("@lesson.reportgen.invalid"))
    return found


def test_the_next_lesson_is_an_event_by_the_clocks_of_the_academy(tmp_path):
    event = lesson_in(calendar_of(tmp_path, sheet("", NEXT)))
    begins = event["dtstart"].dt
    assert begins.replace(tzinfo=None) == datetime(2026, 4, 2, 9, 30)
    assert begins.utcoffset() == timedelta(hours=1)  # summer time begins in Lisbon between the two lessons
    assert event["dtend"].dt - begins == timedelta(minutes=45)
    assert (str(event["summary"]), str(event["location"])) == ("Golf lesson, Invented Teacher", "Practice ground")


def test_it_stands_beside_the_days_of_practice(tmp_path):
    both = events(calendar_of(tmp_path, sheet("", "drills: [{drill: pendulum-swings, dose: 5 min}]", NEXT)))
    assert [str(event["summary"])[:8] for event in both] == ["Practice", "Practice", "Golf les"]


def test_the_next_lesson_of_a_later_sheet_takes_the_place_of_the_one_before(tmp_path):
    first = lesson_in(calendar_of(tmp_path / "a", sheet("", NEXT)))
    moved = lesson_in(calendar_of(tmp_path / "b", sheet("", NEXT.replace("2026-04-02", "2026-04-09"))))
    assert first["uid"] == moved["uid"]
    assert first["dtstart"].dt != moved["dtstart"].dt


def test_after_a_stop_the_calendar_holds_the_next_lesson_alone(tmp_path):
    stopped = events(calendar_of(tmp_path, sheet("", "drills: [pendulum-swings]", SORE, NEXT)))
    assert [str(event["summary"]) for event in stopped] == ["Golf lesson, Invented Teacher"]


def test_where_a_player_under_18_will_be_is_in_no_calendar(tmp_path):
    assert "location" not in lesson_in(calendar_of(tmp_path, sheet("", NEXT), JUNIOR))
