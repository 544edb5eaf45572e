"""A second look at the academy's own stills: which are offered, the page for it, and the file that is kept."""

from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

from reportgen.authoring.marking_page import place_for, shipped_language
from reportgen.errors import ReportgenError
from reportgen.languages.speaking import speaking
from reportgen.pages.marking import Unseen, second_look_page
from reportgen.records.lesson import Still
from reportgen.records.rounds import MarkedAgain, MarkedPage, Round
from reportgen.rights import write_atomically
from reportgen.saying.readers import Reader, library_for
from reportgen.sheets.academy_folder import AcademyFolder, LessonSheet, StudentFolder, sound
from reportgen.sheets.attached import student_of
from reportgen.sheets.reading import read_sheet
from reportgen.sheets.rounds import FOLDER, KeptRounds, name_of_round, read_rounds, round_text

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


def write_second_look(folder: AcademyFolder, marked_by: str | None, to: Path, code: str) -> Path:
    """Write the page of a second look to `to`, replacing an earlier marking page in one step. Its stills are those of
    the latest round, as far as they are still there, so that two rounds can be held against each other.

    Raises ReportgenError where no still can be offered, or another file stands at `to`, OSError.
    """
    home, language = sound(folder), shipped_language(code)
    place_for(to)
    chosen = choose(offered(folder), [sheet.record for sheet in read_rounds(folder).rounds])
    if not chosen:
        raise ReportgenError(
            "No still can be marked again: it needs marks, a scale, and a student whose pictures were not withdrawn."
        )
    library = library_for(Reader(language), home.library)
    unseen = [Unseen(one.file, one.still, one.student.student.plays, _digest(one.file)) for one in chosen
              if one.student.student]  # fmt: skip
    with speaking(language):
        page = second_look_page(unseen, name_of_marker(marked_by, folder), library.metrics)
    write_atomically(to, page.encode())
    return to


def offered(folder: AcademyFolder) -> Iterator[Offered]:
    """Every marked still with a scale, its own or of the same view, that lies in its student's own folder. A student
    with problems has none, and one whose leave for pictures was taken back neither."""
    for student in folder.students.values():
        if student.student is None or student.problems:
            continue
        if student.student.pictures is not None and student.student.pictures.withdrawn_on is not None:
            continue
        for lesson in student.lessons:
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


def keep_round(folder: AcademyFolder, file: Path) -> tuple[Path, int]:
    """Keep what the marking page handed over as a new file of the academy's `rounds`, in one step and on the disk; and
    how many pictures were left out, since nobody in the academy has them any more.

    Raises ReportgenError where the file cannot be read, holds nothing that can be kept, or is kept already; OSError.
    """
    sheet, problems = read_sheet(file, str(file), MarkedPage)
    if sheet is None or problems:
        raise ReportgenError(str(problems[0]))
    given = sheet.record
    by_digest: dict[str, Offered] = {}
    for one in offered(folder):
        by_digest.setdefault(_digest(one.file), one)
    entries = []
    for marked in given.stills:
        if (known := by_digest.get(marked.picture)) is not None:
            marks = {mark: place for mark, place in marked.marks.items() if mark in known.still.marks}
            if marks:
                student, lesson, picture = known.key
                entries.append(MarkedAgain(student=student, lesson=lesson, file=picture, marks=marks))
    if not entries:
        raise ReportgenError(f"{file}: none of its pictures is in this academy. Look whether it is of another one.")
    kept = Round(date=given.date, marked_by=name_of_marker(given.marked_by, folder), stills=tuple(entries))
    for earlier in read_rounds(folder).rounds:
        if earlier.record == kept:
            raise ReportgenError(f"{file} is kept already, as {earlier.path}.")
    rounds = folder.root / FOLDER
    rounds.mkdir(exist_ok=True)
    place = rounds / name_of_round(kept.date, kept.marked_by, [entry.name for entry in rounds.iterdir()])
    write_atomically(place, round_text(kept).encode(), on_disk=True)
    return place, len(given.stills) - len(entries)


def readable_rounds(folder: AcademyFolder) -> KeptRounds:
    """The rounds of the academy. Raises ReportgenError with the first problem where one cannot be used."""
    kept = read_rounds(folder)
    if kept.problems:
        raise ReportgenError(f"{kept.problems[0]} reportgen check tells all that is wrong with the rounds.")
    return kept


def _digest(file: Path) -> str:
    return sha256(file.read_bytes()).hexdigest()


def stills_by_key(folder: AcademyFolder) -> Mapping[tuple[str, str, str], Offered]:
    """What is offered, by student, lesson and file."""
    return {one.key: one for one in offered(folder)}
