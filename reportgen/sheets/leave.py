"""What a student's file says of pictures, read apart from the rest of it: a slip elsewhere must not hide that leave was
taken back."""

from dataclasses import dataclass
from pathlib import Path

from pydantic import ConfigDict

from reportgen.records.academy import Consent
from reportgen.records.base import Record, Slug
from reportgen.sheets.reading import read_sheet


@dataclass(frozen=True)
class Leave:
    """Leave to show pictures, None where there is none, and with whom they are shared."""

    pictures: Consent | None
    shares_with: tuple[str, ...]


class _OfPictures(Record):
    model_config = ConfigDict(extra="ignore")

    pictures: Consent | None = None
    shares_with: tuple[Slug, ...] = ()


def leave_in(folder: Path) -> Leave | None:
    """What the file in a student's folder says; None where it is not there or does not say it for certain."""
    sheet, _ = read_sheet(folder / "student.yaml", "student.yaml", _OfPictures, folder.parent.parent)
    if sheet is None or sheet.tree.problems:
        return None
    return Leave(sheet.record.pictures, sheet.record.shares_with)
