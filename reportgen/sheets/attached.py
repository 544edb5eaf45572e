"""The files that a lesson sheet points to: pictures, swings to step through, and a sensor's export."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from reportgen.records.academy import Academy
from reportgen.records.bounds import TABLE_BYTES
from reportgen.records.lesson import Lesson, TypedReading
from reportgen.records.shot_table import ShotTable
from reportgen.records.tables import ColumnOf
from reportgen.records.units import convertible
from reportgen.records.words import Side, View
from reportgen.sheets.checks import column_problems
from reportgen.sheets.exports import readings_in
from reportgen.sheets.files import below
from reportgen.sheets.library import Library
from reportgen.sheets.picture_files import PACKED, STILLS, Format, picture_fault, picture_size
from reportgen.sheets.plausible import value_fault
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet
from reportgen.sheets.shot_columns import may_be_read, of_readings, side_problems
from reportgen.sheets.shot_files import read_shots
from reportgen.sheets.tables import ExportError


@dataclass(frozen=True)
class Attached:
    """Readings of the sensor's export; of the pictures, by their names in the sheet, width and height in pixels and the
    `places` where they lie: paths below the academy, links followed; and the tables of shots, in the sheet's order."""

    exported: tuple[TypedReading, ...] = ()
    sizes: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)
    shots: tuple[ShotTable, ...] = ()


def read_attached(
    sheet: Sheet[Lesson], file: Path, root: Path, academy: Academy | None, library: Library, plays: Side | None
) -> tuple[Attached, list[Problem]]:
    """What the files of a lesson hold, and a problem for each that is not there, not whole or not what it should be.
    Tables of shots are read where it is known which hand the student `plays`."""
    problems: list[Problem] = []
    sizes, places = {}, {}
    for name, number, written, formats in pictures_named(sheet.record):
        path, fault = below(written, file.parent, root)
        if path is not None and written not in sizes:
            place = path.relative_to(root.resolve()).as_posix()
            fault = picture_fault(path, formats) if student_of(place) else _NOBODYS
            if fault is None:
                sizes[written], places[written] = picture_size(path, formats), place
        if fault is not None:
            problems.append(sheet.problem((name, number, "file"), *fault))
    problems += _packed_otherwise(sheet, sizes)
    exported: tuple[TypedReading, ...] = ()
    if sheet.record.readings_from is not None:
        exported, found = _exported(sheet, file, root, academy, library, plays)
        problems += found
    shots: tuple[ShotTable, ...] = ()
    if plays is not None:
        shots, found = read_shots(sheet, file, root, academy, plays)
        problems += found
    return Attached(exported, sizes, places, shots), problems


def pictures_named(lesson: Lesson) -> Iterator[tuple[Literal["stills", "swings"], int, str, tuple[Format, ...]]]:
    """List, number in it, written path and known formats of every picture of a lesson."""
    yield from (("stills", number, still.file, STILLS) for number, still in enumerate(lesson.stills))
    yield from (("swings", number, swing.file, PACKED) for number, swing in enumerate(lesson.swings))


def _packed_otherwise(sheet: Sheet[Lesson], sizes: Mapping[str, tuple[int, int]]) -> Iterator[Problem]:
    """A problem for each swing whose picture has another size than its frames together, and for a second one of a
    view."""
    seen: set[View] = set()
    for number, swing in enumerate(sheet.record.swings):
        has, wants = sizes.get(swing.file), swing.packed_size
        if has is not None and has != wants:
            wrong = f"the picture has {has[0]} × {has[1]} pixels, and its frames make {wants[0]} × {wants[1]}"
            yield sheet.problem(
                ("swings", number, "file"), wrong, "Look at columns, frame, and how many times there are."
            )
        if swing.view in seen:
            yield sheet.problem(
                ("swings", number, "view"), "there is a swing of this view already", "Keep one of them."
            )
        seen.add(swing.view)


def student_of(place: str) -> str | None:
    """The student in whose folder a file lies, and who is the one that its picture shows; None where it is nobody's.
    `place` is a path below the academy, links followed."""
    parts = place.split("/")
    return parts[1] if parts[0] == "students" and len(parts) > 2 else None


_NOBODYS = ("the picture lies in no student's folder: whose leave counts for it?", "Put it into the student's own.")


def _exported(
    sheet: Sheet[Lesson], file: Path, root: Path, academy: Academy | None, library: Library, plays: Side | None
) -> tuple[tuple[TypedReading, ...], list[Problem]]:
    wanted = sheet.record.readings_from
    if wanted is None:
        return (), []
    at = ("readings_from",)
    of_academy = academy.columns if academy else {}
    columns: Mapping[str, ColumnOf] = wanted.columns or of_readings(of_academy)
    where_there = {} if wanted.columns else may_be_read(of_academy, library.metrics)
    if not columns and not where_there:
        wrong = "neither the sheet nor academy.yaml says which column is what"
        return (), [sheet.problem(at, wrong, "Add columns: {clubhead-speed: {column: ..., unit: mph}}.")]
    own, place = wanted.columns or {}, (*at, "columns")
    problems = [*column_problems(sheet, place, own, library), *side_problems(sheet, place, own)]
    path, fault = below(wanted.file, file.parent, root)
    if fault is None and path is not None and not os.path.isfile(path):
        fault = ("the file is not there", "Look at its name, or take the line out.")
    if problems or fault is not None or path is None:
        return (), problems + ([sheet.problem((*at, "file"), *fault)] if fault else [])
    try:
        with path.open("rb") as stream:
            raw = stream.read(TABLE_BYTES + 1)
        readings = readings_in(raw, wanted, columns, where_there, plays or "right")
        return readings, [sheet.problem((*at, "file"), *fault) for fault in _not_sensible(readings, library)]
    except ExportError as error:
        return (), [sheet.problem((*at, "file"), *error.args)]
    except OSError as error:
        return (), [sheet.problem((*at, "file"), f"the file cannot be read ({error.strerror})", "Look at its rights.")]


def _not_sensible(readings: Sequence[TypedReading], library: Library) -> Iterator[tuple[str, str]]:
    """The first value of each column that no swing gives: a sensor that missed a swing may write 0 for it."""
    for reading in readings:
        metric = library.metrics.get(reading.metric)
        if metric is None or not convertible(reading.unit, metric.unit):
            continue  # told where the columns are named
        values = reading.trials or (reading.value,)
        faults = [value_fault(value, reading.unit, metric) for value in values if value is not None]
        yield from [fault for fault in faults if fault is not None][:1]
