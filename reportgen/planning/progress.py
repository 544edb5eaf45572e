"""The course of each metric over the lessons so far, and what was not measured this time."""

from collections.abc import Sequence
from datetime import date

from reportgen.records.lesson import Lesson
from reportgen.records.report import Finding, LessonReport, Missing, Point, Series
from reportgen.records.wording import amount, day, size
from reportgen.records.words import club_family


def progress(
    before: Sequence[LessonReport], findings: Sequence[Finding], name: str, lesson: Lesson
) -> tuple[Series, ...]:
    """A series for each of today's findings, over the earlier lessons with a club of the same family."""
    fair = [report for report in before if club_family(report.club) == club_family(lesson.club)]
    return tuple(_series(finding, fair, name, lesson.date) for finding in findings)


def not_measured(
    before: Sequence[LessonReport], findings: Sequence[Finding], gaps: Sequence[Missing]
) -> tuple[Missing, ...]:
    """What the last lesson measured and this one did not, with the picture or mark that would have given it.

    `gaps` are what the marked stills could not give.
    """
    if not findings:
        return (Missing(metric=None, kind="not this time", says="Nothing was measured in this lesson."),)
    now = {finding.metric for finding in findings}
    last = before[-1].findings if before else ()
    would_give = {gap.metric: f" {gap.says}" for gap in gaps}
    lost = tuple(
        Missing(
            metric=f.metric,
            kind="not this time",
            says=f"{f.name}: not measured this time, last on {day(before[-1].date)}.{would_give.get(f.metric, '')}",
        )
        for f in last
        if f.metric not in now
    )
    told = {gap.metric for gap in lost}
    return lost + tuple(gap for gap in gaps if gap.metric not in told)


def _series(finding: Finding, before: Sequence[LessonReport], lesson: str, on: date) -> Series:
    points = []
    for report in before:
        points += [_point(f, report) for f in report.findings if f.metric == finding.metric]
    return Series(
        metric=finding.metric,
        name=finding.name,
        short=finding.short,
        checkpoint=finding.checkpoint,
        unit=finding.unit,
        decimals=finding.decimals,
        sign=finding.sign,
        band=finding.band,
        points=(*points, Point(lesson=lesson, date=on, value=finding.value,
                               interval=finding.interval, verdict=finding.verdict)),
        says=_says(finding),
    )  # fmt: skip


def _says(finding: Finding) -> str:
    change = finding.since_first or finding.change
    if change is None:
        return "First time measured."
    first = amount(change.before, finding.unit, finding.decimals, finding.sign)
    since = f"{first} on {day(change.since)}"
    moved, error = (size(v, finding.unit, finding.decimals) for v in (change.by, change.detectable))
    if not change.real:
        return f"{since}: no change that we can see yet (it would have to be more than {error})."
    says = "changed" if change.says == "changed" else change.says
    return f"{since}: {says}, by {moved}; our measuring error explains up to {error}."


def _point(finding: Finding, report: LessonReport) -> Point:
    return Point(
        lesson=report.lesson,
        date=report.date,
        value=finding.value,
        interval=finding.interval,
        verdict=finding.verdict,
    )
