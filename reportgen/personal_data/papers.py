"""Files about a student that the program wrote beside an academy, known again by their names."""

import re
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from reportgen.delivery.entry import Entry

_MARKING_PAGE = b'<meta name="generator" content="reportgen mark">'
"""What pages for setting marks said of themselves, which earlier versions wrote."""
_LESSON = r"(?:19|20)\d\d-\d\d-\d\d(?:-[2-9])?"


def papers_of(student: str, folders: Iterable[Path]) -> Iterator[Path]:
    """Recaps and letters with the names that commands give them, those that were being written too."""
    named = re.compile(rf"(\.?)(recap-{re.escape(student)}-{_LESSON}|letter-{re.escape(student)})\.pdf(\.new)?")
    for file in _files_in(folders):
        found = named.fullmatch(file.name)
        if found and bool(found[1]) == bool(found[3]):
            yield file


def mails_of(
    student: str, outbox: Path, known: Iterable[str], entries: Iterable[Entry]
) -> tuple[list[Path], list[Path]]:
    """The mails to a student that lie in the outbox, and those that nobody can tell whether they are: an id can be the
    end of a lesson's name and another id. `known` are all ids, `entries` the journal's."""
    mine = _mail_name(student)
    others = [_mail_name(other) for other in known if other != student]
    of = {f"{e.lesson}-{e.student}-{e.revision[:8]}": e.student for e in entries}
    theirs, in_doubt = [], []
    for file in _files_in([outbox]):
        if not mine.fullmatch(file.name):
            continue
        whose = of.get(file.name.removeprefix(".").partition(".eml")[0])
        if whose == student or (whose is None and not any(other.fullmatch(file.name) for other in others)):
            theirs.append(file)
        elif whose is None:
            in_doubt.append(file)
    return theirs, in_doubt


def exports_of(student: str, folders: Iterable[Path]) -> Iterator[Path]:
    """What was exported of a student."""
    for file in _files_in(folders):
        if file.suffix.lower() == ".zip":
            with suppress(OSError, zipfile.BadZipFile), zipfile.ZipFile(file) as archive:
                if any(name.startswith(f"{student}/") for name in archive.namelist()):
                    yield file


def marking_pages(folders: Iterable[Path]) -> Iterator[Path]:
    """Pages for setting marks, which hold the pictures that they were made from; earlier versions wrote them."""
    for file in _files_in(folders):
        if file.suffix == ".html":
            with file.open("rb") as opened:
                if _MARKING_PAGE in opened.read(4096):
                    yield file


def _mail_name(student: str) -> re.Pattern[str]:
    return re.compile(rf"\.?{_LESSON}-{re.escape(student)}-[0-9a-f]{{8}}\.eml(\.new|\.part)?")


def _files_in(folders: Iterable[Path]) -> Iterator[Path]:
    for folder in dict.fromkeys(folder.resolve() for folder in folders):
        if folder.is_dir():
            yield from (file for file in sorted(folder.iterdir()) if file.is_file())
