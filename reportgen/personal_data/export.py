"""`reportgen export`: all that is held about one student, as an archive to hand over; nothing of anybody else.

<id>/README.txt      what each thing is, in the student's language
<id>/folder/         the files of their folder
<id>/rounds/         the marks of second looks at their pictures
<id>/values.csv      <id>/lessons/     <id>/recaps/      what the program makes of them
<id>/films/         the films that the desk holds while a lesson is written
<id>/mails.csv       <id>/mails/                         what the journal has, and the texts of mails in the outbox
"""

import csv
import os
import shutil
import zipfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from email import message_from_bytes
from email.policy import default
from io import StringIO
from pathlib import Path

from reportgen.delivery.entry import Entry
from reportgen.errors import ReportgenError
from reportgen.films.working import FILMS, films_about
from reportgen.languages.speaking import speaking
from reportgen.pages.student_site import lesson_recap
from reportgen.personal_data.export_readme import readme
from reportgen.personal_data.others import without_others
from reportgen.personal_data.papers import mails_of
from reportgen.pipeline import reports_of
from reportgen.publishing.build_plan import student_names
from reportgen.records.academy import Academy
from reportgen.records.told import ToldLesson, ToldStill
from reportgen.records.told_swings import ToldSwing
from reportgen.rights import FILE, replacing
from reportgen.saying.readers import language_called, reader_of
from reportgen.saying.swings import swing_pairs
from reportgen.saying.telling import tell_all
from reportgen.sealing.keyring import member_names
from reportgen.sealing.privacy import keyring_of
from reportgen.sheets.academy_folder import AcademyFolder, SoundAcademy, StudentFolder, sound
from reportgen.sheets.rounds import read_rounds, round_text

ALWAYS_THE_SAME_TIME = (1980, 1, 1, 0, 0, 0)
TEXTS = (".yaml", ".yml", ".md", ".txt", ".csv", "~")
"""How the names of files end that are read, and may name other students."""


@dataclass(frozen=True)
class Exported:
    """Whether the sheets could be judged, and the files of the folder that were left out: links, and what cannot be
    read."""

    judged: bool
    left_out: tuple[str, ...]


def export_student(
    folder: AcademyFolder,
    student: str,
    to: Path,
    entries: Sequence[Entry],
    outbox: Path,
    table: Callable[[Sequence[ToldLesson]], str],
) -> Exported:
    """Write all that is held about a student of the academy into the archive `to`, for its owner's eyes alone,
    replacing what is there in one step; the same bytes for the same files. `entries` are the journal's, `table` writes
    judged lessons as CSV. A student whose sheets have problems gets the rest.

    Raises ReportgenError where `to` is no name for an archive or lies in the academy, OSError where it cannot be
    written.
    """
    if to.suffix.lower() != ".zip" or to.is_dir():
        raise ReportgenError(f"{to} is not the name of an archive. Give one that ends in .zip.")
    if to.resolve().is_relative_to(folder.root.resolve()):
        raise ReportgenError(f"{to} lies in the academy, where nothing is ever written. Give another place with --to.")
    theirs = folder.students[student]
    home = None if folder.shared_problems else sound(folder)
    reports = _judged(theirs, home) if home else ()
    others = [name for name in student_names(folder.root) if name != student]
    made: dict[str, bytes] = {}
    if reports and home:
        made["values.csv"] = table(reports).encode()
        for report in reports:
            made[f"lessons/{report.lesson}.json"] = report.model_dump_json(by_alias=True, indent=2).encode()
            made[f"recaps/{report.lesson}.pdf"] = lesson_recap(report, home)
    about = [entry for entry in entries if entry.student == student]
    if about:
        made["mails.csv"] = _mails(about).encode()
    known = {*student_names(folder.root), *(entry.student for entry in entries)} - {""}
    made |= _second_looks(folder, student)
    for mail in mails_of(student, outbox, known, entries)[0]:
        if mail.suffix == ".eml":
            made[f"mails/{mail.stem}.txt"] = _text_of(mail)
    keyring = keyring_of(folder.root)
    is_member = keyring.exists() and student in member_names(keyring)
    left_out: list[str] = []
    working = [film for film in films_about(folder.root, student) if film.suffix in FILMS]
    with replacing(to) as stream, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, file in _files_of(folder.root / "students" / student, left_out):
            _add_file(archive, f"{student}/folder/{name}", file, others, left_out)
        for film in working:
            lesson, number = film.parts[-3:-1]
            _add_file(archive, f"{student}/films/{lesson}-{number}{film.suffix}", film, others, left_out)
        with speaking(language_called(_language(theirs, folder.academy), folder.root)):
            made["README.txt"] = readme(
                theirs, folder.academy, [*made, *("films/" for _ in working)], bool(reports), is_member
            ).encode()
        for name, data in sorted(made.items()):
            archive.writestr(_named(f"{student}/{name}"), data)
    return Exported(bool(reports), tuple(left_out))


