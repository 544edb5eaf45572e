"""A text table of columns -> its heading and rows, each with its line; any separator, any coding of letters."""

import csv
import re
from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from reportgen.records.bounds import TABLE_LINES
from reportgen.sheets.problems import nearest, shown

HEADING_WITHIN = 20
SEPARATORS = (";", "\t", ",", "|")
_BREAK = re.compile("\r\n|[\r\n]")
SPLIT_BY_COMMAS = "Decimal commas may have split it: export with semicolons or decimal points."


class ExportError(ValueError):
    """The table does not hold what the sheet asks for: (what is wrong, how to mend it)."""


class Row(NamedTuple):
    """A line of a table, with its number, and its cells without white space around them."""

    line: int
    cells: tuple[str, ...]


class Table(NamedTuple):
    """The heading and the rows of a text table, cells as written; `lines` is the text it was read from."""

    heading: Row
    rows: tuple[Row, ...]
    separator: str
    lines: tuple[str, ...]

    def place(self, line: int, cell: int) -> tuple[int, int]:
        """Line and column, both from 1, at which a cell of the row of that line begins."""
        text, quoted, seen = self.lines[line - 1], False, 0
        for column, sign in enumerate(text, 1):
            if seen == cell:
                return line, column
            quoted ^= sign == '"'
            seen += sign == self.separator and not quoted
        return line, len(text) + 1 if seen == cell else 1


def text_in(raw: bytes) -> str:
    """The text of an export: UTF-8 or UTF-16 by its mark, UTF-8 without one, or the Windows code page of old."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", "replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", "replace")


def read_table(text: str, names: Collection[str], any_of: Collection[str] = ()) -> Table:
    """The table whose heading is among the first lines and holds all `names`, or, where `any_of` are given, most of
    these; the separator is the one that makes it so. Rows without anything in them are left out.

    Raises ExportError, with the nearest heading, where there is none, and csv.Error where the text is no table.
    """
    lines = tuple(_BREAK.split(text))
    if len(lines) > TABLE_LINES + (not lines[-1]):
        raise ExportError(f"the file has more than {TABLE_LINES} lines", "Export the swings of this lesson alone.")
    wanted, optional = set(names), set(any_of)
    found: tuple[int, int, str, tuple[str, ...]] | None = None
    best: tuple[str, ...] = ()
    for number, separator, heading in _headings(lines):
        named = set(heading)
        score = len(optional & named) if optional else 1
        if wanted <= named and score > (found[0] if found else 0):
            found = (score, number, separator, heading)
        close = (wanted | optional) & named
        if len(heading) > max(1, len(best)) and len(close) >= len((wanted | optional) & set(best)):
            best = heading
    if found is not None:
        _, number, separator, heading = found
        return Table(Row(number + 1, heading), tuple(_rows(lines, number + 1, separator)), separator, lines)
    missing = sorted((wanted or optional) - set(best))[0]
    others = " or another of the map" if not wanted else ""
    raise ExportError(
        f"no line of the first {HEADING_WITHIN} names the column {missing!r}{others}",
        nearest(missing, [cell for cell in best if cell]),
    )


def unmistakable(table: Table, names: Iterable[str]) -> None:
    """Raises ExportError where a heading of `names` stands twice, or a row has more cells than the heading."""
    for name in names:
        if table.heading.cells.count(name) > 1:
            wrong = f"{table.heading.cells.count(name)} columns are called {name!r}"
            raise ExportError(wrong, "Rename all but one of them, or take them out.")
    for row in table.rows:
        if (split := too_many(table, row)) is not None:
            raise ExportError(split, SPLIT_BY_COMMAS)


def too_many(table: Table, row: Row) -> str | None:
    """What is wrong with a row that has more cells than the heading; None where it has not."""
    if any(row.cells[len(table.heading.cells) :]):
        return f"a line has more cells than the heading ({shown(' | '.join(row.cells))})"
    return None


def _headings(lines: tuple[str, ...]) -> Iterator[tuple[int, str, tuple[str, ...]]]:
    """Number of the line, separator and cells of whatever may be a heading."""
    for number, line in enumerate(lines[:HEADING_WITHIN]):
        for separator in SEPARATORS:
            yield number, separator, tuple(cell.strip() for cell in next(csv.reader([line], delimiter=separator), []))


def _rows(lines: tuple[str, ...], first: int, separator: str) -> Iterator[Row]:
    reader = csv.reader(lines[first:], delimiter=separator)
    begins = 0
    for cells in reader:
        if any(cells):
            yield Row(first + begins + 1, tuple(map(str.strip, cells)))
        begins = reader.line_num
