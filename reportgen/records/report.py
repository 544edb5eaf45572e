"""The judged lesson as facts: ids, codes, numbers and dates. Nothing of it depends on who reads it."""

from datetime import date
from hashlib import sha256
from typing import Annotated, Literal

from pydantic import Field

from reportgen.records.aims import Goal, Handicap, Holes, NextLesson, PlayedRound
from reportgen.records.amounts import Dose
from reportgen.records.base import Record, Slug
from reportgen.records.body import ComfortCourse, GrowthEstimate, Load, Screen
from reportgen.records.cause_findings import BallFacts, BallFirst, CauseChain
from reportgen.records.drill_tests import DrillTested
from reportgen.records.findings import Finding, Interval, PlayerLevel
from reportgen.records.needs import Need
from reportgen.records.patterns import ShotsFound
from reportgen.records.pictures import Picture, SwingSeen
from reportgen.records.practice_week import PracticeWeek, Practised
from reportgen.records.returning import ReturnStepId
from reportgen.records.setup import SetupFound
from reportgen.records.shot_findings import CountFound, StrikeFound
from reportgen.records.shot_remarks import ShotRemark
from reportgen.records.words import Activity, Direction, LessonKind, Level, Moment, Side, Site, Stage, Verdict


class Effect(Record):
    """An out-of-range metric that can come from another one, and so waits until that is better."""

    metric: Slug
    verdict: Verdict


class Priority(Record):
    """One thing to work on: a metric and the side of its range that the value lies on, None where on neither."""

    metric: Slug
    direction: Direction | None
    effects: tuple[Effect, ...] = ()
    """What can follow from it in this swing, and waits for it."""
    chosen_by: Literal["numbers", "instructor"]


class LookAt(Record):
    """What to look at next where nothing is a task yet. `moves away`: a `metric` that goes, or seems to go, away from
    its range. `probably out`: one that is outside more likely than not. `too close`: one that was seen outside, and can
    as well be inside. `more shots`: a `count` of the lesson, by its place, of which not all were made."""

    why: Literal["moves away", "probably out", "too close", "more shots"]
    metric: Slug | None = None
    direction: Direction | None = None
    count: int | None = None


class Outlook(Record):
    """What a lesson without a priority says: which metrics in range to `keep` (two at most), what to look at next."""

    keep: tuple[Slug, ...]
    look_at: LookAt | None


class DrillReason(Record):
    """Why a drill is given: it serves a `priority`, trains a `count` of this lesson, tries what to `look at` next,
    serves a `finding` on the side where it is out of range, was `kept` from last time, or is the `teacher`'s choice,
    with the first measured metric that it is good for. `metric` and `direction` say which, `count` what was counted."""

    kind: Literal["priority", "count", "look at", "finding", "kept", "teacher"]
    metric: Slug | None = None
    direction: Direction | None = None
    count: Slug | None = None


class GivenDrill(Record):
    """A drill given in this lesson, with its dose; `easier` where the easier form is the one for this student: it
    spares a hip that turns little. `note` is the instructor's."""

    drill: Slug
    dose: Dose
    serves: Slug | None
    trains: Slug | None = None
    """The count of this lesson that it was proposed for."""
    loads: tuple[Site, ...]
    note: str | None
    easier: bool = False
    chosen_by: Literal["instructor", "plan"]
    reason: DrillReason = DrillReason(kind="teacher")


class Caution(Record):
    """A caution that applies to this student today, by the id of its rule."""

    rule: Slug
    level: Level
    usual: bool
    """One of the cautions that are said to everybody."""
    raised_on: date | None = None
    """The day that raised it, where it stands from an earlier lesson or from a day of the practice log."""
    sites: tuple[Site, ...] = ()
    """The places whose comfort scores raised it; none where anything else did."""


class Missing(Record):
    """What could not be said, and what would make it possible.

    `not this time`: a metric that was measured `last` on a day (no metric: nothing was measured at all), with what its
    stills lack. `left out`: a `drill` that works `sites` which are spared, or holds `activities` which are forbidden.
    `needs`: a metric that stills could give.
    """

    kind: Literal["not this time", "left out", "needs"]
    metric: Slug | None = None
    last: date | None = None
    needs: tuple[Need, ...] = ()
    drill: Slug | None = None
    sites: tuple[Site, ...] = ()
    activities: tuple[Activity, ...] = ()


