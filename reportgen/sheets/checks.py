"""What a sheet alone cannot know: whether its names, units, files and dates agree with the rest of the academy."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from reportgen.records.academy import ADULT_FROM, Academy, Consent, Student
from reportgen.records.bounds import SLOWEST_SWING, SPANS
from reportgen.records.content import Metric
from reportgen.records.lesson import Lesson, Tempo, TypedReading
from reportgen.records.tables import ColumnOf
from reportgen.records.units import UNITS, convertible
from reportgen.sheets.aim_checks import next_lesson_problems, round_problems
from reportgen.sheets.drill_test_checks import count_problems
from reportgen.sheets.growth_checks import growth_problems
from reportgen.sheets.kind_checks import kind_problems
from reportgen.sheets.library import Library
from reportgen.sheets.plausible import limit_fault, u_fault, value_fault
from reportgen.sheets.problems import Problem, nearest, nearest_unit, shown
from reportgen.sheets.reading import Sheet
from reportgen.sheets.setup_checks import setup_problems
from reportgen.sheets.shot_checks import shot_problems
from reportgen.sheets.tree import Loc


def student_problems(sheet: Sheet[Student], library: Library, today: date | None) -> Iterator[Problem]:
    """What is wrong in a student file whose record is sound by itself; `today` is None where academy.yaml does not say
    where the academy is."""
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
        else:
            for side in ("low", "high"):
                limit = getattr(target, side)
                if limit is not None and (fault := limit_fault(limit, target.unit, metric)) is not None:
                    yield sheet.problem(("targets", number, side), *fault)
    yield from _followed(sheet, sheet.record.follow, library)
    yield from growth_problems(sheet)
    yield from round_problems(sheet, today)
    if sheet.record.pictures is not None:
        yield from _leave_problems(sheet, sheet.record.pictures, today)


def _leave_problems(sheet: Sheet[Student], leave: Consent, today: date | None) -> Iterator[Problem]:
    if leave.withdrawn_on is not None and leave.withdrawn_on < leave.given_on:
        loc = ("pictures", "withdrawn_on")
        yield sheet.problem(loc, "the leave was taken back before it was given", "Look at both dates.")
    if today is not None and leave.given_on > today:
        wrong = "the leave is given on a day that is still to come, so there is none yet"
        yield sheet.problem(("pictures", "given_on"), wrong, "Write the day on which it was given.")
    if _by_the_minor(sheet.record, leave):
        wrong = "the student was under 18 and gave the leave themselves"
        mend = "Write the parent or guardian who gave it, or take pictures out."
        yield sheet.problem(("pictures", "given_by"), wrong, mend)


def mail_problems(sheet: Sheet[Student], academy: Academy | None) -> Iterator[Problem]:
    """What is wrong with how a student's mails are asked for in an academy."""
    if sheet.record.mail.as_ == "notice" and academy is not None and academy.site is None:
        mend = "Add site: https://... to academy.yaml, with the address of your site."
        yield sheet.problem(("mail", "as"), "the notice has no address to give", mend)


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
    yield from next_lesson_problems(sheet)
    yield from kind_problems(sheet, library)
    yield from _reading_problems(sheet, library)
    if lesson.tempo is not None and (fault := _tempo_problem(lesson.tempo)) is not None:
        yield sheet.problem(("tempo",), *fault)
    for number, choice in enumerate(lesson.drills):
        if choice.drill not in library.drills:
            loc = ("drills", number, "drill")
            yield sheet.problem(loc, f"the drill {choice.drill!r} is not known", nearest(choice.drill, library.drills))
    yield from _followed(sheet, lesson.follow, library)
    yield from _set_aside(sheet, library)
    yield from shot_problems(sheet, library)
    yield from setup_problems(sheet, library)
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
        if practised.test is not None:
            yield from count_problems(sheet, ("practice_log", number, "test"), practised.test, library.drills)


def _followed(sheet: Sheet[Any], metrics: Sequence[str], library: Library) -> Iterator[Problem]:
    for number, metric in enumerate(metrics):
        if metric not in library.metrics:
            yield _unknown_metric(sheet, ("follow", number), metric, library)


def _set_aside(sheet: Sheet[Lesson], library: Library) -> Iterator[Problem]:
    for number, metric in enumerate(sheet.record.set_aside):
        if metric not in library.metrics:
            yield _unknown_metric(sheet, ("set_aside", number), metric, library)
        elif metric in sheet.record.priorities:
            yield sheet.problem(
                ("set_aside", number), f"{metric} is a priority of this sheet too", "Keep one of the two."
            )


def _measured(lesson: Lesson) -> set[str]:
    """The metrics that a sheet without stills and export gives: typed in, or following from what is."""
    typed = {reading.metric for reading in lesson.readings}
    tempo = {lesson.tempo_metric} if lesson.tempo else set()
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
    if reading.u is not None and (fault := u_fault(reading.u, reading.unit, metric)) is not None:
        yield sheet.problem((*loc, "u"), *fault)


def _tempo_problem(tempo: Tempo) -> tuple[str, str] | None:
    """What is wrong with the frames of a swing that lasts too long, or whose times no swing has."""
    seconds, ratio = (tempo.impact - tempo.start) / tempo.fps, (tempo.top - tempo.start) / (tempo.impact - tempo.top)
    most = SPANS["ratio"].high
    if seconds > SLOWEST_SWING:
        return f"the swing would last {seconds:.0f} s", f"Look at the frames and at fps (up to {SLOWEST_SWING:g} s)."
    if not 1 / most <= ratio <= most:
        wrong = f"the backswing would last {ratio:.2g} times as long as the downswing"
        return wrong, f"Look at the three frames ({1 / most:g} to {most:g} times)."
    return None


def column_problems(
    sheet: Sheet[Any], at: Loc, columns: Mapping[str, ColumnOf], library: Library, others: Collection[str] = ()
) -> Iterator[Problem]:
    """What is wrong in a map of metrics to the columns of a sensor's export, in which `others` may stand too."""
    for name, column in columns.items():
        metric = library.metrics.get(name)
        if metric is None:
            mend = nearest(name, {*library.metrics, *others})
            yield sheet.problem((*at, name), f"the metric {name!r} is not known", mend, key=True)
        elif column.unit is None:
            yield sheet.problem((*at, name), f"{name} has no unit", f"Add unit: {metric.unit}.", key=True)
        elif not convertible(column.unit, metric.unit):
            yield _wrong_unit(sheet, (*at, name, "unit"), column.unit, metric)
        elif column.u is None and metric.uncertainty.sensor is None:
            yield sheet.problem((*at, name), f"{name} has no uncertainty for a sensor", "Give it: u: 0.5", key=True)
        elif column.u is not None and (fault := u_fault(column.u, column.unit, metric)) is not None:
            yield sheet.problem((*at, name, "u"), *fault)


def _unknown_metric(sheet: Sheet[Any], loc: Loc, written: str, library: Library) -> Problem:
    return sheet.problem(loc, f"the metric {written!r} is not known", nearest(written, library.metrics))


def _wrong_unit(sheet: Sheet[Any], loc: Loc, written: str, metric: Metric) -> Problem:
    if written not in UNITS:
        return sheet.problem(loc, f"the unit {shown(written)!r} is not known", nearest_unit(written, UNITS))
    fitting = [unit for unit in UNITS if convertible(unit, metric.unit)]
    return sheet.problem(loc, f"{metric.id} is not measured in {written}", f"Write one of {', '.join(fitting)}.")
