"""The unit of a publish: one student from the sheets to the files of the area, here, in a worker or elsewhere."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import nullcontext
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportgen.languages.speaking import speaking
from reportgen.measuring.loading import read_students
from reportgen.pages.printing import Print, print_here
from reportgen.pipeline import reports_of
from reportgen.planning.desk import on_desk
from reportgen.publishing.kept import keeping, read_kept, read_photos
from reportgen.publishing.replacing import settle, write_tree
from reportgen.records.report import LessonReport
from reportgen.sheets.academy_folder import AcademyFolder, StudentFolder
from reportgen.sheets.pictures import BrokenPictureError
from reportgen.sheets.problems import Problem
from reportgen.sheets.readers import reader_of, spoken

if TYPE_CHECKING:
    from reportgen.publishing.sealed_site import Seal


@dataclass(frozen=True)
class Workshop:
    """What every unit of one publish works with, by value: what all students share, the students' folders by id, the
    folder for what is `new`, that of what is `kept` (None keeps nothing), `look`, the digest of what a lesson's files
    depend on besides its report and its pictures, and `drawn_by`, that of the program alone."""

    shared: AcademyFolder
    folders: Mapping[str, Path]
    new: Path
    kept: Path | None
    look: str
    drawn_by: str


@dataclass(frozen=True)
class Task:
    """A student to make; sealed where there is a `seal`. With `only_read` no pages are made."""

    student: str
    seal: "Seal | None" = None
    afresh: bool = False
    only_read: bool = False


@dataclass(frozen=True)
class Made:
    """What came of a task: whether there are new pages, and of how many `lessons` they were not kept; what the desk
    says, whose sheets were used besides, and the problems because of which there are none."""

    student: str
    pages: bool
    lessons: int
    desk: dict[str, Any]
    leans_on: tuple[str, ...]
    problems: tuple[Problem, ...]


def make(task: Task, workshop: Workshop, begin: Print = print_here) -> Made:
    """Read, judge and make one student; the files stand in a folder of the student's id in `workshop.new` afterwards.
    Recaps are printed by `begin`.

    Raises OSError, ReportgenError.
    """
    shared = workshop.shared
    if shared.academy is None:
        raise ValueError("the academy has problems")
    folder = read_students(shared, workshop.folders, [task.student])
    student = folder.students[task.student]
    problems, count = student.problems, 0
    reports: tuple[LessonReport, ...] = ()
    if student.student and student.lessons and not student.problems:
        reader = reader_of(student.student, shared.academy, shared.root)
        reports = reports_of(student, shared.academy, shared.library, folder.students, reader)
    if reports and not task.only_read:
        try:
            count = _write_files(reports, task, workshop, begin)
        except BrokenPictureError as error:
            name = error.file.relative_to(shared.root).as_posix()
            problems = (Problem(name, 1, 1, "the picture is broken", "Save it again."),)
    return Made(
        task.student,
        bool(reports) and not task.only_read and not problems,
        count,
        on_desk(student, _for_the_desk(reports, folder, student, shared)).model_dump(mode="json", by_alias=True),
        tuple(sorted(set().union(*(leans_on(one, shared.root) for one in folder.students.values())) - {task.student})),
        problems,
    )


def _for_the_desk(
    reports: tuple[LessonReport, ...], read: AcademyFolder, student: StudentFolder, shared: AcademyFolder
) -> LessonReport | None:
    """The latest report in the academy's language and units: the desk is the instructor's."""
    if not reports or shared.academy is None:
        return None
    reader = reader_of(None, shared.academy, shared.root)
    if reader == reader_of(student.student, shared.academy, shared.root):
        return reports[-1]
    return reports_of(student, shared.academy, shared.library, read.students, reader)[-1]


def _write_files(reports: tuple[LessonReport, ...], task: Task, workshop: Workshop, begin: Print) -> int:
    """Write the files of the area; returns how many lessons were made for it. Those of a lesson that would come out the
    same are taken from what is kept."""
    from reportgen.delivery.calendar import week_calendar
    from reportgen.pages.student_site import student_site

    academy, library, root = workshop.shared.academy, workshop.shared.library, workshop.shared.root
    if academy is None:
        raise ValueError("the academy has problems")
    file = None if workshop.kept is None else workshop.kept / f"{task.student}.zip"

    @cache  # a picture stands beside the next lesson's too
    def content(picture: str) -> bytes:
        return sha256((root / picture).read_bytes()).digest()

    keys = {r.lesson: _key(r, r is reports[-1], reports[-1].stopped, workshop.look, content) for r in reports}
    known = {} if file is None or task.afresh else read_kept(file, keys)
    fresh = [report for report in reports if report.lesson not in known]
    photos = {} if file is None or task.afresh else read_photos(file, workshop.drawn_by)
    lessons = {report.lesson for report in fresh}
    site = student_site(reports, academy, library, root, lessons=lessons, photos=photos, begin=begin)
    files = dict(site.files)
    with speaking(spoken(reports[-1].language, root)):
        for report in fresh:
            if (calendar := week_calendar(report, academy)) is not None:
                files[f"{report.lesson}/week.ics"] = calendar
    for kept in known.values():
        files |= kept
    folder = workshop.new / task.student
    with keeping(file, keys, workshop.drawn_by) if file and fresh else nullcontext(lambda files: None) as keep:
        keep(files)
        if task.seal is None:
            write_tree(folder, files)
            if site.recaps and begin is not print_here:
                settle(folder)  # the disk has time now: another process prints
        recaps = {name: recap() for name, recap in site.recaps.items()}
        keep(recaps)
    if task.seal is None:
        write_tree(folder, recaps)
    else:
        from reportgen.publishing.sealed_site import sealed_files

        write_tree(folder, sealed_files(files | recaps, task.seal))
    return len(fresh)


def _key(report: LessonReport, is_latest: bool, stopped: bool, look: str, content: Callable[[str], bytes]) -> str:
    """The digest of everything that a lesson's files depend on; `content` gives that of a picture."""
    key = sha256(f"{look}\n{is_latest} {stopped}\n{report.model_dump_json()}".encode())
    for picture in _pictures(report):
        key.update(content(picture))
    return key.hexdigest()


def _pictures(report: LessonReport) -> Iterator[str]:
    for picture in report.pictures:
        yield from (shot.file for shot in (picture.shot, picture.beside) if shot is not None)


def leans_on(student: StudentFolder, root: Path) -> set[str]:
    """The other students whose folders hold something that this one's lessons use."""
    found = set()
    for sheet in student.lessons:
        lesson = sheet.lesson
        if lesson.compare is not None:
            found.add(lesson.compare.student)
        named = [still.file for still in lesson.stills] + ([lesson.readings_from.file] if lesson.readings_from else [])
        for file in named:
            try:
                path = (root / "students" / student.id / "lessons" / file).resolve()
            except (OSError, ValueError, RuntimeError):
                continue  # a path that cannot be followed is a problem of its sheet
            parts = path.relative_to(root.resolve()).parts if path.is_relative_to(root.resolve()) else ()
            if len(parts) > 1 and parts[0] == "students":
                found.add(parts[1])
    return found - {student.id}
