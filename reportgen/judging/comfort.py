"""How a site has felt over the last lessons: 0 (nothing) to 10 (the worst one can imagine), said by the student.

The pain-monitoring model reads a score of 0 to 2 as fine, 3 to 5 as a reason to do less, above that as too much; it
should settle by the next morning and not rise from week to week (Thomeé R 1997; Silbernagel KG et al. Am J Sports Med
2007;35(6):897-906; the limits are from memory). Its evidence is for the Achilles tendons of adults alone: it is never
used for juniors, nor where there are signs that need a doctor. The rules of content/safety hold the limits.
"""

from collections.abc import Sequence
from datetime import date, timedelta

from reportgen.languages.speaking import say, say_count
from reportgen.records.body import ComfortCourse, Felt
from reportgen.records.lesson import Lesson
from reportgen.records.wording import listed, slug_name
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
    return ComfortCourse(site=site, felt=tuple(felt), rises=rises, says=_says(site, felt, rises))


def _worst(site: Site, lesson: Lesson) -> Felt | None:
    scores = [comfort for comfort in lesson.comfort if comfort.site == site]
    if not scores:
        return None
    worst = max(scores, key=lambda comfort: comfort.score)
    return Felt(date=lesson.date, score=worst.score, when=worst.when)


def _says(site: Site, felt: Sequence[Felt], rises: int) -> str:
    scores = [str(one.score) for one in felt]
    name = slug_name(site)
    name = name[:1].upper() + name[1:]
    if len(scores) == 1:
        return say("{site}: {score} of 10 this time.", site=name, score=scores[0])
    course = say_count(
        "{site}: {scores} of 10 in the last lesson.",
        "{site}: {scores} of 10 in the last {count} lessons.",
        len(scores),
        site=name,
        scores=listed(scores),
    )
    if rises >= 2:
        return f"{course} " + say("It has risen from lesson to lesson: talk to your instructor about it.")
    return course
