"""The tables of shots that a lesson sheet names -> their shots, and every problem: of the sheet at its line, of a table
at the table's."""

import os
from pathlib import Path

from reportgen.records.academy import Academy
from reportgen.records.bounds import TABLE_BYTES
from reportgen.records.lesson import Lesson
from reportgen.records.shot_table import ShotTable
from reportgen.records.words import Side
from reportgen.sheets.files import below
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet
from reportgen.sheets.shot_columns import of_shots, shot_column_problems
from reportgen.sheets.shot_tables import Asked, shots_in
from reportgen.sheets.tables import ExportError

NO_MAP = (
    "neither the sheet nor academy.yaml says which column is what",
    "Add columns: {carry: {column: ..., unit: m}, side: {column: ..., unit: m, plus: right of target}}.",
)


def read_shots(
    sheet: Sheet[Lesson], file: Path, root: Path, academy: Academy | None, plays: Side
) -> tuple[tuple[ShotTable, ...], list[Problem]]:
    """The tables of `shots_from` of a sheet that lies in `file`, for a player of that hand."""
    tables, problems = [], []
    seen: set[Path] = set()
    for number, wanted in enumerate(sheet.record.shots_from):
        at = ("shots_from", number)
        columns = wanted.columns or of_shots(academy.columns if academy else {})
        found = list(shot_column_problems(sheet, (*at, "columns"), wanted.columns)) if wanted.columns else []
        path, fault = below(wanted.file, file.parent, root)
        if fault is None and path is not None and not os.path.isfile(path):
            fault = ("the file is not there", "Look at its name, or take the line out.")
        if fault is None and path in seen:
            fault = ("the file stands here already", "Keep one of the two: its shots would count twice.")
        if fault is not None:
            found.append(sheet.problem((*at, "file"), *fault))
        if not columns:
            found.append(sheet.problem(at, *NO_MAP))
        if path is not None and not found:
            seen.add(path)
            asked = Asked(wanted, columns, bool(wanted.columns), plays, sheet.record.club)
            table, found = _read(sheet, number, path, root, asked)
            tables += [table] if table is not None else []
        problems += found
    return tuple(tables), problems


def _read(
    sheet: Sheet[Lesson], number: int, path: Path, root: Path, asked: Asked
) -> tuple[ShotTable | None, list[Problem]]:
    at = ("shots_from", number, "file")
    place = path.relative_to(root.resolve()).as_posix()
    try:
        with path.open("rb") as stream:
            raw = stream.read(TABLE_BYTES + 1)
        table, faults = shots_in(raw, place, asked)
    except ExportError as error:
        return None, [sheet.problem(at, *error.args)]
    except OSError as error:
        return None, [sheet.problem(at, f"the file cannot be read ({error.strerror})", "Look at its rights.")]
    return table, [Problem(place, *fault) for fault in faults]
