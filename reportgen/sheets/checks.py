"""What a sheet alone cannot know: whether its names, units, files and dates agree with the rest of the academy."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path, PurePosixPath

from reportgen.records.academy import Student
from reportgen.records.content import Metric
from reportgen.records.lesson import Lesson, TypedReading
from reportgen.records.units import UNITS, convertible
from reportgen.sheets.library import Library
from reportgen.sheets.pictures import picture_fault
from reportgen.sheets.problems import Problem, nearest
from reportgen.sheets.reading import Sheet

_SENSIBLE = {
    "angle": (-180.0, 180.0, "deg"),
    "length": (-3.0, 3.0, "m"),
    "speed": (0.0, 150.0, "m/s"),
    "ratio": (0.0, 20.0, "1"),
    "time": (0.0, 60.0, "s"),
    "mass": (0.0, 300.0, "kg"),
}
"""Outside these limits a reading is a slip of the pen, whatever the swing."""


def student_problems(sheet: Sheet[Student], library: Library) -> Iterator[Problem]:
    """What is wrong in a student file whose record is sound by itself."""
    for number, target in enumerate(sheet.record.targets):
        metric = library.metrics.get(target.metric)
        if metric is None:
            yield _unknown_metric(sheet, ("targets", number, "metric"), target.metric, library)
        elif not convertible(target.unit, metric.unit):
            yield _wrong_unit(sheet, ("targets", number, "unit"), target.unit, metric)
    heights = [(measured.date, number) for number, measured in enumerate(sheet.record.growth)]
    for (day, number), (earlier, _) in zip(heights[1:], heights, strict=False):
        if day <= earlier:
            yield sheet.problem(
                ("growth", number, "date"), "the measurements are not in order", "Put the oldest first."
            )
    leave = sheet.record.pictures
    if leave is not None and leave.withdrawn_on is not None and leave.withdrawn_on < leave.given_on:
        loc = ("pictures", "withdrawn_on")
        yield sheet.problem(loc, "the leave was taken back before it was given", "Look at both dates.")


def lesson_problems(
    sheet: Sheet[Lesson],
    student_id: str,
    name: str,
    student: Student | None,
    file: Path,
    root: Path,
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
    yield from _reading_problems(sheet, library)
    for number, choice in enumerate(lesson.drills):
        if choice.drill not in library.drills:
            loc = ("drills", number, "drill")
            yield sheet.problem(loc, f"the drill {choice.drill!r} is not known", nearest(choice.drill, library.drills))
    for number, priority in enumerate(lesson.priorities):
        if priority not in library.metrics:
            yield _unknown_metric(sheet, ("priorities", number), priority, library)
        elif priority not in {reading.metric for reading in lesson.readings}:
            wrong = f"the priority {priority} was not measured in this lesson"
            yield sheet.problem(("priorities", number), wrong, "Give it a reading, or take it out.")
    for number, practised in enumerate(lesson.practice_log):
        if practised.date > lesson.date:
            loc = ("practice_log", number, "date")
            yield sheet.problem(loc, "the practice is after the lesson", "Log it in the next lesson's sheet.")
    for number, still in enumerate(lesson.stills):
        if fault := _file_fault(still.file, file.parent, root):
            yield sheet.problem(("stills", number, "file"), fault[0], fault[1])


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
        yield from _value_problems(sheet, loc, reading)
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


def _value_problems(sheet: Sheet[Lesson], loc: tuple[str | int, ...], reading: TypedReading) -> Iterator[Problem]:
    dimension = UNITS[reading.unit].dimension
    low, high, unit = _SENSIBLE[dimension]
    factor = float(UNITS[unit].factor / UNITS[reading.unit].factor)
    if reading.unit == "%":
        low, high, factor, unit = 0.0, 100.0, 1.0, "%"
    values = [((*loc, "value"), reading.value)] if reading.value is not None else []
    values += [((*loc, "trials", number), value) for number, value in enumerate(reading.trials or ())]
    for at, value in values:
        if value is not None and not low * factor <= value <= high * factor:
            wrong = f"{value:g} {reading.unit} cannot be right for {reading.metric}"
            yield sheet.problem(at, wrong, f"Look at the number and its unit ({low:g} to {high:g} {unit}).")


def _unknown_metric(
    sheet: Sheet[Lesson] | Sheet[Student], loc: tuple[str | int, ...], written: str, library: Library
) -> Problem:
    return sheet.problem(loc, f"the metric {written!r} is not known", nearest(written, library.metrics))


def _wrong_unit(
    sheet: Sheet[Lesson] | Sheet[Student], loc: tuple[str | int, ...], written: str, metric: Metric
) -> Problem:
    if written not in UNITS:
        return sheet.problem(loc, f"the unit {written!r} is not known", nearest(written, UNITS))
    fitting = [unit for unit in UNITS if convertible(unit, metric.unit)]
    return sheet.problem(loc, f"{metric.id} is not measured in {written}", f"Write one of {', '.join(fitting)}.")


def _file_fault(written: str, folder: Path, root: Path) -> tuple[str, str] | None:
    if PurePosixPath(written).is_absolute() or "\\" in written:
        return "the picture's path is not relative to the sheet", "Write it as ../stills/name.png."
    try:
        file = (folder / written).resolve()
        inside = file.is_relative_to(root.resolve())
    except (OSError, ValueError, RuntimeError):
        return "the picture's path cannot be followed", "Write it as ../stills/name.png."
    if not inside:
        return "the picture lies outside the academy", "Put it into the student's folder stills."
    return picture_fault(file)
