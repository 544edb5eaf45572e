"""The course of each metric over the lessons so far, and what was not measured this time."""

from collections.abc import Sequence
from datetime import date

from reportgen.judging.fair import is_fair
from reportgen.languages.speaking import later, say, say_count
from reportgen.records.lesson import Lesson
from reportgen.records.report import Finding, LessonReport, Missing, Movement, Point, Series, Trend
from reportgen.records.wording import amount, day, past_day, size

_MOVED: dict[Movement, str] = {
    "moved toward the range": later(
        "It has moved toward the range by {moved}, more than our measuring error of {error}."
    ),
    "moved away from the range": later(
        "It has moved away from the range by {moved}, more than our measuring error of {error}."
    ),
    "changed": later("It has changed by {moved}, more than our measuring error of {error}."),
}


def progress(
    before: Sequence[LessonReport], findings: Sequence[Finding], name: str, lesson: Lesson
) -> tuple[Series, ...]:
    """A series for each of today's findings, over the earlier lessons that it may fairly be held against."""
    return tuple(_series(finding, before, name, lesson) for finding in findings)


def not_measured(
    before: Sequence[LessonReport], findings: Sequence[Finding], gaps: Sequence[Missing]
) -> tuple[Missing, ...]:
    """What the last lesson measured and this one did not, with the picture or mark that would have given it.

    `gaps` are what the marked stills could not give.
    """
    if not findings:
        return (Missing(metric=None, kind="not this time", says=say("Nothing was measured in this lesson.")),)
    now = {finding.metric for finding in findings}
    last = before[-1].findings if before else ()
    would_give = {gap.metric: f" {gap.says}" for gap in gaps}
    lost = tuple(
        Missing(
            metric=f.metric,
            kind="not this time",
            says=say("{metric}: not measured this time, last on {day}.", metric=f.name, day=day(before[-1].date))
            + would_give.get(f.metric, ""),
        )
        for f in last
        if f.metric not in now
    )
    told = {gap.metric for gap in lost}
    return lost + tuple(gap for gap in gaps if gap.metric not in told)


def _series(finding: Finding, before: Sequence[LessonReport], name: str, lesson: Lesson) -> Series:
    points = []
    for report in before:
        points += [
            _point(f, report)
            for f in report.findings
            if f.metric == finding.metric
            and is_fair((finding.how, finding.views), lesson.club, (f.how, f.views), report.club)
        ]
    return Series(
        metric=finding.metric,
        name=finding.name,
        short=finding.short,
        checkpoint=finding.checkpoint,
        unit=finding.unit,
        decimals=finding.decimals,
        sign=finding.sign,
        band=finding.band,
        points=(
            *points,
            Point(
                lesson=name,
                date=lesson.date,
                value=finding.value,
                interval=finding.interval,
                verdict=finding.verdict,
                noted=lesson.notes is not None,
            ),
        ),
        says=_says(finding, lesson.date),
    )


def _says(finding: Finding, today: date) -> str:
    """The course in words: what really changed, where it is going, since when it is in range."""
    parts = [_changed(finding, today), _going(finding.trend, finding)]
    if finding.in_range_since is not None and finding.in_range_since < today:
        parts.append(say("In range since {day}.", day=past_day(finding.in_range_since, today)))
    if finding.best_so_far:
        parts.append(say("That is the nearest to your range so far."))
    parts.append(finding.not_compared or "")
    return " ".join(part for part in parts if part)


def _changed(finding: Finding, today: date) -> str:
    change = finding.since_first or finding.change
    if change is None:
        return "" if finding.not_compared else say("First time measured.")
    first = amount(change.before, finding.unit, finding.decimals, finding.sign)
    since = say("It was {value} on {day}.", value=first, day=past_day(change.since, today))
    moved, error = (size(v, finding.unit, finding.decimals) for v in (change.by, change.detectable))
    if not change.real:
        return f"{since} " + say("No change that we can see yet: it would have to be more than {error}.", error=error)
    return f"{since} " + say(_MOVED[change.says], moved=moved, error=error)


def _going(trend: Trend | None, finding: Finding) -> str:
    if trend is None or not trend.clear:
        return ""
    low, high = sorted(abs(end) for end in trend.interval)
    monthly, least, most = (size(v, finding.unit, finding.decimals) for v in (trend.per_30_days, low, high))
    if trend.per_30_days > 0:
        return say_count(
            "Over the last {count} lesson the number goes up by about {monthly} a month ({least} to {most}).",
            "Over the last {count} lessons the number goes up by about {monthly} a month ({least} to {most}).",
            trend.lessons,
            monthly=monthly,
            least=least,
            most=most,
        )
    return say_count(
        "Over the last {count} lesson the number goes down by about {monthly} a month ({least} to {most}).",
        "Over the last {count} lessons the number goes down by about {monthly} a month ({least} to {most}).",
        trend.lessons,
        monthly=monthly,
        least=least,
        most=most,
    )


def _point(finding: Finding, report: LessonReport) -> Point:
    return Point(
        lesson=report.lesson,
        date=report.date,
        value=finding.value,
        interval=finding.interval,
        verdict=finding.verdict,
        noted=report.notes is not None,
    )
