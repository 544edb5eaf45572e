"""A small academy to begin with: one invented student, every file with remarks that teach it."""

import re
from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path
from secrets import token_urlsafe
from typing import Literal

from reportgen.errors import ReportgenError
from reportgen.publishing.replacing import write_tree
from reportgen.records.academy import Academy
from reportgen.records.base import Record
from reportgen.records.words import UnitSystem
from reportgen.sheets.editing import changed
from reportgen.sheets.files import is_the_systems
from reportgen.sheets.reading import sheet_of
from reportgen.sheets.shipped import shipped
from reportgen.sheets.today import today_in

LAST_LESSON = date(2026, 1, 15)
"""The day of the latest lesson as shipped; all days are moved so that it is the day of the start."""

TIMEZONE = "UTC"
"""Of the academy as shipped."""

SECRET = "a-fresh-one-is-written-here"  # noqa: S105  a placeholder
KINDS = ("academy", "student", "lesson", "metric", "bands", "drill", "safety")
"""The files whose JSON Schemas a first academy carries."""

USUAL = {"language": "en", "units": "metric", "paper": "A4"}
"""What academy.yaml need not say."""

_DAY = re.compile(r"\b2026-01-\d\d\b")


class Own(Record):
    """What is asked of who begins an academy: its name, who teaches, and what pages are like."""

    name: str
    instructor: str
    timezone: str
    language: str
    units: UnitSystem
    paper: Literal["A4", "Letter"]


def site_beside(academy: Path) -> Path:
    """The folder beside an academy that it is published into where nothing else is said."""
    beside = academy.resolve() if academy.name in ("", "..") else academy
    return beside.with_name(f"{beside.name}-site")


def start_academy(to: Path, schemas: Mapping[str, str], own: Own | None = None) -> Path:
    """Write a first academy into `to`, with a lesson a week ago and one today; `schemas` holds the JSON Schema of each
    kind of file as text. With `own`, academy.yaml says that.

    Raises ReportgenError where something stands there already or where `own` is wrong, OSError where it cannot be
    written.
    """
    if to.is_symlink() or (to.exists() and not to.is_dir()):
        raise ReportgenError(f"{to} is there already, and is no folder. Give a new name.")
    if to.is_dir() and any(not is_the_systems(entry.name) for entry in to.iterdir()):
        raise ReportgenError(f"{to} is not empty. Give a new name, or an empty folder.")
    root = shipped("content") / "start"
    home = _said((root / "academy.yaml").read_text(encoding="utf-8"), own) if own else None
    later = today_in(own.timezone if own else TIMEZONE) - LAST_LESSON
    files = {}
    for file in sorted(root.rglob("*")):
        if file.is_file():
            name = file.relative_to(root).as_posix()
            is_text = file.suffix == ".yaml"
            files[_moved(name, later)] = _own(file, later).encode() if is_text else file.read_bytes()
    if home is not None:
        files["academy.yaml"] = home.replace(SECRET, token_urlsafe(24)).encode()
    files |= {f"schemas/{kind}.json": schema.encode() + b"\n" for kind, schema in schemas.items()}
    write_tree(to, files)
    return to


def _said(text: str, own: Own) -> str:
    """academy.yaml with what was asked. Raises ReportgenError where that is wrong."""
    said = {("name",): own.name, ("instructor", "name"): own.instructor, ("timezone",): own.timezone}
    said |= {(key,): value for key in ("language", "units", "paper") if (value := getattr(own, key)) != USUAL[key]}
    for loc, value in said.items():
        text = changed(text, loc, value.strip() or None)
    _, problems = sheet_of(text.replace(SECRET, token_urlsafe(24)), "academy.yaml", Academy)
    if problems:
        raise ReportgenError(" ".join(f"{problem.wrong}. {problem.mend}" for problem in problems))
    return text


def _own(file: Path, later: timedelta) -> str:
    return _moved(file.read_text(encoding="utf-8"), later).replace(SECRET, token_urlsafe(24))


def _moved(text: str, later: timedelta) -> str:
    """The text with its days moved."""
    return _DAY.sub(lambda day: str(date.fromisoformat(day[0]) + later), text)
