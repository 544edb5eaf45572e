"""The academy as a whole: what is often out of range, who has not moved, what came after which drill."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple, get_args

from reportgen.judging.fair import is_fair
from reportgen.planning.repeatability import Repeatability, TwoWays, others_of, repeatability, two_ways
from reportgen.planning.scatter import PlayerScatter, PooledScatter, pooled_scatter, scatter_of_player
from reportgen.records.content import Drill, Metric
from reportgen.records.findings import Course, Finding
from reportgen.records.report import LessonReport, Person
from reportgen.records.words import LESSON_KINDS, MOMENTS, Direction, Verdict

MONTH = timedelta(days=30)

_SIDES: Mapping[Verdict, Direction] = {"below range": "below", "above range": "above"}


@dataclass(frozen=True)
class Fault:
    """A metric on one side of its range. Of the `measured` students, `first` counts those who stood there when it was
    first measured; `now` are those who did when it was last measured."""

    metric: str
    direction: Direction
    measured: int
    first: int
    now: tuple[Person, ...]


@dataclass(frozen=True)
class NotMoved:
    """A student who works on a metric that is not said to have moved toward its range over a month or longer, by its
    `course` up to the last lesson, `on`."""

    person: Person
    metric: str
    direction: Direction
    on: date
    course: Course


@dataclass(frozen=True)
class DrillCourses:
    """A drill, and the metric that it was given for. A course is a run of lessons in which one student was given it,
    and ends with the lesson after them: `given` counts courses, `measured` those at whose end the metric was measured
    again in the same way and for the third day at least, `moved` those at whose end, and not at whose start, the metric
    was said to have moved toward the range."""

    drill: str
    metric: str
    given: int
    measured: int
    moved: int


@dataclass(frozen=True)
class Season:
    """What all lessons of an academy say together; `first` and `last` are their dates."""

    students: int
    lessons: int
    first: date | None
    last: date | None
    faults: tuple[Fault, ...]
    not_moved: tuple[NotMoved, ...]
    drills: tuple[DrillCourses, ...]
    repeatability: tuple[Repeatability, ...]
    two_ways: tuple[TwoWays, ...]
    scatter: tuple[PooledScatter, ...]


class _Span(NamedTuple):
    """The first and the last finding of a student's metric."""

    person: Person
    first: Finding
    last: Finding


class _Course(NamedTuple):
    drill: str
    finding: Finding
    measured: bool
    moved: bool


def season(
    students: Iterable[Sequence[LessonReport]], drills: Mapping[str, Drill], metrics: Mapping[str, Metric]
) -> Season:
    """The season of all students, each given by their judged lessons, oldest first.

    It goes through them once and keeps findings alone, so that the reports need not be held together.
    """
    count = lessons = 0
    days: set[date] = set()
    spans: list[_Span] = []
    standing: list[NotMoved] = []
    courses: list[_Course] = []
    repeated: list[Finding] = []
    players: list[PlayerScatter] = []
    for reports in students:
        if not reports:
            continue
        count, lessons = count + 1, lessons + len(reports)
        days |= {reports[0].date, reports[-1].date}
        spans += _spans(reports)
        for alike in _by_kind(reports):
            standing += _not_moved(alike)
            courses += _courses(alike, drills)
        repeated += [f for report in reports for f in report.findings if f.swings or others_of(f)]
        players += scatter_of_player(reports, metrics)
    return Season(
        students=count,
        lessons=lessons,
        first=min(days, default=None),
        last=max(days, default=None),
        faults=_faults(spans),
        not_moved=tuple(sorted(standing, key=lambda s: (s.course.since, s.person.name, s.metric))),
        drills=_counted(courses),
        repeatability=repeatability(repeated),
        two_ways=two_ways(repeated),
        scatter=pooled_scatter(players, metrics),
    )


def _by_kind(reports: Sequence[LessonReport]) -> Iterator[Sequence[LessonReport]]:
    """The lessons of each kind by themselves: a putting lesson between two others ends no course of theirs."""
    for kind in LESSON_KINDS:
        if alike := [report for report in reports if report.kind == kind]:
            yield alike


