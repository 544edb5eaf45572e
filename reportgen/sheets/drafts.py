"""Lesson sheets that are not ready: they say `draft: true`, and are no lessons yet."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from reportgen.records.lesson import Lesson
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet, read_text

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


def draft_warnings(drafts: Iterable[Draft]) -> list[str]:
    """A line for each draft, and one for each thing that is still missing or wrong in it."""
    lines = []
    for draft in drafts:
        lines.append(f"{draft.path}: a draft, so no lesson yet. When it is ready, take out the line draft: true.")
        lines += [f"{problem} (a draft)" for problem in draft.problems]
    return lines
