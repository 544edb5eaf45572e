"""A table of shots -> its shots, in our words, units and signs. No maker's format is known here: the academy says which
column is what. Nothing is dropped: a row is a shot, or is told by its line."""

import csv
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from math import inf
from typing import Any, NamedTuple

from reportgen.records.bounds import SHOTS, TABLE_BYTES
from reportgen.records.shot_table import WORDS, LeftOut, Shot, ShotTable, WhyNoShot
from reportgen.records.tables import ColumnOf, ShotsFrom
from reportgen.records.words import Side
from reportgen.sheets.cells import CellError, decimal_sign, is_blank, unit_in
from reportgen.sheets.shot_cells import Column, column, day_of, number_in, same_unit, text_of
from reportgen.sheets.summaries import labels_in, summaries_at_the_end
from reportgen.sheets.tables import SPLIT_BY_COMMAS, ExportError, Row, Table, read_table, text_in, too_many

TOLD = 10
"""Faults of one table that are told one by one."""


class Fault(NamedTuple):
    """What is wrong at a place of the table, and how to mend it."""

    line: int
    column: int
    wrong: str
    mend: str


@dataclass(frozen=True)
class Asked:
    """What a sheet asks of a table: its `shots_from` entry, the map of columns, whether each column of it must be
    there, and of the lesson the hand and the club."""

    wanted: ShotsFrom
    columns: Mapping[str, ColumnOf]
    all_of_them: bool
    plays: Side
    club: str


@dataclass
class _Found:
    """What the rows of a table have given so far. `numbers` and `steps` are of each shot, by field; `blanks` words and
    lines."""

    shots: list[Shot] = field(default_factory=list)
    numbers: list[dict[str, float]] = field(default_factory=list)
    steps: list[dict[str, float]] = field(default_factory=list)
    left_out: list[LeftOut] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    blanks: list[tuple[str, int]] = field(default_factory=list)
    unread_dates: list[int] = field(default_factory=list)
    said: dict[tuple[str, str], str] = field(default_factory=dict)


def shots_in(raw: bytes, file: str, asked: Asked) -> tuple[ShotTable, list[Fault]]:
    """The shots of a table that lies in `file`, and what is wrong in it, by line and column. Raises ExportError where
    it is no table, or not the one that the map tells of."""
    if len(raw) > TABLE_BYTES:
        raise ExportError(f"the file is larger than {TABLE_BYTES >> 20} MiB", "Export the shots of this lesson alone.")
    try:
        table = _table(text_in(raw), asked)
    except csv.Error as error:
        raise ExportError(f"the file is no table of columns ({error})", "Export it again, as text.") from error
    columns = _columns(table, asked)
    found = _Found(faults=_twice(table, asked))
    if not found.faults:
        _read_rows(table, file, columns, asked, found)
    if not found.shots and not found.faults:
        raise ExportError("the table holds no shot", "Look at the file, or at the names of its columns.")
    absent = tuple(word for word, of in asked.columns.items() if of.column not in table.heading.cells)
    return _made(file, columns, absent, found), _first(found.faults)


def _made(file: str, columns: list[Column], absent: tuple[str, ...], found: _Found) -> ShotTable:
    """The table of what was found, without the rows at its end that sum up those above."""
    ends = len(found.shots) - summaries_at_the_end(found.numbers, found.steps)
    shots = found.shots[:ends]
    means = [LeftOut(line=shot.line, why="mean") for shot in found.shots[ends:]]
    lines = {shot.line for shot in shots}
    blanks: dict[str, tuple[int, ...]] = {}
    for word, line in found.blanks:
        if line in lines:
            blanks[word] = (*blanks.get(word, ()), line)
    steps: dict[str, float] = {}
    for one in found.steps[:ends]:
        steps |= {name: step for name, step in one.items() if step < steps.get(name, inf)}
    return ShotTable(
        file=file,
        shots=tuple(shots),
        left_out=(*found.left_out, *means),
        blanks=blanks,
        absent=absent,
        unread_dates=tuple(found.unread_dates),
        resolution={one.word: steps[one.field] for one in columns if one.field in steps},
        u={one.word: one.of.u * one.factor for one in columns if one.of.u is not None},
    )


def _first(faults: list[Fault]) -> list[Fault]:
    """The first faults; the last of them tells how many more there are."""
    if len(faults) <= TOLD:
        return faults
    last = faults[TOLD - 1]
    more = f"{last.wrong}, and {len(faults) - TOLD} more cells or lines below are faulty"
    return [*faults[: TOLD - 1], last._replace(wrong=more)]


def _table(text: str, asked: Asked) -> Table:
    must = [asked.wanted.shot] if asked.wanted.shot else []
    if asked.all_of_them:
        return read_table(text, [*must, *(of.column for of in asked.columns.values())])
    return read_table(text, must, [of.column for word, of in asked.columns.items() if word in WORDS])


def _columns(table: Table, asked: Asked) -> list[Column]:
    heading = table.heading.cells
    said = {"club": asked.wanted.club, "surface": asked.wanted.surface, "device": asked.wanted.device}
    return [
        column(heading.index(of.column), word, of, asked.plays)
        for word, of in asked.columns.items()
        if of.column in heading and said.get(word) is None
    ]


