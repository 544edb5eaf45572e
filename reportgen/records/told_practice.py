"""Drills and a week of practice as a reader is told them."""

from reportgen.records.base import Record
from reportgen.records.drill_figures import DrillFigure
from reportgen.records.drill_tests import DrillTested
from reportgen.records.practice_week import PracticeDay, PracticeItem, PracticeWeek, Practised
from reportgen.records.report import (
    GivenDrill,
)


class ToldFigure(Record):
    """A figure of a drill: its heading, what it says of it in the drill's own words, and what is drawn, in sentences
    (`alt`). `wrong`: it shows a mistake."""

    figure: DrillFigure
    heading: str
    says: str | None
    alt: str
    wrong: bool


class ToldDrill(GivenDrill):
    """A drill by its title, aim and feel; `why` says its reason; `for_count` names what it was proposed for,
    where that was a count of shots; `test` says how one knows that it works, where the drill has one;
    `easier_form`, in Markdown, where that is the form for this student."""

    title: str
    aim: str
    feel: str
    why: str
    for_count: str | None = None
    test: str | None = None
    easier_form: str | None
    figures: tuple[ToldFigure, ...] = ()


class ToldItem(PracticeItem):
    """What is done."""

    what: str


class ToldDay(PracticeDay):
    """One day of practice, in words: `amount` is its swings, putts and short shots."""

    items: tuple[ToldItem, ...]
    amount: str


class ToldWeek(PracticeWeek):
    """The week, why it is as it is, and the `most` that it may come to."""

    days: tuple[ToldDay, ...]
    says: str
    most: str


class ToldPractised(Practised):
    """What was planned and what was logged, in a sentence."""

    says: str


class ToldTested(DrillTested):
    """What the counts of a drill's test have come to, in words, with the drill's title."""

    title: str
    says: str
