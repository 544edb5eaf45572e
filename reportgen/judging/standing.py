"""What stands from earlier lessons: a stop until a clinician has cleared the student, a hold until its place is asked
about again.

A hold that a comfort score raised has no end in time. It ends with the next score of its place, in a sheet or in the
practice log: from then on the rules go by the new score. An adult's score of 0 to 2 and a junior's of 0 hold
nothing; a higher one is a hold or a stop again. A sheet that does not ask changes nothing. The same is true of a note
that a score raised and that forbids something.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from reportgen.judging.comfort import comfort_courses, comfort_now
from reportgen.judging.safety import Facts, applies, cautions, in_gravity
from reportgen.records.lesson import Lesson, PracticeEntry
from reportgen.records.report import Caution, LessonReport
from reportgen.records.safety import SafetyRule
from reportgen.records.words import Site


class Before(NamedTuple):
    """What came before a lesson: the last report, all cautions that held in it, said or not, and all earlier lessons,
    oldest first."""

    report: LessonReport
    firing: tuple[Caution, ...]
    lessons: tuple[Lesson, ...]


def cautions_of(
    rules: Mapping[str, SafetyRule], facts: Facts, lesson: Lesson, before: Before | None
) -> tuple[Caution, ...]:
    """All cautions of a lesson, the gravest first: of today, of the days of its practice log, and of earlier
    lessons."""
    fresh = [*_dated(cautions(rules.values(), facts), lesson), *_logged_stops(rules, facts, lesson)]
    today = {caution.rule: caution for caution in fresh}
    held = standing_holds(rules, facts, before) if before else ()
    for one in (*carried_stop(before and before.report, lesson), *held):
        if one.rule not in today:
            today[one.rule] = one
        elif one.level != "stop":
            anew = today[one.rule]
            since = anew.raised_on if anew.sites else one.raised_on
            today[one.rule] = anew.model_copy(update={"sites": _together(anew.sites, one.sites), "raised_on": since})
    return in_gravity(rules, today.values())


def carried_stop(last: LessonReport | None, lesson: Lesson) -> tuple[Caution, ...]:
    """The stops of the last lesson, which stand until a sheet says that a clinician has cleared the student since."""
    if last is None or not last.stopped:
        return ()
    stops = [caution for caution in last.cautions if caution.level == "stop"]
    standing = [stop.model_copy(update={"raised_on": stop.raised_on or last.date}) for stop in stops]
    return tuple(stop for stop in standing if not _ended(lesson, stop.raised_on or last.date))


def standing_holds(rules: Mapping[str, SafetyRule], facts: Facts, before: Before) -> tuple[Caution, ...]:
    """What scores of an earlier lesson still keep out of the plan, with the day that raised it: the cautions of places
    that were not asked about today, as far as their rules hold today with the last scores of these places."""
    asked = {felt.site for felt in facts.comfort}
    found = []
    for caution in before.firing:
        rule = rules.get(caution.rule)
        open_ = tuple(site for site in caution.sites if site not in asked)
        if not open_ or rule is None or rule.level == "stop" or not (rule.holds or rule.forbids):
            continue
        if applies(rule.when, _with_last_scores(facts, open_, before.lessons)):
            raised_on = caution.raised_on or before.report.date
            found.append(caution.model_copy(update={"sites": open_, "raised_on": raised_on}))
    return tuple(found)


def _with_last_scores(facts: Facts, sites: Sequence[Site], lessons: Sequence[Lesson]) -> Facts:
    """The facts as they would be if these places felt today as they did when they were last asked about."""
    comfort, courses = list(facts.comfort), list(facts.courses)
    for site in sites:
        asked = [n for n, lesson in enumerate(lessons) if any(felt.site == site for felt in comfort_now(lesson))]
        if asked:
            then = lessons[: asked[-1] + 1]
            comfort += [felt for felt in comfort_now(then[-1]) if felt.site == site]
            courses += [course for course in comfort_courses(then, then[-1].date) if course.site == site]
    return replace(facts, comfort=tuple(comfort), courses=tuple(courses))


def not_asked(found: Iterable[Caution], lesson: Lesson) -> tuple[Caution, ...]:
    """The cautions below a stop that stand because the lesson did not ask about their places."""
    asked = {felt.site for felt in comfort_now(lesson)}
    return tuple(one for one in found if one.level != "stop" and one.raised_on and not set(one.sites) <= asked)


def cleared_on(lesson: Lesson) -> date | None:
    """The day of a clearance. One dated after its own lesson is a slip of the pen and clears nothing."""
    cleared = lesson.cleared
    return cleared.on if cleared is not None and cleared.on <= lesson.date else None


def _ended(lesson: Lesson, raised_on: date) -> bool:
    on = cleared_on(lesson)
    return on is not None and on >= raised_on


def _dated(found: Iterable[Caution], lesson: Lesson) -> list[Caution]:
    """The cautions of today, with the day of the log where a score of it alone raised them. A stop of the log is left
    out where the student was cleared since."""
    today = {felt.site for felt in lesson.comfort}
    days = {felt.site: entry.date for entry in _log_of(lesson) for felt in entry.comfort if felt.site not in today}
    dated = []
    for caution in found:
        if not caution.sites or not set(caution.sites) <= set(days):
            dated.append(caution)
            continue
        raised_on = max(days[site] for site in caution.sites)
        if caution.level != "stop" or not _ended(lesson, raised_on):
            dated.append(caution.model_copy(update={"raised_on": raised_on}))
    return dated


def _logged_stops(rules: Mapping[str, SafetyRule], facts: Facts, lesson: Lesson) -> list[Caution]:
    """The stops that a day of the log raised and a later score hides: pain that stops is not asked away."""
    found = []
    for entry in _log_of(lesson):
        if entry.comfort and not _ended(lesson, entry.date):
            that_day = replace(facts, comfort=entry.comfort, courses=())
            stops = [c for c in cautions(rules.values(), that_day) if c.level == "stop" and c.sites]
            found += [stop.model_copy(update={"raised_on": entry.date}) for stop in stops]
    return found


def _log_of(lesson: Lesson) -> list[PracticeEntry]:
    return sorted((e for e in lesson.practice_log if e.date <= lesson.date), key=lambda entry: entry.date)


def _together(some: Sequence[Site], more: Sequence[Site]) -> tuple[Site, ...]:
    return tuple(dict.fromkeys((*some, *more)))
