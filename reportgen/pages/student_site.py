"""All pages of one student, as files: path inside the student's area -> bytes."""

from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from types import MappingProxyType
from typing import Any

from jinja2.sandbox import SandboxedEnvironment

from reportgen.languages.speaking import speaking
from reportgen.pages.charts import Chart, course_charts, lesson_charts
from reportgen.pages.pictures import Pair, photo_files, shown_pictures
from reportgen.pages.printing import Print, print_here
from reportgen.pages.purposes import served_by
from reportgen.pages.recap import recap_pdf
from reportgen.pages.theme import environment
from reportgen.records.academy import Academy
from reportgen.records.content import Drill
from reportgen.records.report import GivenDrill, LessonReport, Series
from reportgen.records.words import MOMENTS
from reportgen.sheets.library import Library
from reportgen.sheets.readers import Reader, library_for, spoken

CHANGES_SHOWN = 3
PRINTED_ONLY = ("plan",)
"""Charts that recaps alone show; pages have `plan-tall`."""


@dataclass(frozen=True)
class StudentSite:
    """The files of a student's area, path -> bytes, and the recaps that are still printed: each waits for its PDF."""

    files: Mapping[str, bytes]
    recaps: Mapping[str, Callable[[], bytes]]


def student_site(
    reports: Sequence[LessonReport],
    academy: Academy,
    library: Library,
    root: Path,
    *,
    lessons: Container[str] | None = None,
    photos: Mapping[str, bytes] = MappingProxyType({}),
    begin: Print | None = print_here,
) -> StudentSite:
    """Every file of a student's area, from their judged lessons (at least one), oldest first.

    With `lessons`, of the lessons only those named. Pages and links stay the same. `photos` (file name -> bytes) were
    made before and are taken where they would come out the same. `begin` begins to print the recaps; where there is
    none, neither are they.
    """
    with speaking(spoken(reports[-1].language, root)):
        in_their_words = library_for(Reader(spoken(reports[-1].language, root)), library)
        return _site(reports, academy, in_their_words, root, lessons, photos, begin)


def _site(
    reports: Sequence[LessonReport],
    academy: Academy,
    library: Library,
    root: Path,
    lessons: Container[str] | None,
    photos: Mapping[str, bytes],
    begin: Print | None,
) -> StudentSite:
    pages = environment(academy, root)
    files: dict[str, bytes] = {}
    charts: Mapping[str, Chart] = {}
    begun: dict[str, Callable[[], bytes]] = {}
    latest, courses = reports[-1], _longest_courses(reports)
    for report in reports:
        wanted = lessons is None or report.lesson in lessons
        if wanted or report is latest:
            charts = lesson_charts(report, _changed(report))
        if wanted:
            values = _values(report, charts, root, photos)
            if begin is not None:
                begun[f"{report.lesson}/recap.pdf"] = recap_pdf(values, pages, academy, root, begin)
            files |= _lesson(values, None if latest.stopped else "../drills/", pages)
    of_courses = course_charts(courses)

    def page(template: str, here: str, up: str, **values: Any) -> bytes:
        return pages.get_template(template).render(here=here, up=up, assets=f"{up}../../assets/", **values).encode()

    files["index.html"] = page(
        "home.html",
        "home",
        "",
        report=latest,
        lessons=reports,
        charts=charts,
        plan=charts.get("plan"),
        pdfs={r.lesson for r in reports},
    )
    files["progress.html"] = page(
        "progress.html",
        "progress",
        "",
        person=latest.person,
        count=len(reports),
        on=latest.date,
        groups=_by_moment(courses),
        charts=of_courses,
        at="progress/",
    )
    files |= {f"progress/{chart.file}": chart.svg.encode() for chart in of_courses.values()}
    files["safety.html"] = page("safety.html", "safety", "", report=latest)
    files |= _drills(reports, page, library)
    return StudentSite(files, begun)


def lesson_recap(report: LessonReport, academy: Academy, root: Path) -> bytes:
    """The recap PDF of one lesson alone."""
    with speaking(spoken(report.language, root)):
        values = _values(report, lesson_charts(report, _changed(report)), root)
        return recap_pdf(values, environment(academy, root), academy, root)()


