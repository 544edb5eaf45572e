"""A student from the sheets to the files of the area: the job of a publish, done here, in a worker or elsewhere."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from reportgen.failures import problem_of
from reportgen.languages.speaking import speaking
from reportgen.pipeline import reports_of
from reportgen.planning.desk import on_desk
from reportgen.publishing.lesson_cache import cached_lessons, cached_photos, write_cache
from reportgen.publishing.replacing import write_tree
from reportgen.records.report import LessonReport
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import reader_of
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import SoundAcademy, StudentFolder
from reportgen.sheets.attached import pictures_named, student_of
from reportgen.sheets.loading import read_students
from reportgen.sheets.problems import Problem

if TYPE_CHECKING:
    from reportgen.sealing.sealed_site import Seal


@dataclass(frozen=True)
class BuildContext:
    """What every job of one publish works with, by value: the academy, which is its `home`, the students' folders by
    id, the folder for what is `new`, that of the lesson `caches` (None keeps nothing), `layout_digest` of what a
    lesson's files depend on besides its report and its pictures, and `program_digest` of the program alone."""

    home: SoundAcademy
    folders: Mapping[str, Path]
    new: Path
    caches: Path | None
    layout_digest: str
    program_digest: str


@dataclass(frozen=True)
class StudentJob:
    """A student to make; sealed where there is a `seal`. With `only_read` no pages are made."""

    student: str
    seal: "Seal | None" = None
    afresh: bool = False
    only_read: bool = False


@dataclass(frozen=True)
class Made:
    """What came of a job: whether there are new pages, and of how many `lessons` these were not in the cache; what the
    desk says, whose sheets were used besides, whose pictures the pages show, and the problems because of which there
    are none."""

    student: str
    pages: bool
    lessons: int
    desk: dict[str, Any]
    leans_on: tuple[str, ...]
    shows: tuple[str, ...]
    problems: tuple[Problem, ...]


def make(job: StudentJob, context: BuildContext) -> Made:
    """Read, judge and make one student; the files stand in a folder of the student's id in `context.new` afterwards.
    Whatever goes wrong with this student is a problem of theirs.

    Raises what is no student's: OSError of a disk, MemoryError, ThemeError and other ReportgenErrors of the theme.
    """
    students: Mapping[str, StudentFolder] = {}
    try:
        students = read_students(context.home, context.folders, [job.student])
        return _made(students, job, context)
    except Exception as error:
        return failed(job.student, students.get(job.student), problem_of(error, job.student, context.home))


def failed(name: str, read: StudentFolder | None, problem: Problem) -> Made:
    """What came of a student who could not be made because of a problem, as far as they were `read`."""
    student = read or StudentFolder(name, None, (), ())
    student = replace(student, problems=(*student.problems, problem))
    desk = on_desk(student, None).model_dump(mode="json", by_alias=True)
    return Made(name, False, 0, desk, (), (), student.problems)


def _made(students: Mapping[str, StudentFolder], job: StudentJob, context: BuildContext) -> Made:
    """A student who has been read, judged and made."""
    student, root = students[job.student], context.home.root
    reports: tuple[LessonReport, ...] = ()
    if student.student and student.lessons and not student.problems:
        reports = reports_of(student, context.home, students)
    pages = bool(reports) and not job.only_read
    return Made(
        job.student,
        pages,
        _write_files(reports, student, job, context) if pages else 0,
        on_desk(student, reports[-1] if reports else None).model_dump(mode="json", by_alias=True),
        tuple(sorted(set().union(*(leans_on(one, root) for one in students.values())) - {job.student})),
        pictured_in(reports),
        student.problems,
    )


def _write_files(
    reports: tuple[LessonReport, ...], student: StudentFolder, job: StudentJob, context: BuildContext
) -> int:
    """Write the files of the area; returns how many lessons were made for it. Those of a lesson that would come out the
    same are taken from the cache."""
    from reportgen.pages.calendar import week_calendar
    from reportgen.pages.student_site import student_site

    home = context.home
    reader = reader_of(student.student, home)
    lessons = tell_all(reports, home.library, reader)
    cache_file = None if context.caches is None else context.caches / f"{job.student}.zip"

    @cache  # a picture stands beside the next lesson's too
    def content(picture: str) -> bytes:
        return sha256((home.root / picture).read_bytes()).digest()

    latest = lessons[-1]
    state = {one.lesson: f"{context.layout_digest}\n{one is latest} {latest.stopped}" for one in lessons}
    keys = {one.lesson: _key(one, state[one.lesson], content) for one in lessons}
    known = {} if cache_file is None or job.afresh else cached_lessons(cache_file, keys)
    fresh = [one for one in lessons if one.lesson not in known]
    photos = {} if cache_file is None or job.afresh else cached_photos(cache_file, context.program_digest)
    wanted = {one.lesson for one in fresh}
    files = student_site(lessons, home, lessons=wanted, photos=photos)
    with speaking(reader.language):
        for one in fresh:
            if (calendar := week_calendar(one, home.academy)) is not None:
                files[f"{one.lesson}/week.ics"] = calendar
    for cached in known.values():
        files |= cached
    if cache_file is not None and fresh:
        write_cache(cache_file, files, keys, context.program_digest)
    if job.seal is not None:
        from reportgen.sealing.sealed_site import sealed_files

        files = sealed_files(files, job.seal)
    write_tree(context.new / job.student, files)
    return len(fresh)


def _key(lesson: ToldLesson, state: str, content: Callable[[str], bytes]) -> str:
    """The digest of everything that a lesson's files depend on: `state` besides what is told of it and its pictures, of
    which `content` gives a digest each."""
    key = sha256(f"{state}\n{lesson.model_dump_json()}".encode())
    for picture in _pictures(lesson):
        key.update(content(picture))
    return key.hexdigest()


def pictured_in(reports: Iterable[LessonReport]) -> tuple[str, ...]:
    """The students whose pictures stand in some lessons."""
    return tuple(sorted({whose for report in reports for place in _pictures(report) if (whose := student_of(place))}))


def _pictures(report: LessonReport) -> Iterator[str]:
    for picture in report.pictures:
        yield from (still.file for still in (picture.still, picture.beside) if still is not None)
    for seen in report.swings:
        yield from (swing.file for swing in (seen.swing, seen.beside) if swing is not None)


def leans_on(student: StudentFolder, root: Path) -> set[str]:
    """The other students whose folders hold something that this one's lessons use."""
    found = set()
    for sheet in student.lessons:
        lesson = sheet.lesson
        if lesson.compare is not None:
            found.add(lesson.compare.student)
        named = [written for *_, written, _ in pictures_named(lesson)] + [table.file for table in lesson.shots_from]
        named += [lesson.readings_from.file] if lesson.readings_from else []
        for file in named:
            try:
                path = (root / "students" / student.id / "lessons" / file).resolve()
            except (OSError, ValueError, RuntimeError):
                continue  # a path that cannot be followed is a problem of its sheet
            parts = path.relative_to(root.resolve()).parts if path.is_relative_to(root.resolve()) else ()
            if len(parts) > 1 and parts[0] == "students":
                found.add(parts[1])
    return found - {student.id}
