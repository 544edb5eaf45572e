"""The judgement of one lesson: its values against the ranges of this body, and what to mind today."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportgen.judging.bands import body_of
from reportgen.judging.fair import EarlierReading
from reportgen.judging.findings import Occasion, in_order, judge
from reportgen.judging.load import Load, load_of
from reportgen.judging.safety import Facts, facts_of, said_now
from reportgen.judging.standing import Before, cautions_of
from reportgen.records.academy import Student
from reportgen.records.findings import Finding, Reading
from reportgen.records.lesson import Lesson
from reportgen.records.report import Caution, LessonReport
from reportgen.records.shot_table import ShotTable
from reportgen.sheets.library import Library


@dataclass(frozen=True)
class Earlier:
    """A lesson before this one: as written, as measured, as judged; and its tables of shots."""

    lesson: Lesson
    readings: tuple[Reading, ...]
    report: LessonReport
    shots: tuple[ShotTable, ...] = ()
    firing: tuple[Caution, ...] = ()
    """All cautions that held, with those that were not said beside a stop."""


@dataclass(frozen=True)
class Judgement:
    """What is held of a lesson: findings in the order of the swing, cautions with the gravest first."""

    findings: tuple[Finding, ...]
    followed: tuple[str, ...]
    """The metrics in focus that were measured, as they were named."""
    cautions: tuple[Caution, ...]
    facts: Facts
    load: Load
    firing: tuple[Caution, ...]
    """All cautions that hold, with those that are not said beside a stop."""

    @property
    def stopped(self) -> bool:
        """Whether a stop stands: then nothing is planned."""
        return any(caution.level == "stop" for caution in self.cautions)


def judge_lesson(
    lesson: Lesson,
    readings: Sequence[Reading],
    student: Student,
    before: Sequence[Earlier],
    certainty: float,
    library: Library,
) -> Judgement:
    """The judgement of a lesson; `before` holds the student's earlier ones, oldest first. A value is held against those
    of lessons of the same kind alone; comfort, practice and a stop go through all."""
    alike = [earlier for earlier in before if earlier.lesson.kind == lesson.kind]
    focus = in_focus(lesson, student, alike)
    on = Occasion(student, lesson, body_of(student, lesson), certainty, frozenset(focus))
    findings = in_order(
        [
            judge(
                reading,
                library.metrics[reading.metric],
                library.bands.get(reading.metric, ()),
                _past(reading.metric, alike),
                on,
            )
            for reading in readings
        ],
        library.metrics,
    )
    lessons = [earlier.lesson for earlier in before] + [lesson]
    load = load_of(lessons, student, lesson.date)
    facts = facts_of(student, lessons, findings, load)
    last = before[-1] if before else None
    past = Before(last.report, last.firing, tuple(lessons[:-1])) if last else None
    firing = cautions_of(library.rules, facts, lesson, past)
    measured = {finding.metric for finding in findings}
    followed = tuple(metric for metric in focus if metric in measured)
    return Judgement(findings, followed, said_now(library.rules, firing), facts, load, firing)


def in_focus(lesson: Lesson, student: Student, before: Sequence[Earlier]) -> tuple[str, ...]:
    """The metrics that are followed, named before the lesson: those that its sheet says, or else student.yaml, or else
    what was worked on since the last lesson."""
    if lesson.follow or student.follow:
        return lesson.follow or student.follow
    return tuple(priority.metric for priority in before[-1].report.priorities) if before else ()


def _past(metric: str, before: Sequence[Earlier]) -> list[EarlierReading]:
    """The metric's readings in the earlier lessons, with how they were judged then."""
    found = []
    for earlier in before:
        reading = next((r for r in earlier.readings if r.metric == metric), None)
        finding = next((f for f in earlier.report.findings if f.metric == metric), None)
        if reading is not None and finding is not None:
            report = earlier.report
            found.append(EarlierReading(report.date, reading, report.club, finding.verdict, finding.band))
    return found
