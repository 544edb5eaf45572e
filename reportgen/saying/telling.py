"""A judged lesson -> what one reader is told about it."""

from collections.abc import Iterable

from reportgen.languages.speaking import speaking
from reportgen.records.report import LessonReport, revision_of
from reportgen.records.told import ToldLesson
from reportgen.saying.aims import told_goal, told_next_lesson, told_scores
from reportgen.saying.body import told_comfort, told_growth, told_load, told_screen
from reportgen.saying.captions import told_picture
from reportgen.saying.causes import told_ball_first, told_chains
from reportgen.saying.cautions import cautions_in_place
from reportgen.saying.drill_tests import told_tested
from reportgen.saying.findings import told_finding
from reportgen.saying.for_guardian import for_guardian
from reportgen.saying.missing import told_missing
from reportgen.saying.patterns import told_shots, told_with_shots
from reportgen.saying.priorities import told_outlook, told_priority
from reportgen.saying.progress import told_series
from reportgen.saying.readers import Reader, library_for
from reportgen.saying.setup import setup_line, told_setup
from reportgen.saying.shot_remarks import told_remark
from reportgen.saying.shots import told_count, told_strike
from reportgen.saying.summary import quiet, summary, told_glance
from reportgen.saying.swings import swing_pairs, told_swing
from reportgen.saying.week import told_drill, told_practised, told_week
from reportgen.saying.wording import kind_name
from reportgen.sheets.library import Library


def tell_all(reports: Iterable[LessonReport], library: Library, reader: Reader) -> tuple[ToldLesson, ...]:
    """Each of the lessons as the reader is told it. `library` is that by which they were judged."""
    theirs = library_for(reader, library)
    with speaking(reader.language):
        return tuple(_told(report, theirs, reader) for report in reports)


def tell(report: LessonReport, library: Library, reader: Reader) -> ToldLesson:
    """One lesson as the reader is told it. `library` is that by which it was judged."""
    return tell_all([report], library, reader)[0]


def _told(report: LessonReport, library: Library, reader: Reader) -> ToldLesson:
    person = report.person
    with_shots = told_with_shots(report)
    findings = {
        finding.metric: told_finding(finding, person, library, listed=finding.metric not in with_shots)
        for finding in report.findings
    }
    counts = tuple(told_count(count, library, reader.units) for count in report.counts)
    swings = tuple(told_swing(seen, person, library) for seen in report.swings)
    setup = tuple(told_setup(one, report.club, library, reader.units) for one in report.setup)
    words = {
        "kind_name": kind_name(report.kind),
        "summary": summary([f for f in findings.values() if f.listed], len(report.counts) + len(report.strikes)),
        "quiet": quiet(report.findings),
        "findings": tuple(findings.values()),
        "glance": tuple(told_glance(at, setup) for at in report.glance),
        "priorities": tuple(told_priority(one, findings[one.metric], library) for one in report.priorities),
        "outlook": report.outlook and told_outlook(report.outlook, findings, counts),
        "drills": tuple(told_drill(given, report.practice, library) for given in report.drills),
        "practice": report.practice and told_week(report.practice, report, library, reader.units),
        "practised": report.practised and told_practised(report.practised),
        "tested": tuple(told_tested(tested, report.date, library) for tested in report.tested),
        "cautions": cautions_in_place(report.cautions, library, stopped=report.stopped),
        "missing": tuple(told_missing(gap, library) for gap in report.missing),
        "pictures": tuple(told_picture(picture, person, library) for picture in report.pictures),
        "swings": swings,
        "swing_pairs": swing_pairs(swings, next((findings[one.metric].checkpoint for one in report.priorities), None)),
        "progress": tuple(told_series(series, findings[series.metric], report.date) for series in report.progress),
        "counts": counts,
        "strikes": tuple(map(told_strike, report.strikes)),
        "behind": told_chains(report.behind, findings, library),
        "ball_first": told_ball_first(report, counts, findings, reader.units),
        "patterns": tuple(told_shots(found, reader.units) for found in report.patterns),
        "shot_remarks": tuple(map(told_remark, report.shot_remarks)),
        "setup": setup,
        "setup_line": setup_line(setup),
        "growth": report.growth and told_growth(report.growth),
        "screen": report.screen and told_screen(report.screen, person.stage),
        "comfort": tuple(map(told_comfort, report.comfort)),
        "load": report.load and told_load(report.load),
        "goal": report.goal and told_goal(report.goal, stopped=report.stopped),
        "next_lesson": report.next_lesson and told_next_lesson(report.next_lesson),
        "for_guardian": for_guardian(report),
        "scores": tuple(map(told_scores, report.scores)),
    }
    return ToldLesson(**{**dict(report), **words, "language": reader.language.code, "revision": revision_of(report)})
