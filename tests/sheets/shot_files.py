"""Tables of three shots, as tests write them: the names of the columns are invented."""

from reportgen.records.tables import ColumnOf, ShotsFrom
from reportgen.sheets.shot_tables import Asked, shots_in

COLUMNS = {
    "club": ColumnOf(column="Stick"),
    "start-direction": ColumnOf(column="Start line", unit="deg", plus="right of target"),
    "carry": ColumnOf(column="Flew", unit="m"),
    "spin": ColumnOf(column="Turns", unit="rpm"),
}
ROWS = (("7-iron", "2.1", "138.5", "6120"), ("7-iron", "-0.4", "141.0", "5980"), ("7-iron", "3.3", "129.5", "6455"))
SHOTS = [("7-iron", 2.1, 138.5, 6120.0), ("7-iron", -0.4, 141.0, 5980.0), ("7-iron", 3.3, 129.5, 6455.0)]
"""What the shots of such a table are: club, start in degrees, carry in m, turns a minute."""
NUMBER = "Write the number, or leave the cell empty."
"""How a cell is mended that is no number."""


def table(rows=ROWS, separator=";", decimal=".", above=(), below=(), columns=COLUMNS):
    """The text of a table; a cell that holds the separator stands in quotation marks."""
    written = [[cell.replace(".", decimal) if decimal != "." else cell for cell in row] for row in rows]
    quoted = [[f'"{cell}"' if separator in cell else cell for cell in row] for row in written]
    heading = [column.column for column in columns.values()]
    return "\n".join([*above, *(separator.join(line) for line in (heading, *quoted)), *below]) + "\n"


def changed(row, cell, written, **more):
    """The table with another text in a cell: row 1 to 3, cell 0 to 3."""
    rows = [list(one) for one in ROWS]
    rows[row - 1][cell] = written
    return table(rows, **more)


def read(text, plays="right", columns=COLUMNS, own=False, **wanted):
    """The table of shots that a text gives, and its faults as line:column: what is wrong and how to mend it."""
    raw = text.encode() if isinstance(text, str) else text
    made, faults = shots_in(
        raw, "students/mara-l/shots.csv", Asked(ShotsFrom(file="s.csv", **wanted), columns, own, plays, "driver")
    )
    return made, [f"{fault.line}:{fault.column}: {fault.wrong}. {fault.mend}" for fault in faults]


def shots(text, plays="right", columns=COLUMNS, **wanted):
    """Club, start, carry and spin of the shots of a table without a fault."""
    made, faults = read(text, plays, columns, **wanted)
    assert faults == []
    return [(shot.club, shot.start_direction, shot.carry, shot.spin) for shot in made.shots]


def faults(text, **more):
    """The faults of a table, each as line:column: what."""
    return read(text, **more)[1]
