"""An academy folder -> the published site: what changed is made again, each student's pages are replaced in one step.

DIR/upload/        what goes to the web host: students' areas, library, style
DIR/desk/          the instructor's overview; stays at home
DIR/.made/         what each part was made from
"""

import shutil
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from functools import cache
from multiprocessing import get_context
from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.pipeline import alongside, reports_of
from reportgen.planning.desk import desk_cautions, desk_entries
from reportgen.publishing.addresses import token
from reportgen.publishing.dates import build_day
from reportgen.publishing.digests import combined, digest_of_files, files_below, program, read_store, write_store
from reportgen.publishing.keyring import Keyring
from reportgen.publishing.replacing import replace_folder, write_tree
from reportgen.publishing.sealed_site import Seal, Seals, sealed_files, seals_of
from reportgen.publishing.shutting import shut
from reportgen.records.academy import Academy
from reportgen.records.report import LessonReport
from reportgen.sheets.academy_folder import AcademyFolder, StudentFolder
from reportgen.sheets.library import Library
from reportgen.sheets.problems import Problem
from reportgen.sheets.shipped import shipped

_SHARED = ("upload/assets", "desk/assets", "upload/library", "desk/guide")

Progress = Callable[[int, int], None]
"""Called with lessons done and lessons to do."""


class CannotPublishError(ReportgenError):
    """Nothing was published; the message says why and how to mend it."""


@dataclass(frozen=True)
class Published:
    """What a publish did. `made` and `kept` are ids of students; `blocked` those whose sheets have problems; `without`
    those who have no passphrase where pages are sealed."""

    made: tuple[str, ...]
    kept: tuple[str, ...]
    blocked: tuple[str, ...]
    without: tuple[str, ...]
    problems: tuple[Problem, ...]


def publish(
    folder: AcademyFolder,
    to: Path,
    *,
    student: str | None = None,
    jobs: int = 1,
    afresh: bool = False,
    keyring: Keyring | None = None,
    progress: Progress = lambda done, of: None,
) -> Published:
    """Publish the academy into `to`, sealed where there is a `keyring`; with `student`, of the students remake that one
    only.

    A student with a broken sheet keeps the last good pages; a student without a passphrase has none where others have
    one. Raises CannotPublishError where academy.yaml or the library has problems (they touch every student), where `to`
    is inside the academy or the academy inside `to`, or cannot be written, where what was sealed would be laid open.
    """
    academy = _checked(folder, to)
    store_file = to / ".made" / "digests.json"
    known = read_store(store_file)
    _check_stays_sealed(academy, keyring, known)
    seals = seals_of(folder.students, keyring, academy, folder.root) if keyring else None
    stored = {} if afresh else known
    base = _base_digest(folder)
    readers = folder.students if seals is None else seals.students
    sound = {n: s for n, s in folder.students.items() if not s.problems and s.student and s.lessons and n in readers}
    wanted = {name: _sealed_digest(combined(base, _student_digest(folder, name)), seals, name) for name in sound}
    place = {name: f"s/{token(name, academy)}" for name in folder.students}
    to_make = [
        name
        for name in sound
        if student in (None, name)
        and (stored.get(place[name]) != wanted[name] or not (to / "upload" / place[name]).is_dir() or student == name)
    ]
    try:
        _put_back(to, place)
        _clear_staging(to)
        fresh = dict(known)
        for name in _made(to_make, folder, academy, to, place, seals, jobs, progress):
            fresh[place[name]] = wanted[name]
            write_store(store_file, fresh)
        fresh |= _make_shared(folder, academy, to, base, stored, seals)
        if seals is not None:
            shut(to / "upload", seals.students, to / ".made", fresh)
        fresh["private"] = "link-only" if seals is None else "sealed"
        if student is None:
            _remove_gone(to, {place[name] for name, s in folder.students.items() if s.problems or s.lessons}, fresh)
        write_store(store_file, fresh)
        _make_desk(folder, academy, to, place)
        _clear_staging(to)
    except OSError as error:
        raise CannotPublishError(
            f"{error.filename or to}: {error.strerror}. What was published before is intact."
        ) from error
    blocked = tuple(name for name, s in folder.students.items() if s.problems)
    kept = tuple(name for name in sound if name not in to_make)
    without = tuple(name for name in folder.students if name not in readers)
    return Published(tuple(to_make), kept, blocked, without, tuple(folder.problems))


