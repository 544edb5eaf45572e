"""The practice week as an iCalendar file (RFC 5545), to be imported into any calendar."""

from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from hashlib import sha256
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from reportgen.languages.speaking import language_now, say, say_count
from reportgen.records.academy import Academy
from reportgen.records.told import ToldDay, ToldLesson

if TYPE_CHECKING:
    from icalendar import Event, Timezone

BEGINS = time(17, 0)
"""When a day's practice stands in the calendar; the student moves it to where it fits."""


def week_calendar(report: ToldLesson, academy: Academy) -> bytes | None:
    """The days of practice after a lesson, in the academy's time zone; None where there is no practice.

    The UID of a day comes from the student and the day alone, so a corrected lesson that is imported again moves and
    renames what stands there, and never doubles it. No method is set: the file is for import, not an invitation.
    """
    if report.practice is None or not report.practice.days:
        return None
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", f"-//reportgen//practice week//{language_now().code.upper()}")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", say("Practice, {player}", player=report.person.first_name))
    for day in report.practice.days:
        calendar.add_component(_event(day, report, academy))
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
    event.add("uid", f"{_uid(day, report, academy)}@practice.reportgen.invalid")
    event.add("dtstamp", datetime.combine(report.date, time(0), UTC))
    event.add("dtstart", begins)
    event.add("dtend", begins + timedelta(minutes=max(day.minutes, 10)))
    if day.strokes:
        summary = say("Practice: {amount}, {minutes} min", amount=day.amount, minutes=day.minutes)
    else:
        summary = say_count(
            "Practice: {count} swing, {minutes} min",
            "Practice: {count} swings, {minutes} min",
            day.swings,
            minutes=day.minutes,
        )
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


def _uid(day: ToldDay, report: ToldLesson, academy: Academy) -> str:
    return sha256(f"{academy.secret}\0{report.student}\0{day.day.isoformat()}".encode()).hexdigest()[:32]
