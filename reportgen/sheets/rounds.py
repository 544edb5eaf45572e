"""The second looks of an academy: files in its folder `rounds`, read, and held against the sheets that they speak of.

They touch no page: a publish does not read them.
"""

import json
import os
import re
from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from reportgen.records.base import Pixel
from reportgen.records.bounds import ROUNDS
from reportgen.records.lesson import Lesson
from reportgen.records.rounds import MarkedAgain, Round
from reportgen.records.stills import Still
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet
from reportgen.sheets.files import entries, is_the_systems
from reportgen.sheets.problems import Problem, nearest, shown
from reportgen.sheets.reading import Sheet, read_sheet

FOLDER = "rounds"

_NAME = re.compile(r"^(?:19|20)\d\d-\d\d-\d\d(-[a-z0-9]+)*\.yaml$")


class KeptRounds(NamedTuple):
    """The rounds that can be used, and every problem of the files."""

    rounds: tuple[Sheet[Round], ...]
    problems: tuple[Problem, ...]


def read_rounds(folder: AcademyFolder) -> KeptRounds:
    """All rounds of an academy whose students have been read, by the names of their files."""
    problems: list[Problem] = []
    found = []
    for file in entries(folder.root / FOLDER, FOLDER, problems, folder.root, ROUNDS):
        if file.name.startswith(".") or file.name.endswith("~") or is_the_systems(file.name) or os.path.isdir(file):
            continue
        path = f"{FOLDER}/{shown(file.name)}"
        if not is_round(file.name):
            wrong = "the name of the file is not a date"
            problems.append(Problem(path, 1, 1, wrong, "Name it as 2026-03-05.yaml or 2026-03-05-anna.yaml."))
            continue
        sheet, wrong_in_it = read_sheet(file, path, Round, folder.root)
        problems += wrong_in_it
        if sheet is not None:
            problems += _unknown(sheet, folder)
            found.append(sheet)
    return KeptRounds(tuple(found), tuple(problems))


def is_round(name: str) -> bool:
    """Whether a file of that name can be a round: its day, and what tells it from others of the day."""
    return _NAME.fullmatch(name) is not None


def lesson_of(entry: MarkedAgain, folder: AcademyFolder) -> LessonSheet | None:
    """The lesson that an entry of a round speaks of; None where it is not there."""
    student = folder.students.get(entry.student)
    return next((one for one in student.lessons if one.name == entry.lesson), None) if student else None


def still_of(entry: MarkedAgain, lesson: Lesson) -> Still | None:
    """The first still of a lesson with the picture of an entry and marks; None where it is not there."""
    return next((still for still in lesson.stills if still.file == entry.file and still.marks), None)


def _unknown(sheet: Sheet[Round], folder: AcademyFolder) -> Iterator[Problem]:
    """A problem for each picture that no sheet has, and each point that the sheet does not have."""
    for number, entry in enumerate(sheet.record.stills):
        at = ("stills", number)
        student, lesson = folder.students.get(entry.student), lesson_of(entry, folder)
        if student is None:
            meant = nearest(entry.student, folder.students, "")
            mend = f"{meant} Take these lines out if the student has gone.".lstrip()
            yield sheet.problem((*at, "student"), f"there is no student {entry.student}", mend)
        elif lesson is None:
            mend = nearest(entry.lesson, [one.name for one in student.lessons])
            yield sheet.problem((*at, "lesson"), f"{student.id} has no lesson {shown(entry.lesson)}", mend)
        elif (still := still_of(entry, lesson.lesson)) is None:
            marked = [one.file for one in lesson.lesson.stills if one.marks]
            yield sheet.problem(
                (*at, "file"), "the lesson has no marked picture of this name", nearest(entry.file, marked)
            )
        else:
            for mark in entry.marks.keys() - still.marks.keys():
                wrong = f"the lesson's sheet has no {mark} on this picture"
                yield sheet.problem((*at, "marks", mark), wrong, "Set it there too, or take it out here.", key=True)


def name_of_round(on: date, marked_by: str | None, taken: Iterable[str]) -> str:
    """A name for the file of a round that is not taken yet: its day, who marked, and a number from the second on."""
    who = re.sub(r"[^a-z0-9]+", "-", (marked_by or "").lower()).strip("-")[:40].strip("-")
    stem, known = f"{on}-{who}" if who else str(on), set(taken)
    return next(name for n in range(1, ROUNDS + 2) if (name := f"{stem}{'' if n == 1 else f'-{n}'}.yaml") not in known)


def round_text(kept: Round) -> str:
    """A round as it is written: YAML that a person can read and mend."""
    lines = [f"date: {kept.date}"]
    if kept.marked_by is not None:
        lines.append(f"marked_by: {_quoted(kept.marked_by)}")
    lines.append("stills:")
    for entry in kept.stills:
        lines += [f"  - student: {entry.student}", f"    lesson: {entry.lesson}", f"    file: {_quoted(entry.file)}"]
        lines += ["    marks:", *(f"      {mark}: {_pair(place)}" for mark, place in entry.marks.items())]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _pair(place: Pixel) -> str:
    return f"[{place[0]:.12g}, {place[1]:.12g}]"
