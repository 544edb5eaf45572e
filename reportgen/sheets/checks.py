"""What a sheet alone cannot know: whether its names, units, files and dates agree with the rest of the academy."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from reportgen.records.academy import ADULT_FROM, Consent, Student
from reportgen.records.content import Metric
from reportgen.records.lesson import ColumnOf, Lesson, TypedReading
from reportgen.records.units import UNITS, convertible
from reportgen.sheets.growth_checks import growth_problems
from reportgen.sheets.library import Library
from reportgen.sheets.problems import Problem, nearest
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Loc

_SENSIBLE = {
    "angle": (-180.0, 180.0, "deg"),
    "length": (-3.0, 3.0, "m"),
    "speed": (1.0, 150.0, "m/s"),
    "ratio": (0.0, 20.0, "1"),
    "time": (0.0, 60.0, "s"),
    "mass": (0.0, 300.0, "kg"),
}
"""Outside these limits a reading is a slip of the pen, whatever the swing."""


def student_problems(sheet: Sheet[Student], library: Library) -> Iterator[Problem]:
    """What is wrong in a student file whose record is sound by itself."""
    aimed: set[str] = set()
    for number, target in enumerate(sheet.record.targets):
        if target.metric in aimed:
            wrong = f"{target.metric} has a target already"
            yield sheet.problem(("targets", number, "metric"), wrong, "Keep one of the two.")
        aimed.add(target.metric)
        metric = library.metrics.get(target.metric)
        if metric is None:
            yield _unknown_metric(sheet, ("targets", number, "metric"), target.metric, library)
        elif not convertible(target.unit, metric.unit):
            yield _wrong_unit(sheet, ("targets", number, "unit"), target.unit, metric)
    yield from growth_problems(sheet)
    leave = sheet.record.pictures
    if leave is not None and leave.withdrawn_on is not None and leave.withdrawn_on < leave.given_on:
        loc = ("pictures", "withdrawn_on")
        yield sheet.problem(loc, "the leave was taken back before it was given", "Look at both dates.")
    if leave is not None and _by_the_minor(sheet.record, leave):
        wrong = "the student was under 18 and gave the leave themselves"
        mend = "Write the parent or guardian who gave it, or take pictures out."
        yield sheet.problem(("pictures", "given_by"), wrong, mend)


def _by_the_minor(student: Student, leave: Consent) -> bool:
    own = {student.name.casefold(), student.first_name.casefold()}
    return student.age_on(leave.given_on) < ADULT_FROM and leave.given_by.casefold() in own


def lesson_problems(
    sheet: Sheet[Lesson],
    student_id: str,
    name: str,
    student: Student | None,
    library: Library,
) -> Iterator[Problem]:
    """What is wrong in a lesson sheet whose record is sound by itself. `name` is that of its file."""
    lesson = sheet.record
    if lesson.student != student_id:
        wrong = f"the sheet names the student {lesson.student!r} and lies in the folder of {student_id!r}"
        yield sheet.problem(("student",), wrong, f"Write student: {student_id}, or move the sheet.")
    if lesson.date != date.fromisoformat(name[:10]):
        wrong = f"the sheet says {lesson.date} and its file is named {name}"
        yield sheet.problem(("date",), wrong, f"Write date: {name[:10]}, or rename the file.")
    if student is not None and lesson.date <= student.born:
        yield sheet.problem(("date",), "the lesson is before the student was born", "Look at born in student.yaml.")
    if lesson.cleared is not None and lesson.cleared.on > lesson.date:
        wrong = "the clearance is dated after the lesson"
        yield sheet.problem(("cleared", "on"), wrong, "Write the day on which the clinician gave it.")
    yield from _reading_problems(sheet, library)
    for number, choice in enumerate(lesson.drills):
        if choice.drill not in library.drills:
            loc = ("drills", number, "drill")
            yield sheet.problem(loc, f"the drill {choice.drill!r} is not known", nearest(choice.drill, library.drills))
    for number, priority in enumerate(lesson.priorities):
        if priority in lesson.priorities[:number]:
            yield sheet.problem(("priorities", number), f"the priority {priority} stands here already", "Keep one.")
        elif priority not in library.metrics:
            yield _unknown_metric(sheet, ("priorities", number), priority, library)
        elif not lesson.stills and not lesson.readings_from and priority not in _measured(lesson):
            wrong = f"the priority {priority} was not measured in this lesson"
            yield sheet.problem(("priorities", number), wrong, "Give it a reading, or take it out.")
    for number, practised in enumerate(lesson.practice_log):
        if practised.date > lesson.date:
            loc = ("practice_log", number, "date")
            yield sheet.problem(loc, "the practice is after the lesson", "Log it in the next lesson's sheet.")


def _measured(lesson: Lesson) -> set[str]:
    """The metrics that a sheet without stills and export gives: typed in, or following from what is."""
    typed = {reading.metric for reading in lesson.readings}
    tempo = {"tempo-ratio"} if lesson.tempo else set()
    return typed | tempo | ({"speed-ratio"} if {"ball-speed", "clubhead-speed"} <= typed else set())


def _reading_problems(sheet: Sheet[Lesson], library: Library) -> Iterator[Problem]:
    seen: dict[str, int] = {}
    for number, reading in enumerate(sheet.record.readings):
        loc = ("readings", number)
        metric = library.metrics.get(reading.metric)
        if metric is None:
            yield _unknown_metric(sheet, (*loc, "metric"), reading.metric, library)
            continue
        if reading.metric in seen:
            first = sheet.tree.place(("readings", seen[reading.metric]))[0]
            wrong = f"{reading.metric} has a reading already (line {first})"
            yield sheet.problem((*loc, "metric"), wrong, "Put several swings into one reading: trials: [1, 2, 3].")
        seen.setdefault(reading.metric, number)
        if not convertible(reading.unit, metric.unit):
            yield _wrong_unit(sheet, (*loc, "unit"), reading.unit, metric)
            continue
        yield from _value_problems(sheet, loc, reading, metric)
        if reading.u is None and default_u(metric, reading.how, reading.views) is None:
            wrong = f"{reading.metric} cannot be taken {_TAKEN[reading.how]}"
            yield sheet.problem((*loc, "how"), wrong, f"Known ways: {', '.join(_ways(metric))}; or give its own u.")


def default_u(metric: Metric, how: str, views: int) -> float | None:
    """The metric's own standard uncertainty for a way of taking it, in its unit; None where it has none."""
    figures = metric.uncertainty
    if how == "still":
        return figures.two_views if views == 2 else figures.one_view
    return figures.by_eye if how == "by-eye" else figures.sensor


