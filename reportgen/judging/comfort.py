"""How a site has felt over the last lessons: 0 (nothing) to 10 (the worst one can imagine), said by the student.

The pain-monitoring model reads a score of 0 to 2 as fine, 3 to 5 as a reason to do less, above that as too much; it
should settle by the next morning and not rise from week to week (Thomeé R 1997; Silbernagel KG et al. Am J Sports Med
2007;35(6):897-906; the limits are from memory). Its evidence is for the Achilles tendons of adults alone: it is never
used for juniors, nor where there are signs that need a doctor. The rules of content/safety hold the limits.
"""

from collections.abc import Sequence
from datetime import date, timedelta

from reportgen.records.body import ComfortCourse, Felt
from reportgen.records.lesson import Comfort, Lesson
from reportgen.records.words import SITES, Site

SHOWN = 4
"""How many scores of a site are looked at: the last ones."""
WITHIN = timedelta(days=70)
"""Scores further back are of another story (common practice, no source)."""


def comfort_now(lesson: Lesson) -> tuple[Comfort, ...]:
    """The scores that tell of now: those of the lesson, and of each place that it does not ask about those of the last
    day of the practice log that does."""
    found, days = list(lesson.comfort), sorted(_logged(lesson), reverse=True, key=lambda day: day[0])
    for _, felt in days:
        known = {comfort.site for comfort in found}
        found += [comfort for comfort in felt if comfort.site not in known]
    return tuple(found)


def comfort_courses(lessons_so_far: Sequence[Lesson], day: date) -> tuple[ComfortCourse, ...]:
    """The course of each site that was asked about in the lesson of `day` or in its practice log, in the order of the
    sites. A day of the log is a day as a lesson is one."""
    return tuple(course for site in SITES if (course := _course(site, lessons_so_far, day)) is not None)


def _course(site: Site, lessons: Sequence[Lesson], day: date) -> ComfortCourse | None:
    if not any(comfort.site == site for comfort in comfort_now(lessons[-1])) or lessons[-1].date != day:
        return None
    dated = [one for lesson in lessons for one in ((lesson.date, lesson.comfort), *_logged(lesson))]
    felt = [worst for on, scores in dated if day - WITHIN <= on <= day and (worst := _worst(site, on, scores))]
    felt = sorted(felt, key=lambda one: one.date)[-SHOWN:]
    rises = 0
    while rises < len(felt) - 1 and felt[-1 - rises].score > felt[-2 - rises].score:
        rises += 1
    return ComfortCourse(site=site, felt=tuple(felt), rises=rises)


def _logged(lesson: Lesson) -> list[tuple[date, tuple[Comfort, ...]]]:
    """The days of the lesson's practice log that tell how something felt."""
    return [(entry.date, entry.comfort) for entry in lesson.practice_log if entry.comfort and entry.date <= lesson.date]


def _worst(site: Site, on: date, scores: Sequence[Comfort]) -> Felt | None:
    of_site = [comfort for comfort in scores if comfort.site == site]
    if not of_site:
        return None
    worst = max(of_site, key=lambda comfort: comfort.score)
    return Felt(date=on, score=worst.score, when=worst.when)
