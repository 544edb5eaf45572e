"""How a site has felt over the last lessons: 0 (nothing) to 10 (the worst one can imagine), said by the student.

The pain-monitoring model reads a score of 0 to 2 as fine, 3 to 5 as a reason to do less, above that as too much; it
should settle by the next morning and not rise from week to week (Thomeé R 1997; Silbernagel KG et al. Am J Sports Med
2007;35(6):897-906; the limits are from memory). Its evidence is for the Achilles tendons of adults alone: it is never
used for juniors, nor where there are signs that need a doctor. The rules of content/safety hold the limits.
"""

from collections.abc import Sequence
from datetime import date, timedelta

from reportgen.records.body import ComfortCourse, Felt
from reportgen.records.lesson import Lesson
from reportgen.records.words import SITES, Site

SHOWN = 4
"""How many scores of a site are looked at: the last ones."""
WITHIN = timedelta(days=70)
"""Scores further back are of another story (common practice, no source)."""


def comfort_courses(lessons_so_far: Sequence[Lesson], day: date) -> tuple[ComfortCourse, ...]:
    """The course of each site that was asked about in the lesson of `day`, in the order of the sites."""
    return tuple(course for site in SITES if (course := _course(site, lessons_so_far, day)) is not None)


def _course(site: Site, lessons: Sequence[Lesson], day: date) -> ComfortCourse | None:
    felt = [worst for lesson in lessons if day - WITHIN <= lesson.date <= day and (worst := _worst(site, lesson))]
    if not felt or felt[-1].date != day:
        return None
    felt = felt[-SHOWN:]
    rises = 0
    while rises < len(felt) - 1 and felt[-1 - rises].score > felt[-2 - rises].score:
        rises += 1
    return ComfortCourse(site=site, felt=tuple(felt), rises=rises)


def _worst(site: Site, lesson: Lesson) -> Felt | None:
    scores = [comfort for comfort in lesson.comfort if comfort.site == site]
    if not scores:
        return None
    worst = max(scores, key=lambda comfort: comfort.score)
    return Felt(date=lesson.date, score=worst.score, when=worst.when)