def _twice(table: Table, asked: Asked) -> list[Fault]:
    """A fault for each heading of the map that stands twice."""
    heading = table.heading.cells
    names = [of.column for of in asked.columns.values()] + ([asked.wanted.shot] if asked.wanted.shot else [])
    return [
        Fault(
            *table.place(table.heading.line, heading.index(name, heading.index(name) + 1)),
            f"{heading.count(name)} columns are called {name!r}",
            "Rename all but one of them, or take them out.",
        )
        for name in dict.fromkeys(names)
        if heading.count(name) > 1
    ]


def _read_rows(table: Table, file: str, columns: list[Column], asked: Asked, found: _Found) -> None:
    numbers = [one for one in columns if one.word in WORDS]
    texts = [one for one in columns if one.word not in WORDS]
    heading = table.heading.cells
    numbered = heading.index(asked.wanted.shot) if asked.wanted.shot else None
    in_front = {*range(min(one.at for one in numbers)), *(one.at for one in texts)} if numbers else set()
    labels = {at: labels_in([cell(row, at) for row in table.rows]) for at in in_front}

    wanted = asked.wanted
    of_all = {"club": wanted.club, "surface": wanted.surface, "device": wanted.device}
    of_all = {word: value for word, value in of_all.items() if value is not None}

    @cache
    def decimal() -> str:
        return decimal_sign(cell(row, one.at) for row in table.rows for one in numbers)

    for row in table.rows:
        if len(row.cells) > len(heading) and (wrong := too_many(table, row)) is not None:
            found.faults.append(Fault(*table.place(row.line, len(heading)), wrong, SPLIT_BY_COMMAS))
            continue
        if (why := _no_shot(row, numbers, labels, numbered)) is not None or row.cells == heading:
            found.left_out.append(LeftOut(line=row.line, why=why or "no number"))
            found.faults += _other_units(table, row, numbers) if row is table.rows[0] else []
            continue
        if len(found.shots) == SHOTS:
            wrong = f"the table holds more than {SHOTS} shots"
            found.faults.append(Fault(row.line, 1, wrong, "Export the shots of this lesson alone."))
            return
        faults = len(found.faults)
        values, steps = _numbers(table, row, numbers, decimal, found)
        said = _texts(table, row, texts, found)
        if len(found.faults) == faults:
            found.shots.append(Shot(file=file, line=row.line, **({"club": asked.club} | said | of_all), **values))
            found.numbers.append(values)
            found.steps.append(steps)


def _numbers(
    table: Table, row: Row, numbers: list[Column], decimal: Callable[[], str], found: _Found
) -> tuple[dict[str, float], dict[str, float]]:
    """The numbers of a row, and the step of the last decimal of each, by field."""
    values, steps = {}, {}
    for one in numbers:
        written = cell(row, one.at)
        if is_blank(written):
            found.blanks.append((one.word, row.line))
            continue
        try:
            values[one.field], steps[one.field] = number_in(written, one, decimal)
        except CellError as error:
            found.faults.append(Fault(*table.place(row.line, one.at), *error.args))
    return values, steps


def cell(row: Row, at: int) -> str:
    """What stands in a cell of a row; a row that ends before it has nothing there."""
    return row.cells[at] if at < len(row.cells) else ""


def _no_shot(
    row: Row, numbers: list[Column], labels: Mapping[int, frozenset[str]], numbered: int | None
) -> WhyNoShot | None:
    """Why a row is no shot by what is written in it; None where it is one."""
    if any(cell(row, at) in named for at, named in labels.items() if named):
        return "mean"
    if not any(_holds_number(cell(row, one.at)) for one in numbers):
        return "no number"
    if numbered is not None and not any(sign.isdigit() for sign in cell(row, numbered)):
        return "not numbered"
    return None


def _holds_number(written: str) -> bool:
    return any("0" <= sign <= "9" for sign in written) and unit_in(written) is None


def _other_units(table: Table, row: Row, numbers: list[Column]) -> list[Fault]:
    """A fault for each unit in the line below the heading that is not the map's."""
    return [
        Fault(
            *table.place(row.line, one.at),
            f"the line below the heading says {unit}, and the map says that {one.word} is in {one.of.unit}",
            "Correct unit: in columns.",
        )
        for one in numbers
        if (unit := unit_in(cell(row, one.at))) is not None and not same_unit(unit, one)
    ]


def _texts(table: Table, row: Row, texts: list[Column], found: _Found) -> dict[str, Any]:
    """What the columns of words say of a row, by field."""
    said: dict[str, Any] = {}
    for one in texts:
        written = cell(row, one.at)
        if is_blank(written):
            found.blanks.append((one.word, row.line))
        elif one.word == "date":
            said["day"] = day_of(written)
            if said["day"] is None:
                found.unread_dates.append(row.line)
        else:
            try:
                if (one.word, written) not in found.said:
                    found.said[one.word, written] = text_of(written, one)
                said[one.field] = found.said[one.word, written]
            except CellError as error:
                found.faults.append(Fault(*table.place(row.line, one.at), *error.args))
    return said
