"""All lessons of a student in one table: as CSV, as JSON, and in the terminal."""

import csv
import json
from collections.abc import Mapping, Sequence
from io import StringIO
from typing import Any

from reportgen.records.told import ToldFinding, ToldLesson
from reportgen.records.words import MOMENTS
from reportgen.saying.wording import MINUS, SHAPES, club_name, moment_name, number, short_day, unit_mark

COLUMNS = (
    "student", "lesson", "date", "club", "metric", "value", "u", "low95", "high95", "unit", "how", "views", "swings",
    "band_low", "band_high", "band_for", "probability", "verdict", "change_since", "change_by", "level",
    "level_low95", "level_high95", "level_lessons", "course_since", "course_lessons", "course_by", "course_low95",
    "course_high95", "course_says",
)  # fmt: skip
"""The columns of a history. Programs read them by name: new ones go to the end."""

APART = 2
"""Spaces between the columns of the terminal."""
NAMES_AT_MOST = 36
"""Width of the column of names there; longer ones run over two lines."""


def history_csv(reports: Sequence[ToldLesson]) -> str:
    """One line a lesson and metric, as RFC 4180 has it; swings stand apart by spaces, what is not known is empty.

    Numbers are in full, with a decimal point, in the unit that their line names.
    """
    written = StringIO()
    table = csv.DictWriter(written, COLUMNS)
    table.writeheader()
    table.writerows({name: _cell(value) for name, value in row.items()} for row in _rows(reports))
    return written.getvalue()


def history_json(reports: Sequence[ToldLesson]) -> str:
    """The rows of the CSV as a list of objects; swings are a list, what is not known is null."""
    return json.dumps(_rows(reports), indent=2, ensure_ascii=False)


def _rows(reports: Sequence[ToldLesson]) -> list[dict[str, Any]]:
    return [_row(report, finding) for report in reports for finding in report.findings]


def _row(report: ToldLesson, finding: ToldFinding) -> dict[str, Any]:
    band, change, course = finding.band, finding.change, finding.course
    return {
        "student": report.student,
        "lesson": report.lesson,
        "date": report.date.isoformat(),
        "club": report.club,
        "metric": finding.metric,
        "value": finding.value,
        "u": finding.u,
        "low95": finding.interval[0],
        "high95": finding.interval[1],
        "unit": finding.unit,
        "how": finding.how,
        "views": finding.views,
        "swings": list(finding.swings),
        "band_low": band.low if band else None,
        "band_high": band.high if band else None,
        "band_for": band.for_ if band else None,
        "probability": finding.probability,
        "verdict": finding.verdict,
        "change_since": change.since.isoformat() if change else None,
        "change_by": change.by if change else None,
        "level": finding.level.value,
        "level_low95": finding.level.interval[0],
        "level_high95": finding.level.interval[1],
        "level_lessons": finding.level.lessons,
        "course_since": course.since.isoformat() if course else None,
        "course_lessons": course.lessons if course else None,
        "course_by": course.by if course else None,
        "course_low95": course.interval[0] if course else None,
        "course_high95": course.interval[1] if course else None,
        "course_says": course.rung if course else None,
    }


def _cell(value: Any) -> Any:
    if isinstance(value, bool):
        return str(value).lower()
    return " ".join(repr(swing) for swing in value) if isinstance(value, list) else value


def all_findings_table(reports: Sequence[ToldLesson]) -> None:
    """Print where the student was with each metric, a lesson a column, the newest last; what the terminal has no room
    for is left out and said."""
    from rich.console import Console
    from rich.table import Table

    console = Console(highlight=False, markup=False, emoji=False)
    if not any(report.findings for report in reports):
        console.print("Nothing has been measured yet.")
        return
    names = _names(reports)
    columns = [_column(report, reports) for report in reports]
    shown = _fitting(columns, console.width - min(NAMES_AT_MOST, max(map(len, names.values()))))
    latest = reports[-1]
    console.print(f"{latest.person.name}, {_lessons(len(reports))}", style="bold")
    table = Table(box=None, pad_edge=False, header_style="dim", padding=(0, APART, 0, 0))
    table.add_column("", max_width=NAMES_AT_MOST)
    for column in columns[-shown:]:
        table.add_column(column[""], no_wrap=True)
    for metric, name in names.items():
        table.add_row(name, *(column.get(metric, "") for column in columns[-shown:]))
    console.print(table)
    console.print("  ".join(f"{shape} {verdict}" for verdict, shape in SHAPES.items()), style="dim")
    if left_out := len(columns) - shown:
        console.print(f"{_lessons(left_out)} before these: no room here, see --csv.", style="dim")


def _lessons(count: int) -> str:
    return f"{count} lesson{'' if count == 1 else 's'}"


def _names(reports: Sequence[ToldLesson]) -> dict[str, str]:
    """What each metric is called, with its unit and what a minus means where one occurs: in the order of the swing and
    of the newest lesson that has it."""
    found: dict[str, ToldFinding] = {}
    below: set[str] = set()
    for finding in (finding for report in reversed(reports) for finding in report.findings):
        found.setdefault(finding.metric, finding)
        if number(finding.level.value, finding.decimals).startswith(MINUS):
            below.add(finding.metric)
    ordered = sorted(found.values(), key=lambda f: MOMENTS.index(f.checkpoint))
    return {f.metric: _name(f, f.metric in below) for f in ordered}


def _name(of: ToldFinding, below: bool) -> str:
    unit = unit_mark(of.unit).strip()
    minus = f" ({MINUS} is {of.sign.minus})" if below and of.sign else ""
    return f"{moment_name(of.checkpoint)}: {of.short}{f', {unit}' if unit else ''}{minus}"


def _column(report: ToldLesson, reports: Sequence[ToldLesson]) -> Mapping[str, str]:
    """What a lesson's column says for each metric, and under "" its head: the day, with its year where the lessons
    run over several, and the club."""
    several = len({each.date.year for each in reports}) > 1
    second = report.lesson.removeprefix(report.date.isoformat()).replace("-", " no. ")
    day = short_day(report.date) + (f" {report.date.year}" if several else "") + second
    said = {f.metric: f"{SHAPES[f.verdict]} {number(f.level.value, f.decimals)}" for f in report.findings}
    return {"": f"{day}\n{club_name(report.club)}", **said}


def _fitting(columns: Sequence[Mapping[str, str]], room: int) -> int:
    """How many of the last columns have room; always one."""
    count = 0
    for column in reversed(columns):
        room -= APART + max(len(line) for cell in column.values() for line in cell.split("\n"))
        if room < 0:
            break
        count += 1
    return max(count, 1)