def _check_stays_sealed(academy: Academy, keyring: Keyring | None, known: Mapping[str, str]) -> None:
    if keyring is None and (academy.private == "sealed" or (not academy.private and known.get("private") == "sealed")):
        raise CannotPublishError(
            "The pages are sealed, and there is no keyring. Put it back, or begin a new one: reportgen members add. "
            "Or lay the pages open: write private: link-only into academy.yaml."
        )


def _sealed_digest(digest: str, seals: Seals | None, student: str) -> str:
    return digest if seals is None else combined(digest, seals.students[student].key.mark)


def _checked(folder: AcademyFolder, to: Path) -> Academy:
    if folder.shared_problems or folder.academy is None:
        raise CannotPublishError("academy.yaml or the library has problems, and they touch every student.")
    root, target = folder.root.resolve(), to.resolve()
    if target.is_relative_to(root) or root.is_relative_to(target):
        raise CannotPublishError(f"{to} and the academy lie in each other. Give a folder beside the academy.")
    if to.exists() and not to.is_dir():
        raise CannotPublishError(f"{to} is a file. Give a folder.")
    if to.is_dir() and any(to.iterdir()) and not (to / ".made").is_dir():
        raise CannotPublishError(f"{to} holds files that are not of a publish. Give an empty folder, or a new name.")
    return folder.academy


def _base_digest(folder: AcademyFolder) -> str:
    """Of everything that every student's pages depend on."""
    root, content, themes = folder.root, shipped("content"), shipped("themes")
    own = [root / "academy.yaml"]
    for name in ("metrics", "bands", "drills", "safety"):
        own += files_below(root / name)
    if folder.academy and folder.academy.theme:
        own += files_below(root / folder.academy.theme)
    return combined(
        program(),
        digest_of_files(files_below(content), content),
        digest_of_files(files_below(themes), themes),
        digest_of_files(set(own), root),
    )


def _student_digest(folder: AcademyFolder, name: str) -> str:
    """Of the student's own folder, and of those whom the lessons are compared with."""
    names = [name, *alongside(folder.students[name], folder)]
    homes = [folder.root / "students" / each for each in names]
    return combined(*(digest_of_files(files_below(home), home) for home in homes))


def _made(
    names: list[str],
    folder: AcademyFolder,
    academy: Academy,
    to: Path,
    place: Mapping[str, str],
    seals: Seals | None,
    jobs: int,
    progress: Progress,
) -> Iterator[str]:
    """Make the students' areas, those with most lessons first, and put each in its place as soon as it is whole."""
    students = [folder.students[name] for name in names]
    students.sort(key=lambda s: -len(s.lessons))
    total, done = sum(len(s.lessons) for s in students), 0
    progress(0, total)

    def put(name: str) -> None:
        nonlocal done
        replace_folder(to / ".made" / "new" / name, to / "upload" / place[name], _old(to, name))
        done += len(folder.students[name].lessons)
        progress(done, total)

    shared = (academy, folder.library, folder.root, to / ".made" / "new")
    seal_of = seals.students if seals is not None else {}
    if jobs == 1 or len(students) < 2:
        for one in students:
            _make_student(one, alongside(one, folder), seal_of.get(one.id), *shared)
            put(one.id)
            yield one.id
        return
    with ProcessPoolExecutor(jobs, get_context("spawn"), _start_worker, shared) as pool:
        waiting = [pool.submit(_work, one, alongside(one, folder), seal_of.get(one.id)) for one in students]
        try:
            for finished in as_completed(waiting):
                name = finished.result()
                put(name)
                yield name
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


_worker: tuple[Academy, Library, Path, Path] | None = None


def _start_worker(*shared: object) -> None:
    import signal

    global _worker
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _worker = shared  # type: ignore[assignment]


def _work(student: StudentFolder, others: Mapping[str, StudentFolder], seal: Seal | None) -> str:
    if _worker is None:
        raise RuntimeError("the worker was not started")
    _make_student(student, others, seal, *_worker)
    return student.id


