"""The charts of one lesson, by name, as files beside its page."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reportgen.drawing import Drawing, chain, from_above, progress, strip
from reportgen.drawing.saving import to_pdf_operators
from reportgen.pages.printing import Painting
from reportgen.pages.theme import EFFECTS_SHOWN
from reportgen.records.report import LessonReport, Series

_CSS_PX_PER_PT = 96 / 72


@dataclass(frozen=True)
class Chart:
    """A drawing with the name of its file; sizes in CSS pixels."""

    file: str
    drawing: Drawing
    width: int
    height: int

    @property
    def svg(self) -> str:
        """The file's text."""
        return self.drawing.svg

    @property
    def alt(self) -> str:
        """What it shows, in words."""
        return self.drawing.alt

    @property
    def painting(self) -> Painting:
        """What it looks like, for paper."""
        plate = self.drawing.plate
        return Painting(plate.width, plate.height, tuple(to_pdf_operators(plate)))


def lesson_charts(report: LessonReport, courses: Iterable[Series]) -> Mapping[str, Chart]:
    """`strip-<metric>` for each finding, the charts of `courses`, `chain-<metric>` for each priority that others can
    come from, and `plan` where there is one; `plan-tall` has its two moments below each other."""
    charts = {}
    for finding in report.findings:
        name = f"strip-{finding.metric}"
        charts[name] = _chart(name, strip(finding))
    charts |= course_charts(courses)
    by_metric = {finding.metric: finding for finding in report.findings}
    for priority in report.priorities:
        if priority.effects:
            name = f"chain-{priority.metric}"
            effects = [by_metric[effect.metric] for effect in priority.effects[:EFFECTS_SHOWN]]
            charts[name] = _chart(name, chain(by_metric[priority.metric], effects))
    plan = from_above(report.findings, report.person.plays)
    if plan is not None:
        charts["plan"] = _chart("plan", plan)
    tall = from_above(report.findings, report.person.plays, tall=True)
    if tall is not None:
        charts["plan-tall"] = _chart("plan-tall", tall)
    return charts


def course_charts(courses: Iterable[Series]) -> dict[str, Chart]:
    """`progress-<metric>` and `progress-small-<metric>` (for phones) for each course."""
    charts = {}
    for series in courses:
        for name, small in ((f"progress-{series.metric}", False), (f"progress-small-{series.metric}", True)):
            charts[name] = _chart(name, progress(series, small=small))
    return charts


def _chart(name: str, drawing: Drawing) -> Chart:
    width, height = drawing.width_pt * _CSS_PX_PER_PT, drawing.height_pt * _CSS_PX_PER_PT
    return Chart(f"{name}.svg", drawing, round(width), round(height))
