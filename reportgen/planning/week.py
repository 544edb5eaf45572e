"""The practice week: which days, in which order, how many swings, never more than the ceilings allow."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from reportgen.judging.load import Load
from reportgen.records.academy import PracticeTime
from reportgen.records.amounts import Dose
from reportgen.records.findings import Finding
from reportgen.records.practice import Phase, PracticeRules
from reportgen.records.practice_week import PracticeDay, PracticeItem, PracticeWeek
from reportgen.records.report import DeskRemark, GivenDrill, Priority
from reportgen.records.words import GrowthStage, Stage, Weekday

_WEEKDAYS: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DEFAULT_GAPS = (2, 4, 6)
_DEFAULT_MINUTES = 30
_FIRST_LESSONS = 2
_SECONDS_A_SWING = {"slow": 25, "easy": 20, "full": 30, None: 20}
_REHEARSALS, _MIXED, _FEW, _SPEED = 5, 12, 4, 5


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


def phase_of(priorities: Sequence[Priority], findings: Mapping[str, Finding], lessons: int) -> Phase:
    """How far the first thing to work on has come: new, settling once it really moved, settled when it is in range.

    Without anything to work on everything is new in the first `lessons`; later what is in range counts as settled.
    """
    if not priorities:
        if lessons <= _FIRST_LESSONS:
            return "new"
        return "settled" if any(f.verdict == "in range" for f in findings.values()) else "settling"
    finding = findings[priorities[0].metric]
    if finding.verdict == "in range":
        return "settled"
    course = finding.course
    if course is None or course.rung == "no change we can see":
        return "new"
    return "settling" if course.movement == "moved toward the range" else "new"


def within_a_day(given: Sequence[GivenDrill], limits: Limits) -> tuple[tuple[GivenDrill, ...], list[DeskRemark]]:
    """The drills, none with a dose of more swings than a day may have, and a remark for the desk on each cut one."""
    kept, remarks = [], []
    for entry in given:
        dose = next((d for d in smaller(entry.dose) if d.swings <= limits.swings_a_day), entry.dose)
        kept.append(entry.model_copy(update={"dose": dose}))
        if dose != entry.dose:
            cut = {"dose": entry.dose, "cut_to": dose, "swings_a_day": limits.swings_a_day}
            remarks.append(DeskRemark(code="dose cut", drill=entry.drill, **cut))
    return tuple(kept), remarks


def practice_week(
    given: Sequence[GivenDrill],
    phase: Phase,
    limits: Limits,
    days: Sequence[date],
    warm_up: int,
    *,
    speed_allowed: bool,
) -> PracticeWeek | None:
    """Practice on these days after a lesson, each with a warm-up of so many minutes; None where no drill was given.

    Each day begins with a warm-up, goes on slowly, then to the drills in blocks, which change places from day to day
    once the movement settles. What settles is mixed with other clubs, and swings at speed come last, where they may
    come at all. A day that would go beyond its ceilings loses its last parts first, then repetitions.
    """
    if not given:
        return None
    left = limits.swings_a_week
    made = []
    for number, day in enumerate(days):
        share = replace(limits, swings_a_day=min(limits.swings_a_day, left // (len(days) - number)))
        order = list(given) if phase == "new" or number % 2 == 0 else list(reversed(given))
        items = _session(order, phase, share, warm_up, speed_allowed=speed_allowed)
        made.append(PracticeDay(day=day, items=tuple(items)))
        left -= made[-1].swings
    return PracticeWeek(
        days=tuple(made),
        phase=phase,
        swings_a_day_at_most=limits.swings_a_day,
        swings_a_week_at_most=limits.swings_a_week,
    )


def practice_days(lesson_day: date, time: PracticeTime | None, most: int) -> list[date]:
    """The days of the week after the lesson that the student has, at most `most`; three days spread out by default."""
    week = [lesson_day + timedelta(days=gap) for gap in range(1, 8)]
    if time is None:
        return [lesson_day + timedelta(days=gap) for gap in _DEFAULT_GAPS][:most]
    return [day for day in week if _WEEKDAYS[day.weekday()] in time.days][:most]


def _session(
    order: Sequence[GivenDrill], phase: Phase, limits: Limits, warm_up: int, *, speed_allowed: bool
) -> list[PracticeItem]:
    """One day within its minutes and swings, with the drills in their `order`."""
    minutes, swings = limits.minutes, limits.swings_a_day
    warm_up = min(warm_up, max(5, minutes // 2))
    items = [PracticeItem(kind="warm-up", drill=None, minutes=warm_up, swings=0)]

    def add(item: PracticeItem | None) -> None:
        nonlocal minutes, swings
        if item is not None and item.minutes <= minutes and item.swings <= swings:
            items.append(item)
            minutes -= item.minutes
            swings -= item.swings

    minutes -= warm_up
    add(PracticeItem(kind="slow", drill=order[0].drill, minutes=2, swings=_REHEARSALS))
    for_blocks = swings if phase == "new" else swings // 2
    for entry in order:
        before = swings
        add(_cut(entry, minutes, min(swings, for_blocks)))
        for_blocks -= before - swings
    if phase != "new":
        add(_mixed(min(_MIXED, swings)))
    if phase == "settled" and speed_allowed:
        add(PracticeItem(kind="speed", drill=None, minutes=4, swings=_SPEED))
    return items


def _mixed(balls: int) -> PracticeItem | None:
    if balls < _FEW:
        return None
    return PracticeItem(kind="mixed", drill=None, minutes=max(2, balls // 2), swings=balls)


def _block(entry: GivenDrill, dose: Dose) -> PracticeItem:
    minutes = dose.minutes or max(1, round(dose.swings * _SECONDS_A_SWING[dose.pace] / 60))
    return PracticeItem(kind="block", drill=entry.drill, dose=dose, minutes=minutes, swings=dose.swings)


def _cut(entry: GivenDrill, minutes: int, swings: int) -> PracticeItem | None:
    """The drill with as much of its dose as fits: fewer sets, then fewer repetitions; None where nothing does."""
    items = (_block(entry, dose) for dose in smaller(entry.dose))
    return next((item for item in items if item.swings <= swings and item.minutes <= minutes), None)


def smaller(dose: Dose) -> Iterator[Dose]:
    """The dose and every smaller one, the nearest first."""
    if dose.minutes is not None:
        yield from (Dose(minutes=m) for m in range(dose.minutes, 1, -1))
        return
    sets, reps = dose.sets or 1, dose.reps or 1
    yield from (Dose(sets=s, reps=reps, pace=dose.pace) for s in range(sets, 0, -1))
    yield from (Dose(sets=1, reps=r, pace=dose.pace) for r in range(reps - 1, 2, -1))