def _spans(reports: Sequence[LessonReport]) -> list[_Span]:
    first: dict[str, Finding] = {}
    last: dict[str, Finding] = {}
    for finding in (finding for report in reports for finding in report.findings):
        first.setdefault(finding.metric, finding)
        last[finding.metric] = finding
    return [_Span(reports[-1].person, first[metric], last[metric]) for metric in first]


def _faults(spans: Iterable[_Span]) -> tuple[Fault, ...]:
    """The most frequent now first, then the most frequent at first, then in the order of the swing."""
    by_metric: dict[str, list[_Span]] = defaultdict(list)
    for span in spans:
        by_metric[span.last.metric].append(span)
    faults = []
    for measured in sorted(by_metric.values(), key=_place):
        for direction in get_args(Direction):
            first = sum(_SIDES.get(span.first.verdict) == direction for span in measured)
            now = [span.person for span in measured if _SIDES.get(span.last.verdict) == direction]
            if first or now:
                of, people = measured[0].last, tuple(sorted(now, key=lambda person: person.name))
                faults.append(Fault(of.metric, direction, len(measured), first, people))
    return tuple(sorted(faults, key=lambda fault: (-len(fault.now), -fault.first)))


def _place(spans: Sequence[_Span]) -> tuple[int, str]:
    return MOMENTS.index(spans[0].last.checkpoint), spans[0].last.metric


def _not_moved(reports: Sequence[LessonReport]) -> Iterator[NotMoved]:
    """Of what a student works on and has surely out of range, all that over a month has not moved toward it."""
    latest = reports[-1]
    for priority in latest.priorities:
        now = next((f for f in latest.findings if f.metric == priority.metric), None)
        direction = _SIDES.get(now.verdict) if now else None
        long = now is not None and now.course is not None and latest.date - now.course.since >= MONTH
        if now and now.course and direction and long and not _has_come_nearer(now):
            yield NotMoved(latest.person, now.metric, direction, latest.date, now.course)


def _courses(reports: Sequence[LessonReport], drills: Mapping[str, Drill]) -> Iterator[_Course]:
    """Every run of lessons in which the student was given a drill for a metric that was out of range at its start."""
    given = [{entry.drill for entry in report.drills} for report in reports]
    for start, report in enumerate(reports):
        for entry in report.drills:
            if entry.drill not in drills or (start and entry.drill in given[start - 1]):
                continue
            end = next((k for k in range(start, len(reports)) if entry.drill not in given[k]), len(reports))
            for finding in _given_for(report, entry.serves, drills[entry.drill]):
                after = _last_fair(report, finding, reports[start + 1 : end + 1])
                moved = after is not None and _has_come_nearer(after) and not _has_come_nearer(finding)
                yield _Course(entry.drill, finding, after is not None, moved)


def _has_come_nearer(finding: Finding) -> bool:
    course = finding.course
    return course is not None and (course.rung, course.movement) == ("has moved", "moved toward the range")


def _given_for(report: LessonReport, serves: str | None, drill: Drill) -> list[Finding]:
    """The findings that a drill was to mend: that of its priority, or else all out of range on a side it is for."""
    sides = {(served.metric, served.when) for served in drill.serves if serves in (None, served.metric)}
    return [f for f in report.findings if (f.metric, _SIDES.get(f.verdict)) in sides]


def _counted(courses: Iterable[_Course]) -> tuple[DrillCourses, ...]:
    grouped: dict[tuple[str, str], list[_Course]] = defaultdict(list)
    for course in courses:
        grouped[course.drill, course.finding.metric].append(course)
    counted = [
        DrillCourses(
            drill=drill,
            metric=metric,
            given=len(found),
            measured=sum(course.measured for course in found),
            moved=sum(course.moved for course in found),
        )
        for (drill, metric), found in grouped.items()
    ]
    return tuple(sorted(counted, key=lambda c: (-c.measured, -c.given, c.drill, c.metric)))


def _last_fair(lesson: LessonReport, finding: Finding, others: Sequence[LessonReport]) -> Finding | None:
    """The last of the metric's findings in `others` with a course that may fairly be held against that of `lesson`."""
    for report in reversed(others):
        for other in report.findings:
            same = other.metric == finding.metric and other.course is not None
            if same and is_fair(finding, lesson.club, other, report.club):
                return other
    return None
