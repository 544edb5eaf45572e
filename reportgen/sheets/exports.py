"""A table exported by a sensor -> readings. No maker's format is known here: the academy says which column is what."""

import csv
import re
from collections.abc import Mapping
from types import MappingProxyType

from reportgen.records.bounds import TABLE_BYTES, TRIALS
from reportgen.records.lesson import TypedReading
from reportgen.records.tables import ColumnOf, ReadingsFrom
from reportgen.records.words import Side
from reportgen.sheets.shot_cells import turn_of
from reportgen.sheets.tables import ExportError, read_table, text_in, unmistakable

_NUMBER = re.compile(r"^[+-]?\d+([.,]\d+)?$")
_GROUPED = re.compile(r"^[+-]?\d{1,3}((,\d{3})+\.\d+|(\.\d{3})+,\d+)$")


def readings_in(
    raw: bytes,
    wanted: ReadingsFrom,
    columns: Mapping[str, ColumnOf],
    where_there: Mapping[str, ColumnOf] = MappingProxyType({}),
    plays: Side = "right",
) -> tuple[TypedReading, ...]:
    """One reading for each metric of `columns`, and of those of `where_there` that the table has, with a number for
    each swing of the table. What has a side is turned to ours, for a player of that hand.

    Cells without a number are left out, and so are rows without a number in the `swing` column, where one is named (a
    row of means, say). Raises ExportError.
    """
    if len(raw) > TABLE_BYTES:
        wrong = f"the file is larger than {TABLE_BYTES >> 20} MiB"
        raise ExportError(wrong, "Export the swings of this lesson alone.")
    try:
        return _readings(text_in(raw), wanted, columns, where_there, plays)
    except csv.Error as error:
        raise ExportError(f"the file is no table of columns ({error})", "Export it again, as text.") from error


def _readings(
    text: str,
    wanted: ReadingsFrom,
    columns: Mapping[str, ColumnOf],
    where_there: Mapping[str, ColumnOf],
    plays: Side,
) -> tuple[TypedReading, ...]:
    names = [column.column for column in columns.values()] + ([wanted.swing] if wanted.swing else [])
    table = read_table(text, names, () if names else [column.column for column in where_there.values()])
    heading = table.heading.cells
    there = {word: column for word, column in where_there.items() if column.column in heading}
    columns, names = {**columns, **there}, [*names, *(column.column for column in there.values())]
    if wanted.swing is not None:
        swing = heading.index(wanted.swing)
        numbered = (row for row in table.rows if swing < len(row.cells) and number_in(row.cells[swing]) is not None)
        table = table._replace(rows=tuple(numbered))
    unmistakable(table, names)
    rows = [row.cells for row in table.rows]
    readings = []
    for metric, column in columns.items():
        at = heading.index(column.column)
        turn = turn_of(column.plus, plays)
        values = [turn * value for row in rows if at < len(row) and (value := number_in(row[at])) is not None]
        if not values and metric in there:
            continue
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
                unit=column.unit or "1",
                how="sensor",
                u=column.u,
            )
        )
    return tuple(readings)


def number_in(cell: str) -> float | None:
    """The number in a cell, with a decimal point or comma; None where there is none."""
    plain = cell.replace("\u00a0", "").replace("\u202f", "").replace(" ", "").replace("−", "-")
    if _GROUPED.match(plain):
        decimal = max(plain.rfind("."), plain.rfind(","))
        plain = plain[:decimal].replace(".", "").replace(",", "") + "." + plain[decimal + 1 :]
    if not _NUMBER.match(plain) or len(plain) > 30:
        return None
    return float(plain.replace(",", "."))
