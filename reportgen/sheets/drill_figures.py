"""What is wrong with the figures of a drill, and the pictures that lie beside it."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from reportgen.posing.solving import faults_of
from reportgen.records.content import Drill
from reportgen.sheets.files import leads_out
from reportgen.sheets.picture_files import picture_fault
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet

_ITEM = re.compile(r"^(?:\d+[.)]|[-*+])[ \t]+(.+)$")


def lines_of(section: str) -> list[str]:
    """The items of a list in a section of a drill, without their numbers; what goes on below an item belongs to it."""
    found: list[str] = []
    for line in section.splitlines():
        if (item := _ITEM.match(line)) is not None:
            found.append(item[1].strip())
        elif found and line.strip():
            found[-1] += f" {line.strip()}"
    return found


def pictures_beside(drill: Drill, file: Path) -> Mapping[int, Path]:
    """Where the pictures of the drill in `file` lie that are no drawings, by the number of the figure from 0 on."""
    return {at: file.parent / figure.picture for at, figure in enumerate(drill.figures) if figure.picture is not None}


def figure_problems(sheet: Sheet[Drill], pictures: Mapping[int, Path]) -> Iterator[Problem]:
    """What is wrong with each figure of a drill that an academy has written."""
    drill = sheet.record
    for at, figure in enumerate(drill.figures):
        loc = ("figures", at)
        for key, section in (("step", "Steps"), ("mistake", "Common mistakes")):
            there, number = len(lines_of(drill.sections.get(section, ""))), getattr(figure, key)
            if number is not None and number > there:
                wrong = f"the drill has no {key} {number}"
                yield sheet.problem((*loc, key), wrong, f"Its section {section} has {there}: write one of them.")
        if figure.picture is None:
            for wrong, mend in faults_of(figure):
                yield sheet.problem(loc, f"the figure {wrong}", mend)
        elif (fault := _fault_of(pictures[at])) is not None:
            yield sheet.problem((*loc, "picture"), *fault)


def _fault_of(picture: Path) -> tuple[str, str] | None:
    if leads_out(picture, picture.parent):
        return "the picture is a link out of the drill's folder", "Put the file itself beside the drill."
    return picture_fault(picture)
