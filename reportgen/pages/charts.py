"""The charts of one lesson, by name, as they stand inside its page and its recap."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from reportgen.drawing import (
    Drawing,
    cause_chain,
    chain,
    count_chart,
    flights,
    from_above,
    landed,
    progress,
    scores,
    strike,
    strip,
    struck,
)
from reportgen.pages.offered import EFFECTS_SHOWN
from reportgen.records.told import ToldLesson, ToldScores, ToldSeries

_CSS_PX_PER_PT = 96 / 72


@dataclass(frozen=True)
class Chart:
    """A chart as SVG for the inside of a page, and what it shows, in words; sizes in CSS pixels."""

    svg: Markup
    alt: str
    width: int
    height: int


def lesson_charts(report: ToldLesson, courses: Iterable[ToldSeries]) -> Mapping[str, Chart]:
    """`strip-<metric>` for each finding that is listed, `count-<number>` for each count from 0 on, those of
    `shot_charts`, the charts of `courses`, `chain-<metric>` for each priority that others can come from,
    `behind-<number>` for each chain behind what the ball did, and `plan` where there is one; `plan-tall` has its two
    moments below each other."""
    charts = {}
    for finding in (finding for finding in report.findings if finding.listed):
        name = f"strip-{finding.metric}"
        charts[name] = chart_of(strip(finding))
    charts |= course_charts(courses)
    charts |= {f"count-{number}": chart_of(count_chart(count)) for number, count in enumerate(report.counts)}
    charts |= shot_charts(report)
    by_metric = {finding.metric: finding for finding in report.findings}
    for priority in report.priorities:
        if priority.effects:
            name = f"chain-{priority.metric}"
            effects = [by_metric[effect.metric] for effect in priority.effects[:EFFECTS_SHOWN]]
            charts[name] = chart_of(chain(by_metric[priority.metric], effects))
    charts |= {f"behind-{number}": chart_of(cause_chain(told)) for number, told in enumerate(report.behind)}
    plan = from_above(report.findings, report.person.plays)
    if plan is not None:
        charts["plan"] = chart_of(plan)
    tall = from_above(report.findings, report.person.plays, tall=True)
    if tall is not None:
        charts["plan-tall"] = chart_of(tall)
    return charts


def shot_charts(report: ToldLesson) -> dict[str, Chart]:
    """`landed-<number>`, `flights-<number>` and `struck-<number>` for each pattern from 0 on, `strike-<number>` for the
    counted strikes; each with `-before` where an earlier date tells of the same."""
    charts, plays = {}, report.person.plays
    for number, shots in enumerate(report.patterns):
        for day, end in ((shots.now, ""), (shots.before, "-before")):
            if day is not None and day.landed and shots.now.landed:
                charts[f"landed-{number}{end}"] = chart_of(landed(shots, day, plays))
            if day is not None and day.flights and shots.now.flights:
                charts[f"flights-{number}{end}"] = chart_of(flights(shots, day, plays))
            if day is not None and day.struck and shots.now.struck:
                charts[f"struck-{number}{end}"] = chart_of(struck(shots, day, plays))
    for number, counted in enumerate(report.strikes):
        charts[f"strike-{number}"] = chart_of(strike(counted, plays))
        if counted.before is not None:
            charts[f"strike-{number}-before"] = chart_of(strike(counted, plays, before=True))
    return charts


def course_charts(courses: Iterable[ToldSeries]) -> dict[str, Chart]:
    """`progress-<metric>` and `progress-small-<metric>` (for phones) for each course."""
    charts = {}
    for series in courses:
        for name, small in ((f"progress-{series.metric}", False), (f"progress-small-{series.metric}", True)):
            charts[name] = chart_of(progress(series, small=small))
    return charts


def score_charts(rounds: Iterable[ToldScores]) -> dict[str, Chart]:
    """`scores-<holes>` and `scores-small-<holes>` (for phones) for each."""
    return {
        name: chart_of(scores(told, small=small))
        for told in rounds
        for name, small in ((f"scores-{told.holes}", False), (f"scores-small-{told.holes}", True))
    }


def chart_of(drawing: Drawing) -> Chart:
    """A drawing as pages show it."""
    width, height = drawing.width_pt * _CSS_PX_PER_PT, drawing.height_pt * _CSS_PX_PER_PT
    svg = Markup(drawing.svg)  # noqa: S704  # made by the program, with every text in it escaped
    return Chart(svg, drawing.alt, round(width), round(height))