def _make_student(
    student: StudentFolder,
    others: Mapping[str, StudentFolder],
    seal: Seal | None,
    academy: Academy,
    library: Library,
    root: Path,
    new: Path,
) -> None:
    from reportgen.delivery.calendar import week_calendar
    from reportgen.pages.student_site import student_site

    reports = reports_of(student, academy, library, others)
    files = dict(student_site(reports, academy, library, root))
    for report in reports:
        if (calendar := week_calendar(report, academy)) is not None:
            files[f"{report.lesson}/week.ics"] = calendar
    write_tree(new / student.id, files if seal is None else sealed_files(files, seal))


def _make_shared(
    folder: AcademyFolder, academy: Academy, to: Path, base: str, stored: Mapping[str, str], seals: Seals | None
) -> dict[str, str]:
    """The style with the faces, the drill library and the guide, where what they are made from has changed."""
    from reportgen.pages.drill_library import library_pages
    from reportgen.pages.guide_pages import guide_pages
    from reportgen.pages.shared_pages import assets

    @cache
    def style() -> Mapping[str, bytes]:
        return assets(academy, folder.root)

    def library() -> Mapping[str, bytes]:
        pages = library_pages(academy, folder.library, folder.root)
        return pages if seals is None else sealed_files(pages, seals.library)

    def guide() -> Mapping[str, bytes]:
        return guide_pages(academy, folder.library, folder.root)

    made = {"upload/library": library, "desk/guide": guide}
    wanted = dict.fromkeys(_SHARED, base)
    if seals is not None:
        wanted["upload/library"] = combined(base, seals.library.key.mark)
    for name in _SHARED:
        if stored.get(name) != wanted[name] or not (to / name).is_dir():
            new = to / ".made" / "new" / name.replace("/", "_")
            write_tree(new, made.get(name, style)())
            replace_folder(new, to / name, _old(to, name))
    return wanted


def _remove_gone(to: Path, wanted: set[str], digests: dict[str, str]) -> None:
    """Take away the areas of students who are no longer in the academy, or whose lessons all are gone."""
    for area in sorted((to / "upload" / "s").glob("*")):
        if f"s/{area.name}" not in wanted:
            shutil.rmtree(area)
    for name in [name for name in digests if name.startswith("s/") and name not in wanted]:
        del digests[name]


def _make_desk(folder: AcademyFolder, academy: Academy, to: Path, place: Mapping[str, str]) -> None:
    from reportgen.pages.shared_pages import desk_page

    latest: dict[str, LessonReport] = {}
    for name, student in folder.students.items():
        if student.student and student.lessons and not student.problems:
            latest[name] = reports_of(student, academy, folder.library, folder.students)[-1]
    pages = {n: f"../upload/{p}/index.html" for n, p in place.items() if (to / "upload" / p / "index.html").is_file()}
    as_of = build_day(academy)
    text = desk_page(
        desk_entries(folder.students, latest, pages, academy, as_of),
        desk_cautions(folder.students, latest),
        folder.problems,
        as_of,
        academy,
        folder.root,
    )
    desk, beside = to / "desk" / "index.html", to / ".made" / "desk.html"
    if not desk.is_file() or desk.read_bytes() != text:
        beside.write_bytes(text)
        beside.replace(desk)


def _old(to: Path, name: str) -> Path:
    """Where a folder waits while its new one is put in its place; a student's id has no underscore."""
    return to / ".made" / "old" / name.replace("/", "_")


def _put_back(to: Path, place: Mapping[str, str]) -> None:
    """What a publish that was killed in the middle of a replacement has taken away and not yet replaced."""
    students = {name: f"upload/{area}" for name, area in place.items()}
    for name, home in {**students, **{name: name for name in _SHARED}}.items():
        if _old(to, name).is_dir() and not (to / home).exists():
            (to / home).parent.mkdir(parents=True, exist_ok=True)
            _old(to, name).rename(to / home)


def _clear_staging(to: Path) -> None:
    for name in ("new", "old"):
        shutil.rmtree(to / ".made" / name, ignore_errors=True)
    (to / ".made").mkdir(parents=True, exist_ok=True)