_TAKEN = {"by-eye": "by eye", "still": "from so many pictures", "sensor": "by a sensor"}


def _ways(metric: Metric) -> list[str]:
    figures = metric.uncertainty
    ways = {
        "how: by-eye": figures.by_eye,
        "how: still": figures.one_view,
        "how: still with views: 2": figures.two_views,
        "how: sensor": figures.sensor,
    }
    return [way for way, u in ways.items() if u is not None]


def _value_problems(sheet: Sheet[Lesson], loc: Loc, reading: TypedReading, metric: Metric) -> Iterator[Problem]:
    values = [((*loc, "value"), reading.value)] if reading.value is not None else []
    values += [((*loc, "trials", number), value) for number, value in enumerate(reading.trials or ())]
    for at, value in values:
        if (fault := value_fault(value, reading.unit, metric)) is not None:
            yield sheet.problem(at, *fault)


def value_fault(value: float, unit: str, metric: Metric) -> tuple[str, str] | None:
    """(what is wrong, how to mend it) of a value that no swing gives; None where it may be right."""
    low, high, limits_unit = _SENSIBLE[UNITS[unit].dimension]
    if metric.unit in ("%", "percent"):
        low, high, limits_unit = 0.0, 100.0, "%"
    factor = float(UNITS[limits_unit].factor / UNITS[unit].factor)
    if low * factor <= value <= high * factor:
        return None
    written = f"{value:g}" if unit == "1" else f"{value:g} {unit}"
    mend = f"Look at the number and its unit ({low:g} to {high:g} {limits_unit})."
    return f"{written} cannot be right for {metric.id}", mend


def column_problems(sheet: Sheet[Any], at: Loc, columns: Mapping[str, ColumnOf], library: Library) -> Iterator[Problem]:
    """What is wrong in a map of metrics to the columns of a sensor's export."""
    for name, column in columns.items():
        metric = library.metrics.get(name)
        if metric is None:
            mend = nearest(name, library.metrics)
            yield sheet.problem((*at, name), f"the metric {name!r} is not known", mend, key=True)
        elif not convertible(column.unit, metric.unit):
            yield _wrong_unit(sheet, (*at, name, "unit"), column.unit, metric)
        elif column.u is None and metric.uncertainty.sensor is None:
            yield sheet.problem((*at, name), f"{name} has no uncertainty for a sensor", "Give it: u: 0.5", key=True)


def _unknown_metric(sheet: Sheet[Any], loc: Loc, written: str, library: Library) -> Problem:
    return sheet.problem(loc, f"the metric {written!r} is not known", nearest(written, library.metrics))


def _wrong_unit(sheet: Sheet[Any], loc: Loc, written: str, metric: Metric) -> Problem:
    if written not in UNITS:
        return sheet.problem(loc, f"the unit {written!r} is not known", nearest(written, UNITS))
    fitting = [unit for unit in UNITS if convertible(unit, metric.unit)]
    return sheet.problem(loc, f"{metric.id} is not measured in {written}", f"Write one of {', '.join(fitting)}.")
