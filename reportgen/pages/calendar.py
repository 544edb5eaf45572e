"""The practice week and the next lesson as an iCalendar file (RFC 5545), to be imported into any calendar."""

from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from hashlib import sha256
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from reportgen.languages.speaking import language_now, say
from reportgen.records.academy import Academy
from reportgen.records.told import ToldLesson, ToldNextLesson
from reportgen.records.told_practice import ToldDay

if TYPE_CHECKING:
    from icalendar import Event, Timezone

BEGINS = time(17, 0)
"""When a day's practice stands in the calendar; the student moves it to where it fits."""


def week_calendar(report: ToldLesson, academy: Academy) -> bytes | None:
    """The days of practice after a lesson and the lesson that comes next, in the academy's time zone; None where there
    is neither.

    The UID of a day comes from the student and the day alone, so a corrected lesson that is imported again moves and
    renames what stands there, and never doubles it. That of the next lesson comes from the student alone: there is one
    at a time, and the latest sheet moves it. No method is set: the file is for import, not an invitation.
    """
    days = report.practice.days if report.practice else ()
    if not days and report.next_lesson is None:
        return None
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", f"-//reportgen//practice week//{language_now().code.upper()}")
    calendar.add("version", "2.0")
    player = report.person.first_name
    named = say("Practice, {player}", player=player) if days else say("Golf lesson, {player}", player=player)
    calendar.add("x-wr-calname", named)
    for day in days:
        calendar.add_component(_event(day, report, academy))
    if report.next_lesson is not None:
        calendar.add_component(_lesson(report.next_lesson, report, academy))
    calendar.subcomponents[:0] = [_zone(name, report.date.year) for name in sorted(calendar.get_missing_tzids())]
    return bytes(calendar.to_ical())


@lru_cache(maxsize=8)
def _zone(name: str, year: int) -> "Timezone":
    """The rules of a time zone in the years around one; to work them out takes as long as all events together."""
    from icalendar import Timezone

    return Timezone.from_tzid(name, first_date=date(year - 1, 1, 1), last_date=date(year + 1, 12, 31))


def _event(day: ToldDay, report: ToldLesson, academy: Academy) -> "Event":
    from icalendar import Event

    begins = datetime.combine(day.day, BEGINS, ZoneInfo(academy.timezone))
    event = Event()
    event.add("uid", f"{_uid(report, academy, day.day.isoformat())}@practice.reportgen.invalid")
    event.add("dtstamp", datetime.combine(report.date, time(0), UTC))
    event.add("dtstart", begins)
    event.add("dtend", begins + timedelta(minutes=max(day.minutes, 10)))
    summary = say("Practice: {amount}, {minutes} min", amount=day.amount, minutes=day.minutes)
    event.add("summary", summary)
    lines = [*(item.what for item in day.items), *_tests(day, report), say("Stop when something hurts.")]
    event.add("description", "\n".join(lines))
    event.add("transp", "TRANSPARENT")
    return event


def _tests(day: ToldDay, report: ToldLesson) -> list[str]:
    """How one knows that the day's drills work."""
    drills = {item.drill for item in day.items if item.kind == "block"}
    return [
        say("The test of {title}: {test}", title=given.title, test=given.test)
        for given in report.drills
        if given.test and given.drill in drills
    ]


def _lesson(lesson: ToldNextLesson, report: ToldLesson, academy: Academy) -> "Event":
    from icalendar import Event

    at = datetime.combine(lesson.date, time.fromisoformat(lesson.time), ZoneInfo(academy.timezone))
    event = Event()
    event.add("uid", f"{_uid(report, academy, 'next lesson')}@lesson.reportgen.invalid")
    event.add("dtstamp", datetime.combine(report.date, time(0), UTC))
    event.add("dtstart", at)
    event.add("dtend", at + timedelta(minutes=lesson.minutes))
    event.add("summary", say("Golf lesson, {teacher}", teacher=academy.instructor.name))
    if lesson.place is not None:
        event.add("location", lesson.place)
    return event


def _uid(report: ToldLesson, academy: Academy, what: str) -> str:
    return sha256(f"{academy.secret}\0{report.student}\0{what}".encode()).hexdigest()[:32]
