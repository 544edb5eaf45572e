"""Which places a teacher has to ask about: what stands since an earlier day, until somebody asks."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from reportgen.judging.standing import not_asked
from reportgen.records.lesson import Lesson
from reportgen.records.report import Caution, DeskRemark, LessonReport
from reportgen.records.words import SITES, Site


class ToAsk(NamedTuple):
    """A place whose score raised a caution that stood in the last lesson, and the day that raised it."""

    site: Site
    since: date


def asking_remarks(lesson: Lesson, found: Iterable[Caution]) -> Iterator[DeskRemark]:
    """Remarks for the desk on what the lesson did not ask about, and on days of rest that have a note and no score."""
    by_day: dict[date, set[Site]] = {}
    for caution in not_asked(found, lesson):
        if caution.raised_on:
            by_day.setdefault(caution.raised_on, set()).update(caution.sites)
    for day, sites in sorted(by_day.items()):
        yield DeskRemark(code="not asked", sites=tuple(site for site in SITES if site in sites), since=day)
    for entry in lesson.practice_log:
        if entry.rested and entry.note and not entry.comfort:
            yield DeskRemark(code="rest without a score", since=entry.date)


def to_ask(last: LessonReport) -> tuple[ToAsk, ...]:
    """The places to ask about in the lesson after the `last` one: those whose scores raised a caution that stood in
    it."""
    since: dict[Site, date] = {}
    for caution in last.cautions:
        for site in caution.sites:
            since[site] = min(since.get(site, last.date), caution.raised_on or last.date)
    return tuple(ToAsk(site, since[site]) for site in SITES if site in since)
