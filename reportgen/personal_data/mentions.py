"""Where a student is still named: a search through the bytes of files for what a student is known by."""

import html
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reportgen.records.academy import Student
from reportgen.sheets.reading import read_sheet

PICTURES = (".png", ".jpg", ".jpeg")
LARGEST = 64_000_000
"""Bytes of a file that is looked into; a larger one is a video."""
LINES = 5
"""So many lines of a file are named; the others are counted."""


@dataclass(frozen=True)
class KnownBy:
    """What a student is known by: the id, full names, and mail addresses, the guardian's too."""

    id: str
    names: frozenset[str] = frozenset()
    addresses: frozenset[str] = frozenset()

    def pattern(self) -> re.Pattern[bytes]:
        """Finds any of it, as it is written in sheets, in pages and in notes."""
        found = [rf"(?<![a-z0-9-]){re.escape(self.id)}(?![a-z0-9-])"]
        for word in sorted(self.names | self.addresses):
            found += [re.escape(form) for form in dict.fromkeys((word, html.escape(word), json.dumps(word)[1:-1]))]
        return re.compile("|".join(found).encode(), re.IGNORECASE)


def known_by(student: str, root: Path, notes: Iterable[Mapping[str, Any]], addresses: Iterable[str]) -> KnownBy:
    """What is known of a student from student.yaml, where that is there, from what desks say, and the addresses that
    the journal of mails has."""
    names, mails = set(), set(addresses)
    written = [note.get("student") for note in notes]
    file = root / "students" / student / "student.yaml"
    if file.is_file():
        sheet, _ = read_sheet(file, file.name, Student)
        written.append(sheet.record.model_dump(by_alias=True) if sheet else None)
    for each in written:
        try:
            record = Student.model_validate(each)
        except ValueError:  # nothing, or of an earlier program
            continue
        names.add(record.name)
        mails |= {*record.mail.to, *([record.guardian.mail] if record.guardian and record.guardian.mail else ())}
    return KnownBy(student, frozenset(names), frozenset(mails))


def mentions(files: Iterable[Path], pattern: re.Pattern[bytes]) -> Iterator[str]:
    """The files that a pattern is found in, each with its lines where it is a text: `academy.yaml:3`."""
    for file in files:
        try:
            if not file.is_file() or file.suffix.lower() in PICTURES or file.stat().st_size > LARGEST:
                continue
            data = file.read_bytes()
        except OSError:
            yield f"{file} (it cannot be read: look yourself)"
            continue
        lines = list(dict.fromkeys(data.count(b"\n", 0, hit.start()) + 1 for hit in pattern.finditer(data)))
        if lines and b"\0" in data:
            yield str(file)
        else:
            yield from (f"{file}:{line}" for line in lines[:LINES])
            if len(lines) > LINES:
                yield f"{file}, in {len(lines) - LINES} more lines"


def the_same_bytes(files: Iterable[Path], among: Iterable[Path]) -> Iterator[Path]:
    """Of the files `among` those that hold the very bytes of one of `files`."""
    by_size: dict[int, list[Path]] = {}
    for file in files:
        by_size.setdefault(file.stat().st_size, []).append(file)
    for other in among:
        sizes = by_size.get(other.stat().st_size, ())
        if any(other.read_bytes() == file.read_bytes() for file in sizes):
            yield other
