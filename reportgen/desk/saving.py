"""What is typed at the desk reaches the sheet: one value at a time, in one step, and never over what somebody else has
changed meanwhile."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reportgen.errors import ReportgenError
from reportgen.rights import write_atomically
from reportgen.sheets.editing import Written, changed
from reportgen.sheets.reading import read_text
from reportgen.sheets.tree import Loc, parse


class ChangedMeanwhileError(ReportgenError):
    """The file has another value at that place than the page knew; `now` is what stands there."""

    def __init__(self, now: Any) -> None:
        super().__init__("This was changed in the file meanwhile.")
        self.now = now


@dataclass(frozen=True)
class Change:
    """A `value` for the place `loc`, at which the page knew the value `was`. With `add`, the value is a new item at the
    end of the list at `loc`."""

    loc: Loc
    was: Written
    value: Written
    add: bool = False


def save(sheet: Path, *changes: Change) -> None:
    """Write changed values into a sheet, all of them in one step or none. Raises ChangedMeanwhileError where another
    value stands at one of their places by now, ReportgenError where the sheet cannot be read or a place is not there,
    OSError."""
    text, problem = read_text(sheet, sheet.name)
    if text is None and (problem is None or "empty" not in problem.wrong):
        raise ReportgenError(str(problem))
    before = fresh = text or ""
    for change in changes:
        fresh = _with_change(fresh, change)
    if fresh != before:
        write_atomically(sheet, fresh.encode())


def _with_change(text: str, change: Change) -> str:
    found = parse(text, "sheet").value(change.loc) if text.strip() else None
    loc = change.loc
    if change.add:
        loc = (*loc, len(found) if isinstance(found, list) else 0)
    elif _plain(found) != _plain(change.was):
        raise ChangedMeanwhileError(found)
    try:
        return changed(text, loc, change.value)
    except KeyError:
        raise ChangedMeanwhileError(found) from None


def _plain(value: Any) -> Any:
    """A value by its signs: the file has texts alone, without the blanks that end a line, and a page sends nothing for
    an empty field."""
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items() if _plain(inner) not in (None, "")}
    if isinstance(value, list):
        return [_plain(inner) for inner in value]
    return "" if value is None else "\n".join(line.rstrip() for line in str(value).strip().splitlines())
