"""The stills of a sheet that is being written: each by itself, so that a slip elsewhere hides none of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from reportgen.records.stills import Still
from reportgen.sheets.attached import student_of
from reportgen.sheets.files import below
from reportgen.sheets.picture_files import picture_fault, picture_size
from reportgen.sheets.reading import read_text
from reportgen.sheets.tree import parse

_GROUND = ("scale", "stick", "camera", "fps", "frame", "time", "lag", "swing")
"""What a still can do without: with a slip in one of these its marks are still there."""


@dataclass(frozen=True)
class WrittenStill:
    """A still by its number in the sheet, as a record and as it is `written` there, sign by sign; its picture and how
    many pixels that has."""

    number: int
    still: Still
    written: Mapping[str, Any]
    picture: Path
    size: tuple[int, int]


def stills_written(sheet: Path, root: Path) -> tuple[WrittenStill, ...]:
    """The stills of a sheet whose pictures are there and whole; none where the sheet cannot be read."""
    found = (_still(number, row, sheet, root) for number, row in enumerate(_rows(sheet, "stills")))
    return tuple(one for one in found if one is not None)


def views_of_swings(sheet: Path) -> set[Any]:
    """The views of which a sheet has a swing to step through already."""
    return {row.get("view") for row in _rows(sheet, "swings") if isinstance(row, Mapping)}


def _rows(sheet: Path, key: str) -> Sequence[Any]:
    text, _ = read_text(sheet, sheet.name)
    data = parse(text, sheet.name).data if text is not None else None
    rows = data.get(key) if isinstance(data, Mapping) else None
    return rows if isinstance(rows, Sequence) else ()


def read_still(written: Mapping[str, Any]) -> Still | None:
    """A still as it is written; without what it can do without where there is a slip in that. None where it is none."""
    without = {key: value for key, value in written.items() if key not in _GROUND}
    for row in (written, without):
        try:
            return Still.model_validate(row)
        except ValidationError:
            continue
    return None


def _still(number: int, row: Any, sheet: Path, root: Path) -> WrittenStill | None:
    if not isinstance(row, Mapping) or (still := read_still(row)) is None:
        return None
    picture, fault = below(still.file, sheet.parent, root)
    if picture is None or fault or not student_of(picture.relative_to(root.resolve()).as_posix()):
        return None
    try:
        size = _size(picture, picture.stat().st_mtime_ns)
    except OSError:
        return None
    return WrittenStill(number, still, row, picture, size) if size else None


@lru_cache(maxsize=256)
def _size(picture: Path, changed: int) -> tuple[int, int] | None:
    """Width and height of a picture that was `changed` then; None where it is not whole."""
    return None if picture_fault(picture) else picture_size(picture)
