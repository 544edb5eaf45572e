"""A table exported by a sensor -> readings. No maker's format is known here: the academy says which column is what."""

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reportgen.records.bounds import TABLE_BYTES, TABLE_LINES, TRIALS
from reportgen.records.lesson import ColumnOf, ReadingsFrom, TypedReading
from reportgen.sheets.problems import nearest, shown

HEADING_WITHIN = 20
_SEPARATORS = (";", "\t", ",", "|")
_NUMBER = re.compile(r"^[+-]?\d+([.,]\d+)?$")
_GROUPED = re.compile(r"^[+-]?\d{1,3}((,\d{3})+\.\d+|(\.\d{3})+,\d+)$")


class ExportError(ValueError):
    """The table does not hold what the sheet asks for: (what is wrong, how to mend it)."""


@dataclass(frozen=True)
class Table:
    """The heading and the rows of a text table, cells as written."""

    heading: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def readings_in(raw: bytes, wanted: ReadingsFrom, columns: Mapping[str, ColumnOf]) -> tuple[TypedReading, ...]:
    """One reading for each metric of `columns`, with a number for each swing of the table.

    Cells without a number are left out, and so are rows without a number in the `swing` column, where one is named (a
    row of means, say). Raises ExportError.
    """
    if len(raw) > TABLE_BYTES:
        wrong = f"the file is larger than {TABLE_BYTES >> 20} MiB"
        raise ExportError(wrong, "Export the swings of this lesson alone.")
    try:
        return _readings(text_in(raw), wanted, columns)
    except csv.Error as error:
        raise ExportError(f"the file is no table of columns ({error})", "Export it again, as text.") from error


def _readings(text: str, wanted: ReadingsFrom, columns: Mapping[str, ColumnOf]) -> tuple[TypedReading, ...]:
    names = [column.column for column in columns.values()] + ([wanted.swing] if wanted.swing else [])
    table = read_table(text, names)
    rows = table.rows
    if wanted.swing is not None:
        swing = table.heading.index(wanted.swing)
        rows = tuple(row for row in rows if swing < len(row) and number_in(row[swing]) is not None)
    _unmistakable(table.heading, names, rows)
    readings = []
    for metric, column in columns.items():
        at = table.heading.index(column.column)
        values = [value for row in rows if at < len(row) and (value := number_in(row[at])) is not None]
        if not values:
            raise ExportError(
                f"the column {column.column!r} holds no number", "Look at the file, or at the column's name."
            )
        if len(values) > TRIALS:
            wrong = f"the column {column.column!r} holds {len(values)} numbers, more than {TRIALS}"
            raise ExportError(wrong, "Export the swings of this lesson alone.")
        readings.append(
            TypedReading(
                metric=metric,
                value=values[0] if len(values) == 1 else None,
                trials=tuple(values) if len(values) > 1 else None,
                unit=column.unit,
                how="sensor",
                u=column.u,
            )
        )
    return tuple(readings)


def _unmistakable(heading: tuple[str, ...], names: Iterable[str], rows: Iterable[tuple[str, ...]]) -> None:
    """Raises ExportError where a heading stands twice, or a row has more cells than the heading."""
    for name in names:
        if heading.count(name) > 1:
            wrong = f"{heading.count(name)} columns are called {name!r}"
            raise ExportError(wrong, "Rename all but one of them, or take them out.")
    for row in rows:
        if any(row[len(heading) :]):
            wrong = f"a line has more cells than the heading ({shown(' | '.join(row))})"
            raise ExportError(wrong, "Decimal commas may have split it: export with semicolons or decimal points.")


def text_in(raw: bytes) -> str:
    """The text of an export: UTF-8 or UTF-16 by its mark, UTF-8 without one, or the Windows code page of old."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", "replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", "replace")


def read_table(text: str, names: list[str]) -> Table:
    """The table whose heading is among the first lines and holds all `names`; the separator is the one that makes it
    so. Raises ExportError, with the nearest heading, where there is none."""
    wanted = set(names)
    lines = text.splitlines()
    if len(lines) > TABLE_LINES:
        raise ExportError(f"the file has more than {TABLE_LINES} lines", "Export the swings of this lesson alone.")
    best: tuple[str, ...] = ()
    for number, line in enumerate(lines[:HEADING_WITHIN]):
        for separator in _SEPARATORS:
            heading = tuple(cell.strip() for cell in next(csv.reader([line], delimiter=separator), []))
            if wanted <= set(heading):
                rows = csv.reader(lines[number + 1 :], delimiter=separator)
                return Table(heading, tuple(tuple(cell.strip() for cell in row) for row in rows if any(row)))
            if len(heading) > 1 and len(wanted & set(heading)) >= len(wanted & set(best)) and len(heading) > len(best):
                best = heading
    missing = sorted(wanted - set(best))[0]
    raise ExportError(
        f"no line of the first {HEADING_WITHIN} names the column {missing!r}", nearest(missing, [c for c in best if c])
    )


def number_in(cell: str) -> float | None:
    """The number in a cell, with a decimal point or comma; None where there is none."""
    plain = cell.replace("\u00a0", "").replace("\u202f", "").replace(" ", "").replace("−", "-")
    if _GROUPED.match(plain):
        decimal = max(plain.rfind("."), plain.rfind(","))
        plain = plain[:decimal].replace(".", "").replace(",", "") + "." + plain[decimal + 1 :]
    if not _NUMBER.match(plain) or len(plain) > 30:
        return None
    return float(plain.replace(",", "."))
