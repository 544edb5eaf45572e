"""The return after a stop: once somebody is cleared, steps take the place of the ordinary week until they are done.

Nothing moves a student on by itself. The instructor writes the step into the sheet (`return_step`); without a word the
step of the last lesson stays, and `done` ends the return. A week goes on by one step a day, for as long as its own rule
says so (`go_on`), and never promises a date.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from reportgen.judging.judgement import Earlier, Judgement
from reportgen.judging.standing import cleared_on
from reportgen.planning.allowed import Asks, Standing, allowed
from reportgen.planning.week import Limits, longest_warm_up, warm_up
from reportgen.records.lesson import Lesson
from reportgen.records.practice import PracticeRules
from reportgen.records.practice_week import PracticeDay, PracticeItem, PracticeWeek, Returning
from reportgen.records.report import DeskRemark
from reportgen.records.returning import RETURN_STEPS, ReturnDose, ReturnRules, ReturnStep, ReturnStepId
from reportgen.records.safety import SafetyRule
from reportgen.records.words import Activity

MOST_DAYS = 3
"""Days of practice a week in a return (a shoulder clinic's plan, read)."""
_SECONDS = 20
_MINUTES_A_HOLE = 14
_SMALL: frozenset[Activity] = frozenset({"balls", "ground", "swings"})
_ASKS: dict[str, frozenset[Activity]] = {
    "putts": frozenset({"balls", "swings"}),
    "chips": _SMALL,
    "holes": _SMALL | {"full-swings", "driver"},
}
_OFF_A_TEE: frozenset[Activity] = frozenset({"balls", "swings", "full-swings"})


class Way(NamedTuple):
    """Where a return stands: its step, and the day on which the student was cleared."""

    step: ReturnStepId
    cleared_on: date


class Room(NamedTuple):
    """What a week of the return must fit: ceilings, strokes a day, what stands against it, and whether a score holds
    something, so that nothing but putts and chips is planned."""

    limits: Limits
    strokes_a_day: int
    standing: Standing
    small_only: bool


def return_way(lesson: Lesson, before: Sequence[Earlier]) -> Way | None:
    """Where the return after the last stop stands on the day of the lesson; None where there was no stop, where the
    student is not cleared, and where the return is done. `before` are the earlier lessons of all kinds."""
    stops = [number for number, earlier in enumerate(before) if earlier.report.stopped]
    if not stops:
        return None
    since = [*(earlier.lesson for earlier in before[stops[-1] + 1 :]), lesson]
    cleared = next((on for one in since if (on := cleared_on(one)) is not None), None)
    if cleared is None:
        return None
    said = [one.return_step for one in since if one.return_step is not None]
    step = said[-1] if said else RETURN_STEPS[0]
    return None if step == "done" else Way(step, cleared)


def room_for(
    judged: Judgement, standing: Standing, limits: Limits, rules: PracticeRules, safety: Mapping[str, SafetyRule]
) -> Room:
    """What a week must fit beside the cautions that stand."""
    return Room(
        limits,
        rules.small_game.strokes_a_day if rules.small_game else 0,
        standing,
        any(safety[caution.rule].holds and caution.sites for caution in judged.cautions if caution.rule in safety),
    )


def return_week(way: Way, rules: ReturnRules, room: Room, days: Sequence[date], most: int) -> PracticeWeek | None:
    """A week of the return, a step a day, beginning with that of `way`; where that may not stand beside the cautions,
    with the nearest before it that may. None where none may."""
    fitting = [step for step in rules.steps if _fits(step, room)]
    at = RETURN_STEPS.index(way.step)
    first = max((n for n, step in enumerate(fitting) if RETURN_STEPS.index(step.id) <= at), default=None)
    if first is None:
        return None
    chosen = spread(days, rules.rest)[:MOST_DAYS]
    steps = [fitting[min(first + number, _last_in_a_row(fitting, first))] for number in range(len(chosen))]
    made = tuple(PracticeDay(day=day, items=tuple(_day(s, room, most))) for day, s in zip(chosen, steps, strict=True))
    if not made:
        return None
    swings = [day.swings for day in made]
    return PracticeWeek(
        days=made,
        phase="new" if any(swings) else None,
        swings_a_day_at_most=max(swings),
        swings_a_week_at_most=sum(swings),
        strokes_a_day_at_most=max(day.strokes for day in made),
        returning=Returning(step=steps[0].id, cleared_on=way.cleared_on),
    )


def return_remark(way: Way) -> DeskRemark:
    """For the desk: where the return stands, and how it is moved on."""
    return DeskRemark(code="returning", step=way.step, since=way.cleared_on)


def spread(days: Sequence[date], rest: int) -> list[date]:
    """The days, from the first on, without those that come less than `rest` days after one before."""
    kept: list[date] = []
    for day in days:
        if not kept or day - kept[-1] >= timedelta(days=rest):
            kept.append(day)
    return kept


def _last_in_a_row(fitting: Sequence[ReturnStep], first: int) -> int:
    """The last of the fitting steps that is reached from the `first` without leaving one out."""
    last, at = first, RETURN_STEPS.index(fitting[first].id)
    while last + 1 < len(fitting) and RETURN_STEPS.index(fitting[last + 1].id) == at + (last + 1 - first):
        last += 1
    return last


def _fits(step: ReturnStep, room: Room) -> bool:
    asked = Asks(frozenset(what for dose in step.doses for what in _ASKS.get(dose.what, _OFF_A_TEE)))
    small = not room.small_only or not step.swings
    within = step.swings <= room.limits.swings_a_day and step.strokes <= room.strokes_a_day
    return small and within and allowed(asked, room.standing)


def _day(step: ReturnStep, room: Room, most: int) -> Iterator[PracticeItem]:
    """A day of a step within the student's minutes: where these are few, of each part less."""
    minutes = room.limits.minutes
    left = minutes - longest_warm_up(most, minutes)
    asked = sum(_minutes(dose, dose.count) for dose in step.doses)
    share = min(1.0, left / asked) if all(dose.what != "holes" for dose in step.doses) else 1.0
    parts = []
    for number, dose in enumerate(step.doses):
        count = max(1, int(dose.count * share))
        parts.append(
            PracticeItem(
                kind="return",
                drill=None,
                minutes=_minutes(dose, count),
                swings=dose.swings if dose.what == "holes" else count * bool(dose.swings),
                strokes=count if dose.strokes else 0,
                step=step.id,
                part=number,
            )
        )
    yield warm_up(most, minutes, parts, room.standing).model_copy(update={"step": step.id})
    yield from parts


def _minutes(dose: ReturnDose, count: int) -> int:
    return count * _MINUTES_A_HOLE if dose.what == "holes" else max(1, count * _SECONDS // 60)
