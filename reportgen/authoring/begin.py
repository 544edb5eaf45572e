"""A new lesson sheet, pre-filled from the last one."""

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import NamedTuple

from reportgen.errors import ReportgenError
from reportgen.pipeline import alongside, reports_of
from reportgen.planning.asking import ToAsk, to_ask
from reportgen.planning.small_game import SMALL
from reportgen.records.lesson import Lesson, TypedReading
from reportgen.records.practice_week import Returning
from reportgen.records.report import LessonReport
from reportgen.records.returning import next_step
from reportgen.records.setup import Observation
from reportgen.records.shots import SIZES
from reportgen.records.words import LESSON_KINDS, LessonKind
from reportgen.sheets.academy_folder import AcademyFolder, sound

FOR_EDITORS = "# yaml-language-server: $schema=../../../schemas/lesson.json"
"""The first line of a sheet in an academy that carries the schemas: with it some editors complete and check it."""


def begin_sheet(folder: AcademyFolder, student: str, on: date) -> Path:
    """Write the draft `students/<student>/lessons/<on>.yaml` with last time's metrics, values left open. Never
    overwrites: a second lesson that day gets the name `<on>-2.yaml`. Raises ReportgenError where that is there too,
    where there is a draft of that day, or where a sheet of that day would be refused."""
    known = folder.students[student].student
    if not 1900 <= on.year < 2100 or (known is not None and on <= known.born):
        raise ReportgenError(f"{on} cannot be the day of a lesson of {student}. Look at its year.")
    for draft in folder.students[student].drafts:
        if draft.name[:10] == str(on):
            raise ReportgenError(f"{draft.path} is a draft of that day already. Go on with it, or delete it.")
    lessons = folder.root / "students" / student / "lessons"
    lessons.mkdir(exist_ok=True)
    last = folder.students[student].lessons
    followed = known.follow if known is not None else ()
    next_on = on + timedelta(days=folder.academy.lesson_every if folder.academy else 7)
    head = f"student: {student}\ndate: {on}\ndraft: true  # take this line out when the lesson is ready\n"
    report = _last_report(folder, student)
    worked_on = [priority.metric for priority in report.priorities] if report else []
    given = [given.drill for given in report.drills] if report else []
    counted = next((drill for drill in given if folder.library.drills[drill].test), None)
    asked = to_ask(report) if report else ()
    left = _Before(
        followed, worked_on, counted, asked, report.practice.returning if report and report.practice else None
    )
    text = head + _sheet(on, next_on, last[-1].lesson if last else None, left)
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


def _last_report(folder: AcademyFolder, student: str) -> LessonReport | None:
    """The last lesson as it is judged; None where there is none, or where it cannot be."""
    known = folder.students[student]
    if folder.academy is None or folder.shared_problems or known.problems or not known.lessons:
        return None
    return reports_of(known, sound(folder), alongside(known, folder))[-1]


class _Before(NamedTuple):
    """What earlier lessons leave to the new sheet: metrics that student.yaml follows, those that were worked on, the
    drill whose test is counted, where there is one, the places whose comfort has to be asked, and the return after a
    stop that goes on."""

    followed: Sequence[str]
    worked_on: Sequence[str]
    counted: str | None
    asked: Sequence[ToAsk]
    returning: Returning | None


_EXAMPLES: dict[LessonKind, tuple[str, str]] = {
    "full-swing": ("{metric: pelvis-open-impact, value: 45, unit: deg, how: by-eye}", "light-lead-toes"),
    "short-game": ("{metric: chip-lead-weight, value: 60, unit: '%', how: by-eye}", "land-on-the-towel"),
    "putting": ("{metric: putt-aim, value: 1, unit: deg, how: by-eye}", "gate-of-two-tees"),
    "on-the-course": ("{metric: pelvis-open-impact, value: 45, unit: deg, how: by-eye}", "light-lead-toes"),
}
"""A reading and a drill to show how each is written."""


