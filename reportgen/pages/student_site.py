"""All pages of one student, as files: path inside the student's area -> bytes."""

from collections.abc import Container, Mapping, Sequence
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from types import MappingProxyType
from typing import Any

from reportgen.languages.speaking import speaking
from reportgen.pages.charts import Chart, course_charts, lesson_charts, score_charts
from reportgen.pages.drill_pictures import figure_files, first_figures, shown_figures
from reportgen.pages.letter_top import open_letter
from reportgen.pages.photo_pairs import photo_files, shown_pictures, spoken_of
from reportgen.pages.plain import plain
from reportgen.pages.purposes import served_by
from reportgen.pages.recap import recap_pdf
from reportgen.pages.sandbox import Sandbox
from reportgen.pages.sealed import page_policy
from reportgen.pages.swing_pages import shown_swings, swing_files
from reportgen.pages.theme import environment, theme_file
from reportgen.pages.videos import with_video
from reportgen.records.content import Drill
from reportgen.records.told import ToldLesson, ToldSeries
from reportgen.records.told_practice import ToldDrill
from reportgen.records.words import MOMENTS
from reportgen.saying.readers import Reader, language_called, library_for
from reportgen.saying.skipping import leave_out_if
from reportgen.sheets.academy_folder import Home, SoundAcademy
from reportgen.sheets.library import Library

CHANGES_SHOWN = 3


def student_site(
    reports: Sequence[ToldLesson],
    home: SoundAcademy,
    *,
    lessons: Container[str] | None = None,
    photos: Mapping[str, bytes] = MappingProxyType({}),
    recaps: bool = True,
) -> dict[str, bytes]:
    """Every file of a student's area, path -> bytes, from their judged lessons (at least one), oldest first.

    With `lessons`, of the lessons only those named. Pages and links stay the same. `photos` (file name -> bytes) were
    made before and are taken where they would come out the same. Without `recaps` nothing is printed.
    """
    language = language_called(reports[-1].language, home.root)
    with speaking(language):
        in_their_words = library_for(Reader(language), home.library)
        return _site(reports, replace(home, library=in_their_words), lessons, photos, recaps=recaps)


def _site(
    reports: Sequence[ToldLesson],
    home: SoundAcademy,
    lessons: Container[str] | None,
    photos: Mapping[str, bytes],
    *,
    recaps: bool,
) -> dict[str, bytes]:
    pages, library = environment(home), home.library
    files: dict[str, bytes] = {}
    charts: Mapping[str, Chart] = {}
    latest, script = reports[-1], theme_file("swing.js", home)
    for report in reports:
        wanted = lessons is None or report.lesson in lessons
        if wanted or report is latest:
            charts = _charts(report)
        if wanted:
            values = _values(report, charts, home.root, photos)
            told = plain(values)
            if recaps:
                files[f"{report.lesson}/recap.pdf"] = recap_pdf(values, told, pages, home)
            files |= _lesson(values, told, None if latest.stopped else "../drills/", pages, script)

    def page(template: str, here: str, up: str, **values: Any) -> bytes:
        return pages.get_template(template).render(here=here, up=up, assets=f"{up}../../assets/", **values).encode()

    files["index.html"] = page(
        "home.html",
        "home",
        "",
        report=latest,
        letter=open_letter(latest),
        lessons=[_listed(report) for report in reports],
        charts=charts,
        plan=charts.get("plan"),
        pdfs={r.lesson for r in reports},
    )
    files["progress.html"] = _progress(reports, page)
    files["safety.html"] = page("safety.html", "safety", "", report=latest)
    files |= _drills(reports, page, library)
    return files


def _progress(reports: Sequence[ToldLesson], page: Any) -> bytes:
    """The page of all courses, and of the rounds that the student has played."""
    latest, courses = reports[-1], _longest_courses(reports)
    made: bytes = page(
        "progress.html",
        "progress",
        "",
        person=latest.person,
        count=len(reports),
        on=latest.date,
        groups=_by_moment(courses),
        charts=course_charts(courses) | score_charts(latest.scores),
        scores=latest.scores,
        handicap=latest.handicap,
    )
    return made


def lesson_recap(report: ToldLesson, home: Home) -> bytes:
    """The recap PDF of one lesson alone."""
    with speaking(language_called(report.language, home.root)):
        values = _values(report, _charts(report), home.root)
        return recap_pdf(values, plain(values), environment(home), home)


