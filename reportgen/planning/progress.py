"""The course of each metric over the lessons so far, and what was not measured this time."""

from collections.abc import Sequence

from reportgen.judging.fair import is_fair
from reportgen.records.findings import Finding
from reportgen.records.lesson import Lesson
from reportgen.records.report import LessonReport, Missing, Point, Series


def progress(
    before: Sequence[LessonReport], findings: Sequence[Finding], name: str, lesson: Lesson
) -> tuple[Series, ...]:
    """A series for each of today's findings, over the earlier lessons that it may fairly be held against."""
    return tuple(_series(finding, before, name, lesson) for finding in findings)


def not_measured(
    before: Sequence[LessonReport], findings: Sequence[Finding], gaps: Sequence[Missing], *, shots_counted: bool = False
) -> tuple[Missing, ...]:
    """What the last lesson measured and this one did not, with the picture or mark that would have given it.

    `gaps` are what the marked stills could not give. Nothing is missed of what a table of shots gave. Where
    `shots_counted` (or in a table) are enough, nothing is missed without a value.
    """
    if shots_counted and not findings:
        return ()
    if not findings:
        return (Missing(kind="not this time"),)
    now = {finding.metric for finding in findings}
    last = before[-1].findings if before else ()
    needs = {gap.metric: gap.needs for gap in gaps}
    lost = tuple(
        Missing(kind="not this time", metric=f.metric, last=before[-1].date, needs=needs.get(f.metric, ()))
        for f in last
        if f.metric not in now and not (f.of_shots and f.of_shots.table)
    )
    told = {gap.metric for gap in lost}
    return lost + tuple(gap for gap in gaps if gap.metric not in told)


def _series(finding: Finding, before: Sequence[LessonReport], name: str, lesson: Lesson) -> Series:
    points = []
    for report in before:
        points += [
            _point(f, report)
            for f in report.findings
            if f.metric == finding.metric and is_fair(finding, lesson.club, f, report.club)
        ]
    return Series(
        metric=finding.metric,
        unit=finding.unit,
        points=(
            *points,
            Point(
                lesson=name,
                date=lesson.date,
                value=finding.value,
                interval=finding.interval,
                level=finding.level,
                verdict=finding.verdict,
                noted=lesson.notes is not None,
            ),
        ),
    )


def _point(finding: Finding, report: LessonReport) -> Point:
    return Point(
        lesson=report.lesson,
        date=report.date,
        value=finding.value,
        interval=finding.interval,
        level=finding.level,
        verdict=finding.verdict,
        noted=report.notes is not None,
    )