def _sheet(on: date, next_on: date, last: Lesson | None, before: _Before) -> str:
    kind = last.kind if last else "full-swing"
    example, drill = _EXAMPLES[kind]
    did = "kind: short-game, minutes: 20" if kind in SMALL else "minutes: 30, swings: 60"
    lines = [f"kind: {kind}  # {', '.join(LESSON_KINDS)}", f"club: {last.club if last else '7-iron'}", "focus:"]
    if last and last.follow:
        lines.append(f"follow: [{', '.join(last.follow)}]")
    elif before.worked_on and not before.followed:
        lines.append(f"# follow: [{', '.join(before.worked_on)}]  # followed unless you name others")
    lines.append("readings:")
    if last and last.readings:
        lines.append(f"  # the metrics of {last.date}; fill in the values, take out what you did not measure")
        first = last.follow or before.followed or before.worked_on
        lines += [f"  {_reading(reading)}" for reading in sorted(last.readings, key=lambda r: r.metric not in first)]
    else:
        lines.append(f"  # - {example}")
    lines += _shots(last)
    lines += ["setup:", *_observed(last)]
    if last and last.stills:
        lines.append(f"# stand: {last.stand or 'kept'}  # where the cameras stand on the same marks as before")
    lines += [
        "drills:",
        "  # leave empty for the plan's own proposal" + _given(last),
        "comfort:",
        *_comfort(before.asked),
        *_return_step(before.returning),
        "practice_log:",
        f"  # - {{date: {on}, {did}, test: {{drill: {before.counted or drill}, made: 7}}}}  # of its test",
        f"# next_lesson: {{date: {next_on}, time: '17:00'}}",
        "# notes: |",
        "#   What you say to the student, in Markdown.",
    ]
    return "\n".join(lines) + "\n"


def _comfort(asked: Sequence[ToAsk]) -> list[str]:
    """A line without a score for each place that was sore: the sheet is refused until somebody has asked."""
    if not asked:
        return ["  # - {site: low-back, score: 0, when: after}"]
    lines = ["  # ask how it feels now, 0 to 10; what was held stays held until a low score is written"]
    return lines + [f"  - {{site: {one.site}, score: , when: before}}  # sore since {one.since}" for one in asked]


def _return_step(returning: Returning | None) -> list[str]:
    if returning is None:
        return []
    step = returning.step
    return [f"return_step: {step}  # if it went well: {next_step(step)}; when the return is over: done"]


def _reading(reading: TypedReading) -> str:
    views = ", views: 2" if reading.views == 2 else ""
    value = "trials: " if reading.trials else "value: "
    return f"- {{metric: {reading.metric}, {value}, unit: '{reading.unit}', how: {reading.how}{views}}}"


def _observed(last: Lesson | None) -> list[str]:
    """What was observed at setup last time, as remarks; an example where nothing was."""
    if last is None or not last.setup:
        return ["  # - {what: grip, word: neutral}"]
    return [f"  # what was seen on {last.date}", *(f"  # {_observation(row)}" for row in last.setup)]


def _observation(row: Observation) -> str:
    seen = f"word: {row.word}" if row.word else f"value: {row.value:g}, unit: '{row.unit}'"
    return f"- {{what: {row.what}, {seen}{f', club: {row.club}' if row.club else ''}}}"


def _shots(last: Lesson | None) -> list[str]:
    """What was counted last time, to count it again where putts or short shots are counted."""
    if last is None or last.kind == "full-swing":
        return []
    lines = ["shots:", f"  # what was counted on {last.date}; fill in how many, take out what you did not count"]
    for row in last.shots:
        if row.count is not None and row.when != "after":
            sizes = "".join(
                f", {size}: {length.value:g} {length.unit}" for size in SIZES if (length := getattr(row, size))
            )
            lines.append(f"  - {{count: {row.count}, made: , of: {row.of}{sizes}}}")
    return lines


def _given(last: Lesson | None) -> str:
    return f"; last time: {', '.join(c.drill for c in last.drills)}" if last and last.drills else ""
