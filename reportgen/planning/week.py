"""The practice week: which days, in which order, how many swings, never more than the ceilings allow."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import NamedTuple

from reportgen.judging.load import Load
from reportgen.planning.allowed import Standing, allowed, asked_by_drill, first_allowed
from reportgen.records.academy import PracticeTime
from reportgen.records.amounts import Dose
from reportgen.records.content import Drill
from reportgen.records.findings import Finding
from reportgen.records.practice import Phase, PracticeRules
from reportgen.records.practice_week import PracticeDay, PracticeItem, PracticeWeek
from reportgen.records.report import GivenDrill, Priority
from reportgen.records.words import GrowthStage, Stage, Weekday

_WEEKDAYS: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DEFAULT_GAPS = (2, 4, 6)
_DEFAULT_MINUTES = 30
_FIRST_LESSONS = 2
_SECONDS_A_SWING = {"slow": 25, "easy": 20, "full": 30, None: 20}
_REHEARSALS, _MIXED, _FEW, _SPEED = 5, 10, 4, 5


@dataclass(frozen=True)
class Limits:
    """The ceilings of one week: swings on a day, swings in the week, days, minutes on a day."""

    swings_a_day: int
    swings_a_week: int
    days: int
    minutes: int


def limits_of(
    stage: Stage,
    load: Load,
    time: PracticeTime | None,
    rules: PracticeRules,
    growth: GrowthStage | None = None,
) -> Limits:
    """The ceilings for a student: by stage and growth, and by the mean of the last four logged weeks, where there are
    any."""
    of_stage = [c for c in rules.ceilings if c.stage == stage and c.growth in (None, growth)]
    ceiling = max(of_stage, key=lambda c: c.growth is not None)
    if load.mean_of_last_four is None:
        week = rules.rise.unlogged
    else:
        week = max(rules.rise.always, int(rules.rise.allowed * load.mean_of_last_four))
    return Limits(
        ceiling.swings_a_day,
        min(week, ceiling.swings_a_day * ceiling.days),
        ceiling.days,
        time.minutes if time else _DEFAULT_MINUTES,
    )


def phase_of(
    priorities: Sequence[Priority], findings: Mapping[str, Finding], lessons: int, given: Sequence[GivenDrill] = ()
) -> Phase:
    """How far the first thing to work on has come: new, settling once it really moved, settled when it is in range.

    Without anything to work on everything is new in the first `lessons`; later what is in range counts as settled, but
    where a drill is `given` for a count of which not all were made.
    """
    if not priorities:
        if lessons <= _FIRST_LESSONS:
            return "new"
        if any(one.reason is not None and one.reason.kind == "count" for one in given):
            return "settling"
        return "settled" if any(f.verdict == "in range" for f in findings.values()) else "settling"
    finding = findings[priorities[0].metric]
    if finding.verdict == "in range":
        return "settled"
    course = finding.course
    if course is None or course.rung == "no change we can see":
        return "new"
    return "settling" if course.movement == "moved toward the range" else "new"


def within_a_day(given: Sequence[GivenDrill], limits: Limits, drills: Mapping[str, Drill]) -> tuple[GivenDrill, ...]:
    """The drills, none with a dose of more swings than a day may have. Turns without a club are no swings."""
    kept = []
    for entry in given:
        most = limits.swings_a_day if drills[entry.drill].swings != "none" else None
        dose = next((d for d in smaller(entry.dose) if most is None or d.swings <= most), entry.dose)
        kept.append(entry.model_copy(update={"dose": dose}))
    return tuple(kept)


class Practice(NamedTuple):
    """What full swings are practised by: the drills that there are, what stands against them, the phase of learning
    and the longest warm-up in minutes."""

    drills: Mapping[str, Drill]
    standing: Standing
    phase: Phase
    warm_up: int


def practice_week(
    given: Sequence[GivenDrill], practice: Practice, limits: Limits, days: Sequence[date]
) -> tuple[PracticeWeek | None, tuple[GivenDrill, ...]]:
    """Practice on these days after a lesson, and the drills with the dose that each of their days has; no week where
    nothing can be done.

    Each day begins with a warm-up, goes on slowly, then to the drills in blocks, which change places from day to day
    once the movement settles. What settles is mixed with other clubs, and swings at speed come last, where they may
    come at all. Drills that find no room on one day have days of their own; a day that would go beyond its ceilings
    loses its last parts first, then repetitions. Nothing stands in it that a caution forbids.
    """
    if not given or not days:
        return None, tuple(given)
    may = [one for one in given if allowed(asked_by_drill(practice.drills[one.drill]), practice.standing)]
    share = replace(limits, swings_a_day=min(limits.swings_a_day, limits.swings_a_week // len(days)))
    slow = _slow(given[0].drill, practice)
    before = share.minutes - longest_warm_up(practice.warm_up, share.minutes)
    room = Room(before, share.swings_a_day)
    slow = slow if slow and room.holds(slow) else None
    room = room.without(slow) if slow else room
    blocks = room if practice.phase == "new" else Room(room.minutes, room.swings // 2)
    groups = in_groups(may, blocks, len(days), lambda entry, dose: _block(entry, dose, practice.drills))
    made = []
    for number, day in enumerate(days):
        group = groups[number % len(groups)] if groups else []
        order = group if practice.phase == "new" or number % 2 == 0 else group[::-1]
        opening = [slow.model_copy(update={"drill": (order[0] if order else slow).drill})] if slow else []
        items = [*opening, *order, *_after(order, room, practice)]
        if items:
            begin = warm_up(practice.warm_up, share.minutes, items, practice.standing)
            made.append(PracticeDay(day=day, items=(begin, *items)))
    week = PracticeWeek(
        days=tuple(made),
        phase=practice.phase,
        swings_a_day_at_most=limits.swings_a_day,
        swings_a_week_at_most=limits.swings_a_week,
    )
    return (week if made else None), with_doses(given, groups)


def practice_days(lesson_day: date, time: PracticeTime | None, most: int) -> list[date]:
    """The days of the week after the lesson that the student has, at most `most`; three days spread out by default."""
    week = [lesson_day + timedelta(days=gap) for gap in range(1, 8)]
    if time is None:
        return [lesson_day + timedelta(days=gap) for gap in _DEFAULT_GAPS][:most]
    return [day for day in week if _WEEKDAYS[day.weekday()] in time.days][:most]


@dataclass(frozen=True)
class Room:
    """Minutes and swings that are left on a day; of putts and short shots, strokes in the place of swings."""

    minutes: int
    swings: int

    def holds(self, item: PracticeItem) -> bool:
        return item.minutes <= self.minutes and item.swings + item.strokes <= self.swings

    def without(self, *items: PracticeItem) -> "Room":
        minutes = self.minutes - sum(item.minutes for item in items)
        return Room(minutes, self.swings - sum(item.swings + item.strokes for item in items))


Groups = list[list[PracticeItem]]
"""The blocks of one day, and of others where not all find room on one."""


def in_groups(
    given: Sequence[GivenDrill], room: Room, days: int, block: Callable[[GivenDrill, Dose], PracticeItem]
) -> Groups:
    """Each drill with as much of its dose as a day has room for (fewer sets, then fewer repetitions), in the order
    given. One that a day has less than half of its dose left for begins another day, as long as there are `days`; one
    that no day has room for is left out."""
    groups: Groups = []
    left = Room(0, 0)
    for entry in given:
        items = [block(entry, dose) for dose in smaller(entry.dose)]
        beside = next((item for item in items if left.holds(item)), None)
        alone = next((item for item in items if room.holds(item)), None)
        if beside is not None and (len(groups) == days or 2 * beside.minutes >= items[0].minutes):
            groups[-1].append(beside)
            left = left.without(beside)
        elif alone is not None and len(groups) < days:
            groups.append([alone])
            left = room.without(alone)
    return groups


def with_doses(given: Sequence[GivenDrill], groups: Groups) -> tuple[GivenDrill, ...]:
    """The drills with the dose that the week has of each."""
    doses = {item.drill: item.dose for group in groups for item in group}
    return tuple(entry.model_copy(update={"dose": doses.get(entry.drill) or entry.dose}) for entry in given)


def longest_warm_up(most: int, minutes: int) -> int:
    """The minutes that are kept for a warm-up on a day of so many: at most a quarter of them."""
    return min(most, max(1, minutes // 4))


def warm_up(most: int, minutes: int, items: Sequence[PracticeItem], standing: Standing) -> PracticeItem:
    """The warm-up before these items, at most a quarter of the day's minutes together with them; without a club where
    none may be swung."""
    rest = sum(item.minutes for item in items)
    long = max(1, min(longest_warm_up(most, minutes), rest // 3))
    without = PracticeItem(kind="warm-up", drill=None, minutes=long, swings=0)
    return first_allowed([without.model_copy(update={"swing": "small"})], standing, {}) or without


def _slow(drill: str, practice: Practice) -> PracticeItem | None:
    """Slow swings without a ball; small ones where the others may not be."""
    forms = [
        PracticeItem(kind="slow", drill=drill, minutes=2, swings=_REHEARSALS, swing=swing)
        for swing in ("full", "small")
    ]
    return first_allowed(forms, practice.standing, practice.drills)


def _after(blocks: Sequence[PracticeItem], room: Room, practice: Practice) -> Iterator[PracticeItem]:
    """What comes after the blocks of a day, within its room and as far as it may come: balls with other clubs, then
    swings at speed."""
    left = room.without(*blocks)
    if practice.phase != "new":
        mixed = first_allowed(_mixed(left.swings), practice.standing, practice.drills)
        if mixed is not None and mixed.balls >= _FEW and left.holds(mixed):
            yield mixed
            left = left.without(mixed)
    fast = PracticeItem(kind="speed", drill=None, minutes=4, swings=_SPEED, swing="full", driver=True)
    speed = first_allowed([fast], practice.standing, practice.drills)
    if practice.phase == "settled" and speed is not None and left.holds(speed):
        yield speed


def _mixed(swings: int) -> list[PracticeItem]:
    """Balls with other clubs within so many swings: with all clubs, without the driver, with small swings. A practice
    swing goes before each ball, but before small ones."""
    balls, small = min(_MIXED, swings // 2), min(_MIXED, swings)
    minutes = max(2, 2 * balls * _SECONDS_A_SWING[None] // 60)
    full = PracticeItem(kind="mixed", drill=None, minutes=minutes, swings=2 * balls, balls=balls, swing="full")
    low = {"swing": "small", "balls": small, "swings": small, "minutes": max(2, small // 2)}
    return [full.model_copy(update={"driver": True}), full, full.model_copy(update=low)]


def _block(entry: GivenDrill, dose: Dose, drills: Mapping[str, Drill]) -> PracticeItem:
    minutes = dose.minutes or max(1, round(dose.swings * _SECONDS_A_SWING[dose.pace] / 60))
    swing = drills[entry.drill].swings
    swings = 0 if swing == "none" else dose.swings
    return PracticeItem(kind="block", drill=entry.drill, dose=dose, minutes=minutes, swings=swings, swing=swing)


def smaller(dose: Dose) -> Iterator[Dose]:
    """The dose and every smaller one, the nearest first."""
    if dose.minutes is not None:
        yield from (Dose(minutes=m) for m in range(dose.minutes, 1, -1))
        return
    sets, reps = dose.sets or 1, dose.reps or 1
    yield from (Dose(sets=s, reps=reps, pace=dose.pace) for s in range(sets, 0, -1))
    yield from (Dose(sets=1, reps=r, pace=dose.pace) for r in range(reps - 1, 2, -1))
