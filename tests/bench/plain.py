"""The plain script that the program is measured against: pyplot, Jinja2 and WeasyPrint as their tutorials use them.

It gets the judged lessons for nothing, draws the same charts with axes, fills the same templates, makes a PDF of the
same content: a figure for each chart, a style sheet for each PDF, one layout, no attempt at fitting the pages.
"""

import io
import re
from dataclasses import dataclass
from math import cos, pi, sin
from pathlib import Path
from typing import Any

import matplotlib
from jinja2.sandbox import SandboxedEnvironment
from markupsafe import Markup
from PIL import Image
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher, URLFetcherResponse

from reportgen.pages.faces import face_file
from reportgen.records.told import ToldFinding, ToldLesson, ToldSeries

matplotlib.use("svg")
from matplotlib import pyplot as plt

Values = dict[str, Any]
OTHERS_OF = re.compile("-small|-tall")
"""In the names of charts that we draw once more for narrow screens; the plain script does not."""


@dataclass(frozen=True)
class _Chart:
    svg: Markup
    alt: str
    width: int
    height: int


def plain_lesson(
    report: ToldLesson, values: Values, pages: SandboxedEnvironment, css: str, root: Path, density: str, to: Path
) -> None:
    """One lesson as page, charts, pictures and PDF in the folder `to`; `values` are those of our own page, of which
    charts and pictures are made anew."""
    wanted = {name: OTHERS_OF.sub("", name) for name in values["charts"]}
    drawn = {name: _chart(name, report, values) for name in dict.fromkeys(wanted.values())}
    charts = {name: drawn[same] for name, same in wanted.items()}
    photos = {name: _photo(root / shot.file) for name, shot in _shots(values).items()}
    own = {**values, "charts": charts, "plan": charts.get("plan")}
    to.mkdir(parents=True, exist_ok=True)
    for name, data in photos.items():
        (to / name).write_bytes(data)
    page = pages.get_template("lesson.html").render(here="lesson", up="../", assets="", drills_at="../drills/", **own)
    (to / "index.html").write_text(page, encoding="utf-8")
    text = pages.get_template("recap.html").render(density=density, **own)
    fonts = FontConfiguration()
    fetch = _Fetcher({name: chart.svg.encode() for name, chart in charts.items()}, photos)
    style = CSS(string=css, font_config=fonts, url_fetcher=fetch)
    html = HTML(string=text, base_url="plain:", url_fetcher=fetch)
    html.write_pdf(to / "recap.pdf", stylesheets=[style], font_config=fonts, pdf_variant="pdf/ua-1")


class _Fetcher(URLFetcher):  # type: ignore[misc]
    def __init__(self, charts: dict[str, bytes], photos: dict[str, bytes]) -> None:
        super().__init__()
        self.known = {"chart": charts, "photo": photos}

    def fetch(self, url: str, headers: Any = None) -> URLFetcherResponse:
        kind, _, name = url.partition(":")
        data = face_file(name).read_bytes() if kind == "face" else self.known[kind][name]
        mime = {"face": "font/ttf", "chart": "image/svg+xml", "photo": "image/jpeg"}[kind]
        return URLFetcherResponse(url, data, {"Content-Type": mime})


def _shots(values: Values) -> dict[str, Any]:
    shown = [one for pair in values["pictures"] for one in (pair.now, pair.beside) if one is not None]
    return {one.photo.file: one.still for one in shown}


def _photo(file: Path) -> bytes:
    with Image.open(file) as picture:
        picture.thumbnail((1200, 1200))
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=82)
    return out.getvalue()


def _chart(name: str, report: ToldLesson, values: Values) -> Any:
    kind, _, metric = name.partition("-")
    if kind == "strip":
        figure = _strip(next(f for f in report.findings if f.metric == metric))
    elif kind == "progress":
        figure = _progress(next(s for s in report.progress if s.metric == metric))
    elif kind == "chain":
        figure = _chain(metric, report)
    else:
        figure = _plan(report)
    out = io.StringIO()
    figure.savefig(out, format="svg")
    plt.close(figure)
    ours = values["charts"][name]
    svg = out.getvalue()
    return _Chart(Markup(svg[svg.index("<svg") :]), ours.alt, ours.width, ours.height)


def _strip(finding: ToldFinding) -> Any:
    figure, axes = plt.subplots(figsize=(3.3, 0.55))
    low, high = finding.interval
    if finding.band is not None:
        axes.axvspan(finding.band.low or low, finding.band.high or high, color="#dde7d9")
    axes.plot([low, high], [0, 0], color="#9c3a1f", linewidth=2)
    axes.plot([finding.value], [0], "o", color="#9c3a1f")
    if finding.change is not None:
        axes.plot([finding.change.before], [0], "o", color="#5a6866", fillstyle="none")
    axes.set_yticks([])
    axes.set_title(f"{finding.value:.0f} {finding.unit}", fontsize=8)
    axes.tick_params(labelsize=7)
    return figure


def _progress(series: ToldSeries) -> Any:
    figure, axes = plt.subplots(figsize=(6.1, 1.75))
    days = [point.date for point in series.points]
    values = [point.value for point in series.points]
    errors = [(point.interval[1] - point.interval[0]) / 2 for point in series.points]
    if series.band is not None and series.band.low is not None and series.band.high is not None:
        axes.axhspan(series.band.low, series.band.high, color="#dde7d9")
    axes.errorbar(days, values, yerr=errors, fmt="o-", color="#5a6866")
    axes.tick_params(labelsize=7)
    return figure


def _chain(metric: str, report: ToldLesson) -> Any:
    figure, axes = plt.subplots(figsize=(3.3, 0.8))
    name = {finding.metric: finding.short for finding in report.findings}
    effects = next(p for p in report.priorities if p.metric == metric).effects
    for place, effect in enumerate(effects):
        axes.annotate(
            name[effect.metric], (0.1, 0.5), (0.6, 0.2 + 0.6 * place), arrowprops={"arrowstyle": "<-"}, fontsize=8
        )
    axes.text(0, 0.5, name[metric], fontsize=8)
    axes.set_axis_off()
    return figure


def _plan(report: ToldLesson) -> Any:
    figure, both = plt.subplots(1, 2, figsize=(4, 1.6))
    value = {finding.metric: finding.value for finding in report.findings}
    for axes, moment in zip(both, ("top", "impact"), strict=True):
        turn = "closed" if moment == "top" else "open"
        for part, length in (("pelvis", 0.8), ("thorax", 1.0)):
            angle = value.get(f"{part}-{turn}-{moment}", 0) * pi / 180
            x, y = length * cos(angle), length * sin(angle)
            axes.plot([-x, x], [-y, y], label=part)
        axes.set_title(moment, fontsize=8)
        axes.tick_params(labelsize=7)
        axes.legend(fontsize=6)
    return figure
