"""The charts inside a mail: PNG, because mail readers show no SVG."""

from collections.abc import Mapping
from dataclasses import dataclass
from struct import unpack

from reportgen.records.told import ToldLesson
from reportgen.saying.charts import of_finding, of_plans, of_series

_PIXELS_PER_CSS_PIXEL = 1.5
"""Charts are drawn with two pixels a point, which is one and a half for each CSS pixel."""


@dataclass(frozen=True)
class Inline:
    """A picture of a mail with the words that say what it shows; its size in CSS pixels."""

    png: bytes
    alt: str

    @property
    def width(self) -> int:
        return round(self._pixels[0] / _PIXELS_PER_CSS_PIXEL)

    @property
    def height(self) -> int:
        return round(self._pixels[1] / _PIXELS_PER_CSS_PIXEL)

    @property
    def _pixels(self) -> tuple[int, int]:
        width, height = unpack(">II", self.png[16:24])
        return width, height


def inline_pictures(report: ToldLesson) -> Mapping[str, Inline]:
    """`plan` where there is one, `progress-<metric>` for what is worked on, `strip-<metric>` for each finding; the most
    telling first. After a stop there are the strips alone."""
    from reportgen.drawing import from_above_png, progress_png, strip_png
    from reportgen.drawing.from_above import plans_of

    pictures: dict[str, Inline] = {}
    plan = None if report.stopped else from_above_png(report.findings, report.person.plays)
    if plan is not None:
        pictures["plan"] = Inline(plan, of_plans(plans_of(report.findings)))
    worked_on = {priority.metric for priority in report.priorities}
    for series in report.progress:
        if series.metric in worked_on and len(series.points) > 1:
            pictures[f"progress-{series.metric}"] = Inline(progress_png(series), of_series(series))
    for finding in (finding for finding in report.findings if finding.listed):
        pictures[f"strip-{finding.metric}"] = Inline(strip_png(finding), of_finding(finding))
    return pictures
