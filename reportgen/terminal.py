"""A judged lesson as a table in the terminal, and JSON Schemas as text."""

import json

from reportgen.records.academy import Academy, Student
from reportgen.records.base import Record
from reportgen.records.causes import CauseFile
from reportgen.records.content import BandFile, CountKind, Drill, Metric
from reportgen.records.describing import described_schema, meanings
from reportgen.records.lesson import Lesson
from reportgen.records.report import LessonReport
from reportgen.records.safety import SafetyFile
from reportgen.records.setup import SetupKind
from reportgen.records.told import ToldFinding, ToldLesson
from reportgen.saying.wording import (
    SHAPES,
    amount,
    club_name,
    full_day,
    limits,
    moment_name,
    short_day,
    size,
    way_taken,
)
from reportgen.sheets.field_texts import texts_of_record

_KINDS: dict[str, type[Record]] = {
    "academy": Academy,
    "student": Student,
    "lesson": Lesson,
    "metric": Metric,
    "bands": BandFile,
    "drill": Drill,
    "safety": SafetyFile,
    "counts": CountKind,
    "causes": CauseFile,
    "setup": SetupKind,
    "report": LessonReport,
    "told": ToldLesson,
}


def schema_text(kind: str) -> str:
    """The JSON Schema of a kind of file, of the judged lesson (`report`), or of what is told of it (`told`), with what
    each field means."""
    if kind in ("report", "told"):
        schema = described_schema(_KINDS[kind], meanings, "serialization")
    else:
        schema = described_schema(_KINDS[kind], texts_of_record)
    return json.dumps(
        {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}, indent=2, ensure_ascii=False
    )


def findings_table(report: ToldLesson) -> None:
    """Print the judged lesson."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False, markup=False, emoji=False)  # sheets are plain text: [b] and :x: mean themselves
    heading = f"{report.person.name}, {full_day(report.date)}, lesson {report.number}, {report.club}"
    console.print(heading, style="bold")
    for caution in report.cautions:
        if not caution.usual:
            console.print(Text(caution.level, "bold"), caution.instructor.strip())
    table = Table(box=None, pad_edge=False, header_style="dim")
    for heading in ("", "What", "Now", "95 %", "This time", "Range", "Verdict", "Over the lessons"):
        table.add_column(heading)
    for f in (f for f in report.findings if f.listed):
        table.add_row(
            SHAPES[f.verdict],
            f"{moment_name(f.checkpoint)}: {f.short}",
            amount(f.level.value, f.unit, f.decimals, f.sign_beside),
            f"± {size((f.level.interval[1] - f.level.interval[0]) / 2, f.unit, f.decimals)}",
            f"{amount(f.value, f.unit, f.decimals, f.sign_beside)}, {way_taken(f.how, f.views)}",
            limits(f.band.low, f.band.high, f.unit, f.decimals, f.sign_beside) if f.band else "none",
            f.verdict + (f", {f.likelihood} in range" if f.likelihood else ""),
            _since(f),
        )
    console.print(table)
    if report.ball_first is not None:
        console.print(f"{report.ball_first.headline}: {report.ball_first.reason}")
    for number, priority in enumerate(report.priorities, 1):
        console.print(f"{number}. {priority.headline}: {priority.reason}")
    for given in report.drills:
        console.print(f"   Drill: {given.title}, {given.dose}")
    for counted in report.tested:
        console.print(f"   Test: {counted.title}, {counted.says}")
    for count in report.counts:
        console.print(" ".join(part for part in (f"{count.name}: {count.says}.", count.since) if part))
    for strike in report.strikes:
        console.print(f"Where the face was struck, {club_name(strike.club)}: {strike.says}")
    for chain in report.behind:
        console.print(chain.says)
    for shots in report.patterns:
        said = (*shots.landed_says, *shots.flew_says, *shots.struck_says, *([shots.since] if shots.since else []))
        console.print(f"{shots.name}: {' '.join(said)}")
    for remark in report.shot_remarks:
        console.print(remark.says, style="bold" if remark.openly else "dim")
    if report.setup_line:
        console.print(report.setup_line)
    for gap in report.missing:
        console.print(f"{gap.name}. {gap.says}" if gap.kind == "needs" else gap.says, style="dim")


def _since(finding: ToldFinding) -> str:
    course, change = finding.course, finding.change
    if course is not None:
        since = f"{short_day(course.since)}, {course.lessons} lessons"
        if course.rung == "has moved":
            return f"{since}: {course.movement} by {size(course.by, finding.unit, finding.decimals)}"
        return f"{since}: {course.rung}"
    if change is None:
        return "first time"
    return f"{short_day(change.since)}: {amount(change.before, finding.unit, finding.decimals, finding.sign_beside)}"
