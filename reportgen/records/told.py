"""A lesson as one reader is told it: the facts with their sentences, names and signs, in that reader's units.

Each record is the fact of the same name with what is said of it. Views print these; none of them computes anything.
"""

from typing import Literal

from pydantic import Field

from reportgen.records.academy import LanguageCode
from reportgen.records.aims import Goal, NextLesson
from reportgen.records.body import ComfortCourse, GrowthEstimate, Load, Screen
from reportgen.records.content import SignWords
from reportgen.records.findings import BandUsed, Finding
from reportgen.records.pictures import DrawnStill, Picture
from reportgen.records.report import (
    Caution,
    Effect,
    Glance,
    LessonReport,
    Missing,
    Outlook,
    Priority,
    Scores,
    Series,
)
from reportgen.records.setup import SetupFound
from reportgen.records.told_practice import ToldDrill, ToldPractised, ToldTested, ToldWeek
from reportgen.records.told_shots import ToldBallFirst, ToldChain, ToldCount, ToldShotRemark, ToldShots, ToldStrike
from reportgen.records.told_swings import SwingPair, ToldStroke, ToldSwingSeen
from reportgen.records.words import Concern, Moment, Site


class ToldBand(BandUsed):
    """The band, for whom it is, where it comes from, what its limits mean, and why it was chosen."""

    for_: str = Field(alias="for")
    source: str
    limits: str
    why: str


class ToldSign(SignWords):
    """The words of a sign beside a name: empty where the name says the word already, as in `Hips open: 57°`."""

    plus: str
    minus: str


class ToldFinding(Finding):
    """The value in the reader's unit, with the name of its metric, how many decimals are shown, and the words for its
    sign: `sign` in a sentence, `sign_beside` where the value stands beside the name. `explain` says what the metric is,
    `means` what lies behind a value out of its band, `note` all remarks on it. It is `listed` where it does not stand
    among the shots of the lesson already, or is followed or held against a range."""

    name: str
    short: str
    decimals: int
    sign: SignWords | None
    sign_beside: ToldSign | None
    band: ToldBand | None
    explain: str = ""
    means: str | None
    listed: bool = True


class ToldEffect(Effect):
    """What can follow from a priority, by name."""

    short: str


class ToldPriority(Priority):
    """One thing to work on, in words said to the student. `reason` is all of it; `seen` is the value and the range in
    a few words, `because` why it matters, `more` what else is known, as the last lesson's value."""

    name: str
    headline: str
    reason: str
    seen: str
    because: str
    more: str
    effects: tuple[ToldEffect, ...] = ()


class ToldOutlook(Outlook):
    """What to keep, and what to look at next and why, in a sentence each; None where there is nothing of it."""

    keep_says: str | None
    next_says: str | None


CautionPlace = Literal["stop", "full", "folded", "everybody"]
"""Where a caution stands: with a stop, in full before the drills, folded below those, or with what everybody minds."""


class ToldCaution(Caution):
    """The caution as the student reads it, as the instructor does, and where it comes from; `label` is its heading
    where it stands folded, `about` the sites that it is of or holds."""

    place: CautionPlace = "full"
    text: str
    label: str
    about: tuple[Site, ...]
    concern: Concern
    instructor: str
    source: str


class ToldMissing(Missing):
    """What could not be said, and what would make it possible, in words."""

    name: str | None = None
    says: str


class ToldStill(DrawnStill):
    """A picture with what stands below it, and what it shows for those who do not see it."""

    strokes: tuple[ToldStroke, ...]
    caption: str
    alt: str


class ToldPicture(Picture):
    """A picture and the one beside it; why it is withheld, in a sentence."""

    still: ToldStill | None
    beside: ToldStill | None
    withheld_says: str | None


class ToldSetup(SetupFound):
    """An observation at setup in words: `means` says what the word or the number is, `last` what it was last time."""

    name: str
    says: str
    means: str
    last: str | None


class ToldSeries(Series):
    """The course of a metric in the reader's unit, with today's band, and what it says."""

    name: str
    short: str
    checkpoint: Moment
    decimals: int
    sign: SignWords | None
    sign_beside: ToldSign | None
    band: ToldBand | None
    says: str


class ToldGlance(Glance):
    """One checkpoint in words; `seen` is what was observed there, each in a few words."""

    says: str
    seen: tuple[str, ...] = ()


class ToldGrowth(GrowthEstimate):
    """Where a growing player stands, in words; None where the measurements give no stage."""

    says: str | None


class ToldScreen(Screen):
    """The mobility screen in words."""

    says: str


class ToldComfort(ComfortCourse):
    """How a site has felt, in words."""

    says: str


class ToldLoad(Load):
    """How much was practised, in words; None where nothing was logged."""

    says: str | None


class ToldGoal(Goal):
    """The goal, with its day and its sign in words; None where there is neither."""

    says: str | None


class ToldNextLesson(NextLesson):
    """When and where the next lesson is, in words."""

    says: str


class ToldScores(Scores):
    """The scores, with what they are of, and what their chart shows in words."""

    name: str
    says: str


class ToldLesson(LessonReport):
    """Everything that one reader is told about one lesson."""

    revision: str
    """The digest of the facts that it tells: another digest, another revision of the lesson."""
    language: LanguageCode = "en"
    """In which every sentence of it is written."""
    kind_name: str | None = None
    """What the lesson was about, where it was not the full swing."""
    for_guardian: str | None = None
    """What the guardian of a minor is told first after a stop."""
    summary: str
    """How many values were measured and where they lie, in one sentence."""
    quiet: bool = False
    """Whether nothing of it is new: every value is in its range, or without one, and none has changed."""
    findings: tuple[ToldFinding, ...]
    glance: tuple[ToldGlance, ...]
    priorities: tuple[ToldPriority, ...]
    outlook: ToldOutlook | None = None
    drills: tuple[ToldDrill, ...]
    practice: ToldWeek | None
    practised: ToldPractised | None
    tested: tuple[ToldTested, ...] = ()
    cautions: tuple[ToldCaution, ...]
    missing: tuple[ToldMissing, ...]
    pictures: tuple[ToldPicture, ...]
    swings: tuple[ToldSwingSeen, ...] = ()
    swing_pairs: tuple[SwingPair, ...] = ()
    """What of them is stepped through together."""
    progress: tuple[ToldSeries, ...]
    counts: tuple[ToldCount, ...] = ()
    strikes: tuple[ToldStrike, ...] = ()
    behind: tuple[ToldChain, ...] = ()
    ball_first: ToldBallFirst | None = None
    patterns: tuple[ToldShots, ...] = ()
    shot_remarks: tuple[ToldShotRemark, ...] = ()
    setup: tuple[ToldSetup, ...] = ()
    setup_line: str | None = None
    """All that was observed at setup, in one sentence."""
    growth: ToldGrowth | None = None
    screen: ToldScreen | None = None
    comfort: tuple[ToldComfort, ...] = ()
    load: ToldLoad | None = None
    goal: ToldGoal | None = None
    next_lesson: ToldNextLesson | None = None
    scores: tuple[ToldScores, ...] = ()