def _second_looks(folder: AcademyFolder, student: str) -> dict[str, bytes]:
    """The rounds with the student's pictures, and none of anybody else's."""
    found = {}
    for sheet in read_rounds(folder).rounds:
        if own := tuple(still for still in sheet.record.stills if still.student == student):
            found[sheet.path] = round_text(sheet.record.model_copy(update={"stills": own})).encode()
    return found


def _judged(theirs: StudentFolder, home: SoundAcademy) -> tuple[ToldLesson, ...]:
    """The lessons without anything that is compared with others; none where there are problems."""
    if theirs.student is None or theirs.problems or not theirs.lessons:
        return ()
    told = tell_all(reports_of(theirs, home), home.library, reader_of(theirs.student, home))
    return tuple(map(_own_pictures_only, told))


def _own_pictures_only(report: ToldLesson) -> ToldLesson:
    def own(shown: ToldStill | ToldSwing | None) -> bool:
        return shown is not None and shown.file.startswith(f"students/{report.student}/")

    pictures = tuple(
        picture if own(picture.beside) else picture.model_copy(update={"beside": None})
        for picture in report.pictures
        if picture.still is None or own(picture.still)
    )
    swings = tuple(
        seen if own(seen.beside) else seen.model_copy(update={"beside": None})
        for seen in report.swings
        if seen.swing is None or own(seen.swing)
    )
    told = {"pictures": pictures, "swings": swings, "swing_pairs": swing_pairs(swings)}
    return report.model_copy(update=told)


def _language(theirs: StudentFolder, academy: Academy | None) -> str:
    return (theirs.student and theirs.student.language) or (academy.language if academy else "en")


def _mails(about: Sequence[Entry]) -> str:
    """A line for each mail and address, as RFC 4180 has it."""
    written = StringIO()
    table = csv.writer(written)
    table.writerow(("lesson", "state", "since", "by", "address", "address_state", "server_said"))
    for entry in about:
        row = (entry.lesson, entry.state, entry.at.isoformat(), entry.via or "")
        for address, reach in entry.addresses.items() or [("", None)]:
            table.writerow((*row, address, *((reach.state, reach.says) if reach else ("", ""))))
    return written.getvalue()


def _text_of(mail: Path) -> bytes:
    """Whom a mail goes to and what it says; what is attached is in the archive by itself, or is of others."""
    read = message_from_bytes(mail.read_bytes(), policy=default)
    body = read.get_body(("plain",))
    heads = "".join(f"{name}: {read[name]}\n" for name in ("From", "To", "Subject", "Date") if read[name])
    return f"{heads}\n{body.get_content() if body else ''}".encode()


def _files_of(folder: Path, left_out: list[str]) -> Iterator[tuple[str, Path]]:
    """Every file of a student's folder with its path in it, links left out."""
    for at, inner, files in os.walk(folder):
        inner.sort()
        for name in sorted([*files, *(each for each in inner if (Path(at) / each).is_symlink())]):
            file = Path(at) / name
            inside = os.fsencode(file.relative_to(folder).as_posix()).decode("utf-8", "backslashreplace")
            if file.is_symlink() or not file.is_file():
                left_out.append(inside)
            else:
                yield inside, file


def _add_file(archive: zipfile.ZipFile, name: str, file: Path, others: Sequence[str], left_out: list[str]) -> None:
    inside = name.split("/", 1)[1].removeprefix("folder/")
    try:
        if file.name.endswith(TEXTS):
            archive.writestr(_named(name), without_others(file.read_bytes(), others))
            return
        with (
            file.open("rb") as read,
            archive.open(_named(name), "w", force_zip64=file.stat().st_size > 1 << 31) as into,
        ):
            shutil.copyfileobj(read, into)
    except PermissionError:
        left_out.append(inside)


def _named(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, ALWAYS_THE_SAME_TIME)
    info.compress_type, info.external_attr = zipfile.ZIP_DEFLATED, FILE << 16
    return info
