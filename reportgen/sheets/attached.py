"""The files that a lesson sheet points to: pictures and a sensor's export."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from reportgen.records.academy import Academy
from reportgen.records.bounds import TABLE_BYTES
from reportgen.records.lesson import ColumnOf, Lesson, TypedReading
from reportgen.records.units import convertible
from reportgen.sheets.checks import column_problems
from reportgen.sheets.exports import ExportError, readings_in
from reportgen.sheets.library import Library
from reportgen.sheets.picture_files import picture_fault, picture_size
from reportgen.sheets.plausible import value_fault
from reportgen.sheets.problems import Problem, is_hidden
from reportgen.sheets.reading import Sheet


@dataclass(frozen=True)
class Attached:
    """Readings of the sensor's export; and of the pictures, by their names in the sheet, width and height in pixels and
    the `places` where they lie: paths below the academy, links followed."""

    exported: tuple[TypedReading, ...] = ()
    sizes: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)


def read_attached(
    sheet: Sheet[Lesson], file: Path, root: Path, academy: Academy | None, library: Library
) -> tuple[Attached, list[Problem]]:
    """What the files of a lesson hold, and a problem for each that is not there, not whole or not what it should be."""
    problems: list[Problem] = []
    sizes, places = {}, {}
    for number, still in enumerate(sheet.record.stills):
        path, fault = _path_of(still.file, file.parent, root)
        if path is not None and still.file not in sizes:
            place = path.relative_to(root.resolve()).as_posix()
            fault = picture_fault(path) if student_of(place) else _NOBODYS
            if fault is None:
                sizes[still.file], places[still.file] = picture_size(path), place
        if fault is not None:
            problems.append(sheet.problem(("stills", number, "file"), *fault))
    exported: tuple[TypedReading, ...] = ()
    if sheet.record.readings_from is not None:
        exported, found = _exported(sheet, file, root, academy, library)
        problems += found
    return Attached(exported, sizes, places), problems


def student_of(place: str) -> str | None:
    """The student in whose folder a file lies, and who is the one that its picture shows; None where it is nobody's.
    `place` is a path below the academy, links followed."""
    parts = place.split("/")
    return parts[1] if parts[0] == "students" and len(parts) > 2 else None


_NOBODYS = ("the picture lies in no student's folder: whose leave counts for it?", "Put it into the student's own.")


def _exported(
    sheet: Sheet[Lesson], file: Path, root: Path, academy: Academy | None, library: Library
) -> tuple[tuple[TypedReading, ...], list[Problem]]:
    wanted = sheet.record.readings_from
    if wanted is None:
        return (), []
    at = ("readings_from",)
    columns: Mapping[str, ColumnOf] = wanted.columns or (academy.columns if academy else {})
    if not columns:
        wrong = "neither the sheet nor academy.yaml says which column is what"
        return (), [sheet.problem(at, wrong, "Add columns: {clubhead-speed: {column: ..., unit: mph}}.")]
    problems = list(column_problems(sheet, (*at, "columns"), wanted.columns, library)) if wanted.columns else []
    path, fault = _path_of(wanted.file, file.parent, root)
    if fault is None and path is not None and not os.path.isfile(path):
        fault = ("the file is not there", "Look at its name, or take the line out.")
    if problems or fault is not None or path is None:
        return (), problems + ([sheet.problem((*at, "file"), *fault)] if fault else [])
    try:
        with path.open("rb") as stream:
            raw = stream.read(TABLE_BYTES + 1)
        readings = readings_in(raw, wanted, columns)
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


def _path_of(written: str, folder: Path, root: Path) -> tuple[Path | None, tuple[str, str] | None]:
    """The file that a sheet means, or (what is wrong, how to mend it) where its path leaves the academy."""
    if PurePosixPath(written).is_absolute() or "\\" in written:
        return None, ("the path is not relative to the sheet", "Write it as ../stills/name.png.")
    if is_hidden(written):
        return None, ("the path is a hidden one", "Give file and folder names without a point in front or a ~ behind.")
    try:
        file = (folder / written).resolve()
        inside = file.is_relative_to(root.resolve())
    except (OSError, ValueError, RuntimeError):
        return None, ("the path cannot be followed", "Write it as ../stills/name.png.")
    if not inside:
        return None, ("the file lies outside the academy", "Put it into the student's folder.")
    return file, None
