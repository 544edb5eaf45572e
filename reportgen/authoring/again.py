"""A second look at the academy's own stills: which are offered, and what is kept of it."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from reportgen.errors import ReportgenError
from reportgen.records.base import Pixel
from reportgen.records.rounds import MarkedAgain, Round
from reportgen.records.stills import Still
from reportgen.records.words import Mark
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet, StudentFolder
from reportgen.sheets.attached import student_of
from reportgen.sheets.rounds import KeptRounds, read_rounds

OFFERED = 12
"""Stills of one second look: an hour of marking, and enough to tell (own figure)."""
OF_A_LESSON = 4
"""Stills of one lesson at first: what its points share is seen in several of them alone."""


class Offered(NamedTuple):
    """A still that can be marked again, with the scale of its picture."""

    student: StudentFolder
    lesson: LessonSheet
    still: Still
    file: Path
    px_per_m: float

    @property
    def key(self) -> tuple[str, str, str]:
        return self.student.id, self.lesson.name, self.still.file


def offered(folder: AcademyFolder) -> Iterator[Offered]:
    """Every marked still of a lesson that is ready, with a scale, its own or of the same view, that lies in its
    student's own folder. A student with problems has none, and one whose leave for pictures was taken back neither."""
    for student in folder.students.values():
        if student.student is None or student.problems:
            continue
        if student.student.pictures is not None and student.student.pictures.withdrawn_on is not None:
            continue
        for lesson in student.lessons:
            if lesson.lesson.draft:
                continue
            seen: set[str] = set()
            for still in lesson.lesson.stills:
                place, scale = lesson.attached.places.get(still.file, ""), scale_of(still, lesson)
                if still.marks and scale and student_of(place) == student.id and still.file not in seen:
                    seen.add(still.file)
                    yield Offered(student, lesson, still, folder.root / place, scale)


def scale_of(still: Still, lesson: LessonSheet) -> float | None:
    """Pixels a metre: by the still's own scale, or by the first of its view."""
    lent = (one.scale for one in lesson.lesson.stills if one.view == still.view and one.scale)
    scale = still.scale or next(lent, None)
    return scale.px_per_m if scale else None


def choose(stills: Iterator[Offered], rounds: Sequence[Round]) -> list[Offered]:
    """The stills of the latest round that can be offered; then OF_A_LESSON of each lesson in turn, one lesson a student
    first, those with most stills and the latest before others; then whatever else there is."""
    of_lesson: dict[tuple[str, str], list[Offered]] = {}
    for one in stills:
        of_lesson.setdefault((one.student.id, one.lesson.name), []).append(one)
    lessons = sorted(of_lesson.values(), key=lambda found: (min(len(found), OF_A_LESSON), found[0].lesson.name))[::-1]
    first: dict[str, list[Offered]] = {}
    for found in lessons:
        first.setdefault(found[0].student.id, found)
    lessons = [*first.values(), *(found for found in lessons if found not in first.values())]
    by_key = {one.key: one for found in lessons for one in found}
    before = max(rounds, key=lambda kept: kept.date).stills if rounds else ()
    again = [by_key[key] for entry in before if (key := (entry.student, entry.lesson, entry.file)) in by_key]
    spread = [one for found in lessons for one in _some(found)]
    every = {one.key: one for one in (*again, *spread, *by_key.values())}
    return list(every.values())[:OFFERED]


def _some(found: Sequence[Offered]) -> list[Offered]:
    """OF_A_LESSON of a lesson's stills, evenly from the first to the last; all where there are no more."""
    if len(found) <= OF_A_LESSON:
        return list(found)
    return [found[round(k * (len(found) - 1) / (OF_A_LESSON - 1))] for k in range(OF_A_LESSON)]


def name_of_marker(marked_by: str | None, folder: AcademyFolder) -> str | None:
    """Who marks; None for the instructor, whose name need not be given."""
    own = folder.academy.instructor.name if folder.academy else None
    return None if marked_by is None or marked_by.strip() in ("", own) else marked_by.strip()


def with_marks(kept: Round | None, one: Offered, marks: Mapping[Mark, Pixel], on: date, by: str | None) -> Round | None:
    """A round with those points for a picture instead of what it had there; a new one of that day and marker where
    nothing was kept so far. None where no point is left at all."""
    student, lesson, file = one.key
    entry = [MarkedAgain(student=student, lesson=lesson, file=file, marks=dict(marks))] if marks else []
    before = kept.stills if kept else ()
    others = [other for other in before if (other.student, other.lesson, other.file) != one.key]
    stills = (*others, *entry)
    if not stills:
        return None
    return Round(date=kept.date if kept else on, marked_by=kept.marked_by if kept else by, stills=stills)


def readable_rounds(folder: AcademyFolder) -> KeptRounds:
    """The rounds of the academy. Raises ReportgenError with the first problem where one cannot be used."""
    kept = read_rounds(folder)
    if kept.problems:
        raise ReportgenError(f"{kept.problems[0]} reportgen check tells all that is wrong with the rounds.")
    return kept


def stills_by_key(folder: AcademyFolder) -> Mapping[tuple[str, str, str], Offered]:
    """What is offered, by student, lesson and file."""
    return {one.key: one for one in offered(folder)}
