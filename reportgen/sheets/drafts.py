"""Lesson sheets that are not ready: they say `draft: true`, and are no lessons yet."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reportgen.records.lesson import Lesson
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet, read_text, sheet_of_tree
from reportgen.sheets.tree import Loc, Tree, parse

_FILLED_BY: Mapping[str, tuple[str, ...]] = {
    "readings": ("value", "trials"),
    "shots": ("made", "strike"),
}
"""The keys of which a row of a sheet has one as soon as it is filled in."""

_TO_BE_ASKED: Mapping[str, tuple[str, ...]] = {"comfort": ("score",)}
"""The same of rows that somebody must be asked about: a draft is looked at without them, and never made ready."""

_SAYS_SO = re.compile(r"(?m)^draft:[ \t]+[\"']?true\b")


@dataclass(frozen=True)
class Draft:
    """A sheet that is not ready, by its name and its path in the academy, and what is wrong with it so far."""

    name: str
    path: str
    problems: tuple[Problem, ...]


def is_draft(sheet: Sheet[Lesson] | None, file: Path) -> bool:
    """Whether a sheet says that it is a draft. One that could not be read into a record is asked by its text: half a
    value must not make a lesson of it."""
    if sheet is not None:
        return sheet.record.draft
    text, _ = read_text(file, file.name)
    return text is not None and _SAYS_SO.search(text) is not None


def unfilled(data: Any) -> list[Loc]:
    """The rows that a begun sheet has from the last lesson and that nobody has filled in, the last first."""
    return _open_rows(data, _FILLED_BY)


def _open_rows(data: Any, filled_by: Mapping[str, tuple[str, ...]]) -> list[Loc]:
    rows = data if isinstance(data, Mapping) else {}
    return [
        (key, number)
        for key, fills in filled_by.items()
        for number, row in reversed(list(enumerate(rows[key] if isinstance(rows.get(key), list) else ())))
        if isinstance(row, Mapping) and not any(row.get(fill) for fill in fills)
    ]


def read_as_filled(file: Path, path: str) -> tuple[Sheet[Lesson] | None, list[Problem]]:
    """A draft as the lesson that it is so far: without the rows that are not filled in. Places of its problems are true
    but for rows below those."""
    text, problem = read_text(file, path)
    if text is None:
        return None, [problem] if problem else []
    tree = parse(text, path)
    for key, number in _open_rows(tree.data, {**_FILLED_BY, **_TO_BE_ASKED}):
        del tree.data[key][number]
    return sheet_of_tree(_without_empty(tree), path, Lesson)


def _without_empty(tree: Tree) -> Tree:
    for key in (*_FILLED_BY, *_TO_BE_ASKED):
        if isinstance(tree.data, dict) and tree.data.get(key) == []:
            del tree.data[key]
    return tree


def draft_warnings(drafts: Iterable[Draft]) -> list[str]:
    """A line for each draft, and one for each thing that is still missing or wrong in it."""
    lines = []
    for draft in drafts:
        lines.append(f"{draft.path}: a draft, so no lesson yet. When it is ready, take out the line draft: true.")
        lines += [f"{problem} (a draft)" for problem in draft.problems]
    return lines
