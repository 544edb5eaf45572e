"""A new lesson sheet, pre-filled from the last one."""

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.pipeline import alongside, reports_of
from reportgen.records.lesson import Lesson, TypedReading
from reportgen.sheets.academy_folder import AcademyFolder, sound

FOR_EDITORS = "# yaml-language-server: $schema=../../../schemas/lesson.json"
"""The first line of a sheet in an academy that carries the schemas: with it some editors complete and check it."""


def begin_sheet(folder: AcademyFolder, student: str, on: date) -> Path:
    """Write `students/<student>/lessons/<on>.yaml` with last time's metrics, values left open. Never overwrites: a
    second lesson that day gets the name `<on>-2.yaml`. Raises ReportgenError where that is there too, or where a sheet
    of that day would be refused."""
    known = folder.students[student].student
    if not 1900 <= on.year < 2100 or (known is not None and on <= known.born):
        raise ReportgenError(f"{on} cannot be the day of a lesson of {student}. Look at its year.")
    lessons = folder.root / "students" / student / "lessons"
    lessons.mkdir(exist_ok=True)
    last = folder.students[student].lessons
    followed = known.follow if known is not None else ()
    next_on = on + timedelta(days=folder.academy.lesson_every if folder.academy else 7)
    text = _sheet(student, on, next_on, last[-1].lesson if last else None, followed, _worked_on(folder, student))
    if (folder.root / "schemas" / "lesson.json").is_file():
        text = f"{FOR_EDITORS}\n{text}"
    for name in (f"{on}.yaml", f"{on}-2.yaml"):
        try:
            with (lessons / name).open("x", encoding="utf-8") as sheet:
                sheet.write(text)
        except FileExistsError:
            continue
        return lessons / name
    raise ReportgenError(f"{lessons / f'{on}.yaml'} and its second are there already. Edit one of them.")


def _worked_on(folder: AcademyFolder, student: str) -> tuple[str, ...]:
    """The metrics that the last lesson asked to work on; none where it cannot be judged."""
    known = folder.students[student]
    if folder.academy is None or folder.shared_problems or known.problems or not known.lessons:
        return ()
    last = reports_of(known, sound(folder), alongside(known, folder))[-1]
    return tuple(priority.metric for priority in last.priorities)


def _sheet(
    student: str, on: date, next_on: date, last: Lesson | None, followed: Sequence[str], worked_on: Sequence[str]
) -> str:
    lines = [f"student: {student}", f"date: {on}", f"club: {last.club if last else '7-iron'}", "focus:"]
    if last and last.follow:
        lines.append(f"follow: [{', '.join(last.follow)}]")
    elif worked_on and not followed:
        lines.append(f"# follow: [{', '.join(worked_on)}]  # followed unless you name others")
    lines.append("readings:")
    if last and last.readings:
        lines.append(f"  # the metrics of {last.date}; fill in the values, take out what you did not measure")
        first = last.follow or followed or worked_on
        lines += [f"  {_reading(reading)}" for reading in sorted(last.readings, key=lambda r: r.metric not in first)]
    else:
        lines.append("  # - {metric: pelvis-open-impact, value: 45, unit: deg, how: by-eye}")
    if last and last.stills:
        lines.append(f"# stand: {last.stand or 'kept'}  # where the cameras stand on the same marks as before")
    lines += [
        "drills:",
        "  # leave empty for the plan's own proposal" + _given(last),
        "comfort:",
        "  # - {site: low-back, score: 0, when: after}",
        "practice_log:",
        f"  # - {{date: {on}, minutes: 30, swings: 60}}",
        f"# next_lesson: {{date: {next_on}, time: '17:00'}}",
        "# notes: |",
        "#   What you say to the student, in Markdown.",
    ]
    return "\n".join(lines) + "\n"


def _reading(reading: TypedReading) -> str:
    views = ", views: 2" if reading.views == 2 else ""
    value = "trials: []" if reading.trials else "value: "
    return f"- {{metric: {reading.metric}, {value}, unit: '{reading.unit}', how: {reading.how}{views}}}"


def _given(last: Lesson | None) -> str:
    return f"; last time: {', '.join(c.drill for c in last.drills)}" if last and last.drills else ""
