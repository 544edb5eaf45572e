"""A judged lesson as a table in the terminal, and JSON Schemas as text."""

import json

from reportgen.records.academy import Academy, Student
from reportgen.records.base import Record
from reportgen.records.content import BandFile, Drill, Metric, SafetyFile
from reportgen.records.describing import described_schema
from reportgen.records.lesson import Lesson
from reportgen.records.report import Finding, LessonReport
from reportgen.records.wording import SHAPES, amount, full_day, limits, moment_name, short_day, size, way_taken

_KINDS: dict[str, type[Record]] = {
    "academy": Academy,
    "student": Student,
    "lesson": Lesson,
    "metric": Metric,
    "bands": BandFile,
    "drill": Drill,
    "safety": SafetyFile,
    "report": LessonReport,
}


def schema_text(kind: str) -> str:
    """The JSON Schema of a kind of file, or of the judged lesson (`report`), with what each field means."""
    schema = described_schema(_KINDS[kind], "serialization" if kind == "report" else "validation")
    return json.dumps(
        {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}, indent=2, ensure_ascii=False
    )


def findings_table(report: LessonReport) -> None:
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
    for heading in ("", "What", "Measured", "95 %", "Range", "Verdict", "Since last time"):
        table.add_column(heading)
    for f in report.findings:
        table.add_row(
            SHAPES[f.verdict],
            f"{moment_name(f.checkpoint)}: {f.short}",
            f"{amount(f.value, f.unit, f.decimals, f.sign)}, {way_taken(f.how, f.views)}",
            f"± {size((f.interval[1] - f.interval[0]) / 2, f.unit, f.decimals)}",
            limits(f.band.low, f.band.high, f.unit, f.decimals, f.sign) if f.band else "none",
            f.verdict + (f", {f.likelihood} in range" if f.likelihood else ""),
            _since(f),
        )
    console.print(table)
    for number, priority in enumerate(report.priorities, 1):
        console.print(f"{number}. {priority.headline}: {priority.reason}")
    for given in report.drills:
        console.print(f"   Drill: {given.title}, {given.dose}")
    for gap in report.missing:
        console.print(gap.says, style="dim")


def _since(finding: Finding) -> str:
    change = finding.change
    if change is None:
        return "first time"
    since = short_day(change.since)
    if not change.real:
        return f"{since}: {change.says}"
    return f"{since}: {change.says} by {size(change.by, finding.unit, finding.decimals)}"