def _lesson(
    values: Mapping[str, Any],
    drills_at: str | None,
    pages: SandboxedEnvironment,
) -> dict[str, bytes]:
    """A lesson's page, charts and pictures.

    `drills_at` is None where the drills have no pages, after a stop.
    """
    at = f"{values['report'].lesson}/"
    charts = values["charts"].items()
    files = {f"{at}{chart.file}": chart.svg.encode() for name, chart in charts if name not in PRINTED_ONLY}
    files |= {f"{at}{shown.file}": shown.data for shown in values["photos"].values()}
    lesson = pages.get_template("lesson.html")
    made = lesson.render(here="lesson", up="../", assets="../../../assets/", drills_at=drills_at, **values)
    files[f"{at}index.html"] = made.encode()
    return files


def _values(
    report: LessonReport,
    charts: Mapping[str, Chart],
    root: Path,
    photos: Mapping[str, bytes] = MappingProxyType({}),
) -> dict[str, Any]:
    """What the lesson's page and its recap are both made from."""
    pictures = shown_pictures(report, root, photos)
    return {
        "report": report,
        "charts": charts,
        "plan": charts.get("plan"),
        "pictures": pictures,
        "recap_pictures": _most_telling(pictures),
        "photos": photo_files(pictures),
        "changed": _changed(report),
    }


def _most_telling(pairs: Sequence[Pair]) -> list[Pair]:
    """The two pictures for the recap: those with most values on them, in the order of the lesson."""
    told = sorted(pairs, key=lambda pair: -sum(bool(stroke.says) for stroke in pair.now.shot.strokes))[:2]
    return [pair for pair in pairs if pair in told]


def _changed(report: LessonReport) -> list[Series]:
    """The courses that the lesson's page tells of: what is worked on first, then what really changed."""
    course = {series.metric: series for series in report.progress if len(series.points) > 1}
    first = [p.metric for p in report.priorities]
    real = [f.metric for f in report.findings if f.change and f.change.real]
    since_first = [f.metric for f in report.findings if f.since_first and f.since_first.real]
    wanted = dict.fromkeys([*first, *real, *since_first])
    return [course[metric] for metric in wanted if metric in course][:CHANGES_SHOWN]


def _longest_courses(reports: Sequence[LessonReport]) -> list[Series]:
    """Of every metric that was ever measured its longest course, the latest of equally long ones, in the order of the
    swing: a first lesson with another club does not hide what went before."""
    longest: dict[str, Series] = {}
    for report in reports:
        for series in report.progress:
            if series.metric not in longest or len(series.points) >= len(longest[series.metric].points):
                longest[series.metric] = series
    latest_first = list(dict.fromkeys(s.metric for report in reversed(reports) for s in report.progress))
    return sorted(longest.values(), key=lambda s: (MOMENTS.index(s.checkpoint), latest_first.index(s.metric)))


def _by_moment(progress: Sequence[Series]) -> list[dict[str, Any]]:
    return [{"moment": m, "series": list(found)} for m, found in groupby(progress, key=lambda s: s.checkpoint)]


def _drills(reports: Sequence[LessonReport], page: Any, library: Library) -> dict[str, bytes]:
    """The drills that this student was given, the latest first; after a stop none is shown."""
    latest = reports[-1]
    given: dict[str, GivenDrill] = {}
    if not latest.stopped:
        for report in reversed(reports):
            for entry in report.drills:
                given.setdefault(entry.drill, entry)
    now = {entry.drill for entry in latest.drills}
    listed = [{"drill": library.drills[name], "now": name in now} for name in given]
    files = {
        "drills/index.html": page(
            "drills.html", "drills", "../", person=latest.person, drills=listed, stopped=latest.stopped
        )
    }
    for name, entry in given.items():
        drill: Drill = library.drills[name]
        files[f"drills/{name}.html"] = page(
            "drill.html",
            "drill",
            "../",
            frame="area.html",
            drill=drill,
            given=entry,
            serves=served_by(drill, library.metrics),
        )
    return files