def _listed(report: ToldLesson) -> dict[str, Any]:
    """A lesson as a list of lessons shows it."""
    of = {"date": report.date, "club": report.club, "kind_name": report.kind_name, "focus": report.focus}
    return {"lesson": report.lesson, **of}


def _lesson(
    values: Mapping[str, Any],
    told: Mapping[str, Any],
    drills_at: str | None,
    pages: Sandbox,
    script: str,
) -> dict[str, bytes]:
    """A lesson's page and pictures; `told` are the `values` as templates get them, `script` steps through its swings.

    `drills_at` is None where the drills have no pages, after a stop.
    """
    at = f"{values['report'].lesson}/"
    files = {f"{at}{shown.file}": shown.data for shown in values["photos"].values()}
    files |= {f"{at}{file}": data for file, data in swing_files(values["swings"]).items()}
    lesson, scripted = pages.get_template("lesson.html"), values["swings"] is not None
    made = lesson.render(
        here="lesson",
        up="../",
        assets="../../../assets/",
        drills_at=drills_at,
        script=script if scripted else None,
        policy=page_policy(script),
        **told,
    )
    files[f"{at}index.html"] = made.encode()
    return files


def _charts(report: ToldLesson) -> dict[str, Chart]:
    """What a lesson's pages and its recap have of drawings, the first figures of its drills among them."""
    return {**lesson_charts(report, _changed(report)), **first_figures(report.drills, report.person.plays)}


def _values(
    report: ToldLesson,
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
        "recap_pictures": spoken_of(report, pictures),
        "swings": shown_swings(report, root),
        "letter": open_letter(report),
        "photos": photo_files(pictures),
        "changed": _changed(report),
    }


def _changed(report: ToldLesson) -> list[ToldSeries]:
    """The courses that the lesson's page tells of: what is followed first, then what is worked on, then what really
    changed; none where nothing is new."""
    course = {series.metric: series for series in report.progress if len(series.points) > 1}
    first = [p.metric for p in report.priorities]
    if report.quiet:
        return []
    listed = [f for f in report.findings if f.listed]
    moved = [f.metric for f in listed if f.course and f.course.rung == "has moved"]
    seems = [f.metric for f in listed if f.course and f.course.rung == "seems to be moving"]
    wanted = dict.fromkeys([*report.followed, *first, *moved, *seems])
    return [course[metric] for metric in wanted if metric in course][:CHANGES_SHOWN]


def _longest_courses(reports: Sequence[ToldLesson]) -> list[ToldSeries]:
    """Of every metric that was ever measured its longest course, the latest of equally long ones, in the order of the
    swing: a first lesson with another club does not hide what went before."""
    longest: dict[str, ToldSeries] = {}
    for report in reports:
        for series in report.progress:
            if series.metric not in longest or len(series.points) >= len(longest[series.metric].points):
                longest[series.metric] = series
    latest_first = list(dict.fromkeys(s.metric for report in reversed(reports) for s in report.progress))
    return sorted(longest.values(), key=lambda s: (MOMENTS.index(s.checkpoint), latest_first.index(s.metric)))


def _by_moment(progress: Sequence[ToldSeries]) -> list[dict[str, Any]]:
    return [{"moment": m, "series": list(found)} for m, found in groupby(progress, key=lambda s: s.checkpoint)]


def _drills(reports: Sequence[ToldLesson], page: Any, library: Library) -> dict[str, bytes]:
    """The drills that this student was given, the latest first; after a stop none is shown."""
    latest = reports[-1]
    given: dict[str, ToldDrill] = {}
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
        drill: Drill = with_video(library.drills[name], library, "../../../library/")
        figures = shown_figures(drill, latest.person.plays, library)
        files |= {f"drills/{file}": data for file, data in figure_files(figures).items()}
        files[f"drills/{name}.html"] = page(
            "drill.html",
            "drill",
            "../",
            frame="area.html",
            drill=drill,
            given=entry,
            test=entry.test,
            tested=next((counted for counted in latest.tested if counted.drill == name), None),
            figures=figures,
            serves=served_by(drill, library),
            leave_out=leave_out_if(drill),
        )
    return files
