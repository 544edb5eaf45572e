"""Practice of putts and short shots: the drills, then what was counted in the lesson once more. No swing of it is a
full one, so that it has its own ceiling and warm-up."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from reportgen.planning.allowed import Standing, allowed, asked_by_drill, first_allowed
from reportgen.planning.week import Groups, Limits, Room, in_groups, longest_warm_up, warm_up, with_doses
from reportgen.records.amounts import Dose
from reportgen.records.content import Drill
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
    """The drills with putts and short shots, those that there are, the lesson's kind and counts and which of them are
    counted again, what stands against it, and the rules."""

    given: Sequence[GivenDrill]
    drills: Mapping[str, Drill]
    kind: LessonKind
    counts: Sequence[CountFound]
    again: Sequence[int]
    standing: Standing
    rules: SmallGame


def counted_again(counts: Sequence[CountFound], kind: LessonKind, standing: Standing) -> tuple[int, ...]:
    """Which counts the student repeats at home, by their places, at most two: each once, as it was last counted in the
    lesson, where nothing stands against it. Counts of a drill's test are said with the drill; of other lessons none is
    repeated."""
    if kind not in SMALL:
        return ()
    last: dict[tuple[object, ...], int] = {}
    for place, found in enumerate(counts):
        if found.count is not None:
            same = (found.count, found.club, *found.sizes.items())
            last[same] = place
    may = [place for place in last.values() if first_allowed([_count(place, 1, kind)], standing, {}, kind)]
    return tuple(may)[:_COUNTED_AGAIN]


def with_small_game(
    week: PracticeWeek | None, practice: SmallPractice, limits: Limits, days: Sequence[date]
) -> tuple[PracticeWeek | None, tuple[GivenDrill, ...]]:
    """The week with putts and short shots after its full swings, in the minutes that these leave; or a week of them
    alone, and the drills with the dose that each of their days has. No week where there is neither."""
    groups, counts = _laid_out(week, practice, limits.minutes, len(days))
    given = with_doses(practice.given, groups)
    if not groups and not counts:
        return week, given
    swung = {on.day: on.items for on in week.days} if week else {}
    made = []
    for number, day in enumerate(days):
        group = groups[number % len(groups)] if groups else []
        items = (*(group if number % 2 == 0 else group[::-1]), *counts)
        before = swung.get(day) or (warm_up(practice.rules.warm_up.minutes, limits.minutes, items, practice.standing),)
        made.append(PracticeDay(day=day, items=(*before, *items)))
    if week is not None:
        return week.model_copy(
            update={"days": tuple(made), "strokes_a_day_at_most": practice.rules.strokes_a_day}
        ), given
    alone = PracticeWeek(
        days=tuple(made),
        phase=None,
        swings_a_day_at_most=0,
        swings_a_week_at_most=0,
        strokes_a_day_at_most=practice.rules.strokes_a_day,
    )
    return alone, given


def _laid_out(
    week: PracticeWeek | None, practice: SmallPractice, minutes: int, days: int
) -> tuple[Groups, list[PracticeItem]]:
    """The drills and the counts that fit into what every day has left of its minutes and strokes."""
    taken = longest_warm_up(practice.rules.warm_up.minutes, minutes)
    if week is not None:
        taken = max(on.minutes for on in week.days)
    room = Room(minutes - taken, practice.rules.strokes_a_day)
    may = [one for one in practice.given if allowed(asked_by_drill(practice.drills[one.drill]), practice.standing)]
    groups = in_groups(may, room, days, lambda entry, dose: _block(entry, dose, practice.drills[entry.drill]))
    lefts = [room.without(*group) for group in groups] or [room]
    left = Room(min(one.minutes for one in lefts), min(one.swings for one in lefts))
    counts = []
    for place in practice.again:
        item = _count(place, practice.counts[place].run.of, practice.kind)
        if left.holds(item):
            counts.append(item)
            left = left.without(item)
    return groups, counts


def _block(entry: GivenDrill, dose: Dose, drill: Drill) -> PracticeItem:
    minutes = dose.minutes or _minutes(dose.swings)
    strokes = 0 if drill.swings == "none" else dose.swings
    return PracticeItem(
        kind="block", drill=entry.drill, dose=dose, minutes=minutes, swings=0, strokes=strokes, swing=drill.swings
    )


def _count(place: int, of: int, kind: LessonKind) -> PracticeItem:
    """A short shot can be a pitch, so its swing counts as a half one."""
    swing = "small" if kind == "putting" else "half"
    return PracticeItem(
        kind="count", drill=None, minutes=_minutes(of), swings=0, strokes=of, counted=place, swing=swing
    )


def _minutes(strokes: int) -> int:
    return max(1, round(strokes * _SECONDS_A_STROKE / 60))