class DeskRemark(Record):
    """A remark for the instructor alone. `goal over`: the day of the goal came before the lesson.

    `other priorities`: by the numbers `metrics` would come first (none: nothing would). `set aside`: `metrics` are out
    of range, and the sheet sets them aside. `dose cut`: the `dose` of a `drill` was more than the `swings_a_day`, and
    the page has `cut_to`; `no room`: more than a day of the week has room for; `too fast`: a caution forbids its pace.
    `not asked`: what the scores of `sites` raised on `since` stands, because nobody asked again. `rest without a
    score`: the log has a day of rest (`since`) with a note and no score. `returning`: the week is one of a return
    after a stop, cleared on `since`, and stands at `step`.
    """

    code: Literal[
        "other priorities", "set aside", "dose cut", "no room", "too fast", "goal over", "not asked",
        "rest without a score", "returning",
    ]  # fmt: skip
    metrics: tuple[Effect, ...] = ()
    drill: Slug | None = None
    dose: Dose | None = None
    cut_to: Dose | None = None
    swings_a_day: int | None = None
    sites: tuple[Site, ...] = ()
    since: date | None = None
    step: ReturnStepId | None = None


class Point(Record):
    """One lesson's value in a series, and where the player was by then: the verdict is of that level."""

    lesson: str
    date: date
    value: float
    interval: Interval
    level: PlayerLevel
    verdict: Verdict
    noted: bool = False
    """The lesson has the instructor's notes."""


class Series(Record):
    """All values of one metric up to this lesson that may fairly be compared, oldest first, in `unit`."""

    metric: Slug
    unit: str
    points: tuple[Point, ...]


class Glance(Record):
    """One checkpoint of the swing: the gravest verdict among what was measured there, None where nothing was; of the
    values with a range, how many there are and how many lie in it; how many things were `observed` without
    measuring."""

    moment: Moment
    verdict: Verdict | None
    judged: int
    in_range: int
    observed: int = 0


class Scores(Record):
    """The rounds over so many holes that the student has played, oldest first."""

    holes: Holes
    rounds: Annotated[tuple[PlayedRound, ...], Field(min_length=1)]


class Person(Record):
    """The student as far as pages may show them."""

    id: Slug
    name: str
    first_name: str
    plays: Side
    stage: Stage
    restricted_hips: bool


class LessonReport(Record):
    """Everything that follows from one lesson. It is the same for every reader: sentences, units and language come
    after it."""

    student: Slug
    person: Person
    lesson: str
    """The date, with `-2` for a second lesson that day; the name of its sheet and of its page."""
    date: date
    number: int
    """First lesson 1, second 2, ..."""
    kind: LessonKind = "full-swing"
    club: str
    focus: str | None
    findings: tuple[Finding, ...]
    followed: tuple[Slug, ...]
    """The metrics in focus, named before the lesson, that were measured in it."""
    glance: tuple[Glance, ...]
    """None for a lesson that is not of the full swing."""
    priorities: tuple[Priority, ...]
    outlook: Outlook | None = None
    """Where there is no priority and something to say in its place."""
    set_aside: tuple[Slug, ...] = ()
    """The measured metrics that the instructor calls unimportant now: shown, and no task."""
    drills: tuple[GivenDrill, ...]
    practice: PracticeWeek | None
    practised: Practised | None
    tested: tuple[DrillTested, ...] = ()
    """Of the drills given now, and of those that were counted since the last lesson."""
    cautions: tuple[Caution, ...]
    missing: tuple[Missing, ...]
    pictures: tuple[Picture, ...]
    progress: tuple[Series, ...]
    notes: str | None
    swings: tuple[SwingSeen, ...] = ()
    """To step through."""
    counts: tuple[CountFound, ...] = ()
    """What was counted in rows of shots,"""
    strikes: tuple[StrikeFound, ...] = ()
    """and where on the face they were struck."""
    ball: BallFacts = BallFacts()
    """What club and ball did on average,"""
    behind: tuple[CauseChain, ...] = ()
    """what can lie behind it,"""
    ball_first: BallFirst | None = None
    """and what of it heads the report, before the priorities."""
    patterns: tuple[ShotsFound, ...] = ()
    """What the tables of the lesson show, by club,"""
    shot_remarks: tuple[ShotRemark, ...] = ()
    """and what a reader should know of them."""
    setup: tuple[SetupFound, ...] = ()
    """What was observed at setup."""
    growth: GrowthEstimate | None = None
    """Of a junior with fresh measurements."""
    screen: Screen | None = None
    comfort: tuple[ComfortCourse, ...] = ()
    """Of the sites that were asked about in this lesson."""
    load: Load | None = None
    """None after a stop."""
    goal: Goal | None = None
    """Of the latest lesson alone, as are the next lesson, the handicap and the scores."""
    next_lesson: NextLesson | None = None
    handicap: Handicap | None = None
    """As the student says it."""
    scores: tuple[Scores, ...] = ()
    for_the_desk: tuple[DeskRemark, ...] = ()
    """Remarks for the instructor alone; no page of the student shows them."""
    stopped: bool
    """A stop-level caution stands: no drill, no dose, no practice anywhere."""


def revision_of(report: LessonReport) -> str:
    """The digest of everything that follows from the lesson: another digest, another revision of it."""
    return sha256(report.model_dump_json(by_alias=True).encode()).hexdigest()
