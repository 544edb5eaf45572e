"""A drill is a Markdown file: front matter between two lines of hyphens, then its sections."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path

from reportgen.records.bounds import LINE, TEXT
from reportgen.records.content import DRILL_SECTIONS, Drill
from reportgen.sheets.long_texts import text_faults
from reportgen.sheets.problems import Problem, nearest, shown
from reportgen.sheets.reading import Sheet, read_text, sheet_of

_FENCE = re.compile(r"^---[ \t]*$")
_HEADING = re.compile(r"^## +(.+?)[ \t]*$")


def read_drill(file: Path, path: str, within: Path | None = None) -> tuple[Sheet[Drill] | None, Sequence[Problem]]:
    """The drill in `file`, told as `path`, or the problems why there is none; it must lie `within` a folder, where one
    is given."""
    text, problem = read_text(file, path, within)
    if text is None:
        return None, [problem] if problem else []
    return _drill_of(text, path)


@lru_cache(maxsize=512)
def _drill_of(text: str, path: str) -> tuple[Sheet[Drill] | None, Sequence[Problem]]:
    """The library is read for every lesson that is looked at, and to read what has not changed is most of that."""
    lines = text.splitlines()
    fences = [number for number, line in enumerate(lines) if _FENCE.match(line)][:2]
    if len(fences) < 2 or fences[0] != 0:
        return None, [
            Problem(path, 1, 1, "the drill has no front matter", "Begin it with --- and end its keys with ---.")
        ]
    body_from = fences[1] + 1
    sections, problems = _sections(lines[body_from:], path, body_from + 1)
    front = "\n".join(lines[1 : fences[1]]) + "\n"
    sheet, more = sheet_of(front, path, Drill, first_line=2, extra={"sections": sections})
    return sheet, problems + more


def _sections(lines: list[str], path: str, first_line: int) -> tuple[dict[str, str], list[Problem]]:
    """The text under each heading, and a problem for each heading that is missing, unknown or there twice."""
    problems: list[Problem] = []
    found: dict[str, list[str]] = {}
    begins: dict[str, int] = {}
    heading: str | None = None
    for number, line in enumerate(lines, first_line):
        match = _HEADING.match(line)
        if match:
            heading = match[1][:LINE]
            if heading not in DRILL_SECTIONS:
                mend = nearest(heading, DRILL_SECTIONS)
                problems.append(Problem(path, number, 4, f"the heading {shown(heading)!r} is not one of a drill", mend))
            elif heading in found:
                problems.append(Problem(path, number, 4, f"the heading {heading!r} stands here again", "Keep one."))
            found.setdefault(heading, [])
            begins.setdefault(heading, number + 1)
        elif heading is not None:
            found[heading].append(line)
        elif line.strip():
            problems.append(
                Problem(path, number, 1, "a text stands before the first heading", "Put it under ## Set-up.")
            )
            heading = ""
            found[heading] = []
    misspelt = [other for other in found if other not in DRILL_SECTIONS]
    for name, begin in begins.items():
        problems += _too_much("\n".join(found[name]), name, path, begin)
    sections = {name: "\n".join(text).strip()[:TEXT] for name, text in found.items()}
    for name in DRILL_SECTIONS:
        if not sections.get(name) and not any(name in nearest(other, DRILL_SECTIONS, "") for other in misspelt):
            problems.append(
                Problem(path, first_line, 1, f"the section {name} is missing or empty", f"Write ## {name}.")
            )
    return sections, problems


def _too_much(text: str, name: str, path: str, first_line: int) -> Iterator[Problem]:
    """What a section holds too much of."""
    if len(text.strip()) > TEXT:
        yield Problem(path, first_line - 1, 4, f"the section {name} is too long", f"Write at most {TEXT} characters.")
    for at, wrong, mend in text_faults(text):
        *before, here = text[:at].split("\n")
        yield Problem(path, first_line + len(before), len(here) + 1, wrong, mend)
