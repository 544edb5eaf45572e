"""Practice of putts and short shots: the drills, then what was counted in the lesson once more. No swing of it is a
full one, so that it has its own ceiling and warm-up."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from reportgen.planning.week import Limits, smaller
from reportgen.records.amounts import Dose
from reportgen.records.practice import SmallGame
from reportgen.records.practice_week import PracticeDay, PracticeItem, PracticeWeek
from reportgen.records.report import GivenDrill
from reportgen.records.shot_findings import CountFound
from reportgen.records.words import LessonKind

SMALL: tuple[LessonKind, ...] = ("short-game", "putting")
_SECONDS_A_STROKE = 20
_COUNTED_AGAIN = 2


@dataclass(frozen=True)
class SmallPractice:
    """The drills with putts and short shots, the lesson's counts and which of them are counted again, and the rules."""

    drills: Sequence[GivenDrill]
    counts: Sequence[CountFound]
    again: Sequence[int]
    rules: SmallGame


def counted_again(counts: Sequence[CountFound], kind: LessonKind) -> tuple[int, ...]:
    """Which counts the student repeats at home, by their places, at most two: each once, as it was last counted in the
    lesson. Counts of a drill's test are said with the drill; of other lessons none is repeated."""
    if kind not in SMALL:
        return ()
    last: dict[tuple[object, ...], int] = {}
    for place, found in enumerate(counts):
        if found.count is not None:
            same = (found.count, found.club, *found.sizes.items())
            last[same] = place
    return tuple(last.values())[:_COUNTED_AGAIN]


def with_small_game(
    week: PracticeWeek | None, practice: SmallPractice, limits: Limits, days: Sequence[date]
) -> PracticeWeek | None:
    """The week with putts and short shots after its full swings, in the minutes that these leave; or a week of them
    alone. None where there is neither."""
    if not practice.drills and not practice.again:
        return week
    rules = practice.rules
    made = []
    for number, day in enumerate(days):
        before = week.days[number].items if week and number < len(week.days) else (_warm_up(rules, limits.minutes),)
        order = practice.drills if number % 2 == 0 else practice.drills[::-1]
        left = limits.minutes - sum(item.minutes for item in before)
        made.append(PracticeDay(day=day, items=(*before, *_items(order, practice, left))))
    if week is not None:
        return week.model_copy(update={"days": tuple(made), "strokes_a_day_at_most": rules.strokes_a_day})
    return PracticeWeek(
        days=tuple(made),
        phase=None,
        swings_a_day_at_most=0,
        swings_a_week_at_most=0,
        strokes_a_day_at_most=rules.strokes_a_day,
    )


def _warm_up(rules: SmallGame, minutes: int) -> PracticeItem:
    return PracticeItem(kind="warm-up", drill=None, minutes=min(rules.warm_up.minutes, minutes), swings=0)


def _items(order: Sequence[GivenDrill], practice: SmallPractice, minutes: int) -> Iterator[PracticeItem]:
    """Each drill with as much of its dose as fits, then the counts that fit, within the day's minutes and strokes."""
    strokes = practice.rules.strokes_a_day
    for entry in order:
        parts = (_block(entry, dose) for dose in smaller(entry.dose))
        item = next((one for one in parts if one.strokes <= strokes and one.minutes <= minutes), None)
        if item is not None:
            yield item
            strokes, minutes = strokes - item.strokes, minutes - item.minutes
    for place in practice.again:
        item = _count(place, practice.counts[place].run.of)
        if item.strokes <= strokes and item.minutes <= minutes:
            yield item
            strokes, minutes = strokes - item.strokes, minutes - item.minutes


def _block(entry: GivenDrill, dose: Dose) -> PracticeItem:
    minutes = dose.minutes or _minutes(dose.swings)
    return PracticeItem(kind="block", drill=entry.drill, dose=dose, minutes=minutes, swings=0, strokes=dose.swings)


def _count(place: int, of: int) -> PracticeItem:
    return PracticeItem(kind="count", drill=None, minutes=_minutes(of), swings=0, strokes=of, counted=place)


def _minutes(strokes: int) -> int:
    return max(1, round(strokes * _SECONDS_A_STROKE / 60))
