"""What a lesson is about: what heads it, what to work on or else to look at, and the drills with their reasons."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from reportgen.judging.judgement import Judgement
from reportgen.judging.safety import cautioned_metrics
from reportgen.planning.ball_first import ball_first, lies_behind
from reportgen.planning.drill_choice import Suits, given_drills
from reportgen.planning.drill_reasons import with_reasons
from reportgen.planning.outlook import outlook_of, tried
from reportgen.planning.priorities import MOST, Choosing, for_the_desk, priorities, rank
from reportgen.records.academy import Student
from reportgen.records.cause_findings import BallFacts, BallFirst, CauseChain
from reportgen.records.findings import Finding
from reportgen.records.lesson import DrillChoice, Lesson
from reportgen.records.report import DeskRemark, GivenDrill, LessonReport, Missing, Outlook, Priority
from reportgen.records.shot_findings import CountFound
from reportgen.records.words import club_family
from reportgen.sheets.library import Library

_STAYS = 3
"""So many lessons running a drill is kept for want of another."""


@dataclass(frozen=True)
class BallSeen:
    """What a lesson holds of club and ball: averages, what can lie behind them, and counts."""

    facts: BallFacts
    behind: tuple[CauseChain, ...]
    counts: tuple[CountFound, ...]


class Work(NamedTuple):
    """What `heads` the lesson of the ball, what to work on, or else the outlook, of which something can be `tried`.
    `findings` are those that are not set aside."""

    heads: BallFirst | None
    priorities: tuple[Priority, ...]
    outlook: Outlook | None
    findings: tuple[Finding, ...]
    for_the_desk: list[DeskRemark]

    @property
    def asks_for(self) -> tuple[Priority, ...]:
        """What drills are proposed for."""
        return self.priorities or tried(self.outlook)


def work_of(
    lesson: Lesson, judged: Judgement, ball: BallSeen, student: Student, library: Library, *, first_lesson: bool
) -> Work:
    """What a judged lesson is about. A beginner, and anybody in a first lesson of its kind, has one thing."""
    choosing = Choosing(
        chosen=lesson.priorities,
        set_aside=lesson.set_aside,
        cautioned=cautioned_metrics(library.rules, judged.cautions),
        most=1 if first_lesson or student.skill == "beginner" else MOST,
    )
    causes = [row for row in library.causes.values() if row.fits(club_family(lesson.club))]
    ranked = rank(judged.findings, causes, choosing)
    heads = None if lesson.priorities else ball_first(ball.facts, ball.counts, ranked)
    behind = lies_behind(ball.behind) if heads else None
    first = priorities(judged.findings, causes, choosing, behind)
    minded = tuple(finding for finding in judged.findings if finding.metric not in lesson.set_aside)
    outlook = None if first else outlook_of(minded, ball.counts, judged.followed)
    return Work(heads, first, outlook, minded, for_the_desk(judged.findings, causes, choosing))


def drills_of(
    work: Work,
    lesson: Lesson,
    trained: Sequence[str],
    reports: Sequence[LessonReport],
    suits: Suits,
    library: Library,
) -> tuple[tuple[GivenDrill, ...], tuple[Missing, ...]]:
    """The drills of the lesson, each with its reason, and what had to be left out. `trained` are the counts that can be
    trained, `reports` those of the earlier lessons of its kind. Where nothing asks for a drill, the first of last time
    is kept, as long as it was not given three times running."""
    last = [given.drill for given in reports[-1].drills] if reports else []
    given, left_out = given_drills(lesson.drills, work.asks_for, library.drills, suits, trained)
    if not given and not left_out:
        again = [one for one in last if one in library.drills and list(suits.given_before).count(one) < _STAYS]
        kept, _ = given_drills([DrillChoice(drill=one) for one in again], (), library.drills, suits)
        given = tuple(one.model_copy(update={"chosen_by": "plan"}) for one in kept[:1])
    reasons = with_reasons(given, work.priorities, work.outlook, work.findings, trained, last, library.drills)
    return reasons, left_out
