"""The charts of one lesson, by name, as files beside its page."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reportgen.drawing import Drawing, from_above, progress, strip
from reportgen.records.report import LessonReport, Series

_CSS_PX_PER_PT = 96 / 72


@dataclass(frozen=True)
class Chart:
    """A drawing with the name of its file; sizes in CSS pixels."""

    file: str
    svg: str
    alt: str
    width: int
    height: int


def lesson_charts(report: LessonReport, courses: Iterable[Series]) -> Mapping[str, Chart]:
    """`strip-<metric>` for each finding, `progress-<metric>` for each of `courses`, and `plan` where there is one."""
    charts = {}
    for finding in report.findings:
        name = f"strip-{finding.metric}"
        charts[name] = _chart(name, strip(finding))
    for series in courses:
        name = f"progress-{series.metric}"
        charts[name] = _chart(name, progress(series))
    plan = from_above(report.findings)
    if plan is not None:
        charts["plan"] = _chart("plan", plan)
    return charts


def _chart(name: str, drawing: Drawing) -> Chart:
    width, height = drawing.width_pt * _CSS_PX_PER_PT, drawing.height_pt * _CSS_PX_PER_PT
    return Chart(f"{name}.svg", drawing.svg, drawing.alt, round(width), round(height))
