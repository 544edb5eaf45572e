"""An academy folder -> the published site: what changed is made again, each student's pages are replaced in one step.

DIR/upload/        what goes to the web host: students' areas, library, style
DIR/desk/          the instructor's overview; stays at home
DIR/.made/         what each part was made from
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from reportgen.publishing.build import Build, Progress, Shared, made, put, remove_gone, take_down_unknown
from reportgen.publishing.build_plan import BuildPlan, build_plan, indexed, student_names
from reportgen.publishing.desk import write_desk
from reportgen.publishing.file_index import FileIndex
from reportgen.publishing.lock import locked
from reportgen.publishing.may_publish import (
    CannotPublishError,
    Tell,
    check_stays_sealed,
    check_target,
    home_of,
    intact,
    shared_by_all,
)
from reportgen.publishing.options import USUAL_OPTIONS, PublishOptions
from reportgen.publishing.shared_parts import parts_to_make, put_parts
from reportgen.publishing.staging import clear_staging, undo_what_was_ended
from reportgen.publishing.store import Store
from reportgen.publishing.student_job import Made
from reportgen.publishing.taking_down import take_down, told_of
from reportgen.records.mailed import Mailed
from reportgen.rights import own_folder
from reportgen.sealing.addresses import token
from reportgen.sheets.academy_folder import Home
from reportgen.sheets.problems import Problem, nearest
from reportgen.sheets.today import build_day

if TYPE_CHECKING:
    from reportgen.sealing.keyring import Keyring
    from reportgen.sealing.sealed_site import Seals


@dataclass(frozen=True)
class Reporting:
    """Whom a publish tells in lines what it meets, and of its progress."""

    tell: Tell = lambda line: None
    progress: Progress = lambda done, of: None


TO_NOBODY = Reporting()


@dataclass(frozen=True)
class Published:
    """What a publish did. `made` and `kept` are ids of students; `blocked` those whose sheets have problems; `without`
    those who have no passphrase where pages are sealed. `gone` is of how many the pages were taken away."""

    made: tuple[str, ...]
    kept: tuple[str, ...]
    blocked: tuple[str, ...]
    without: tuple[str, ...]
    gone: int
    problems: tuple[Problem, ...]


def publish(
    root: Path,
    to: Path,
    options: PublishOptions = USUAL_OPTIONS,
    *,
    keyring: "Callable[[Home], Keyring | None]" = lambda home: None,
    mailed: Mapping[str, Mailed] = MappingProxyType({}),
    reporting: Reporting = TO_NOBODY,
) -> Published:
    """Publish the academy in `root` into `to`, sealed where there is a keyring; `mailed` is what the desk tells of each
    student's mail.

    Pages with pictures that may no longer be shown go first of all. Otherwise a student with a broken sheet keeps the
    last good pages; a student without a passphrase has none where others have one. Raises CannotPublishError where
    academy.yaml or the library has problems (they touch every student), where `to` is inside the academy or the academy
    inside `to`, or cannot be written, where what was sealed would be laid open; LockedError where another publish is at
    work in `to`; ReportgenError where the machine's clock cannot be right. Whatever ends it, each student's area is the
    old or the new one, or was taken away.
    """
    check_target(root, to)
    store, tell = Store(to / ".made"), reporting.tell
    index, gone = _take_down_first(root, to, store, tell)
    home, students = home_of(root, tell), student_names(root)
    build_day(home.academy)  # a clock that cannot be right is told before anything is made
    if options.student is not None and options.student not in students:
        raise CannotPublishError(f"There is no student {options.student}. {nearest(options.student, students)}")
    opened = keyring(home)
    check_stays_sealed(home, opened, to, tell)
    seals = seals_for(students, opened, home)
    with intact(to):
        own_folder(store.folder)
        own_folder(to / "desk")
        with locked(store.folder / "lock"):
            undo_what_was_ended(to, {name: f"s/{token(name, home.academy)}" for name in students})
            plan = build_plan(home, store, index or indexed(root, store), seals, options)
            shared = cache(lambda: shared_by_all(root, tell))
            if plan.student_jobs or not students or store.parts().get("base") != plan.shared_digest:
                shared()
            build = Build(plan, to, store, clear_staging(to))
            done, more_gone = _built(build, shared, options, reporting)
            problems = tuple(sorted({problem for one in done.values() for problem in one.problems}))
            on_desk = {name: done[name].desk if name in done else plan.notes[name].desk for name in plan.place}
            write_desk(plan, on_desk, problems, lambda: shared()[0], store, mailed)
            clear_staging(to)
    for problem in problems:
        tell(str(problem))
    return _published(plan, done, gone + more_gone, problems)


def _built(build: Build, shared: Shared, options: PublishOptions, reporting: Reporting) -> tuple[dict[str, Made], int]:
    """Do what there is to do: what came of each student, and of how many the pages were taken away."""
    plan, to, store = build.plan, build.to, build.store
    others = {job.student for job in plan.student_jobs if job.only_read} if options.student is not None else set()
    parts = parts_to_make(plan, to, store, options.afresh)
    done: dict[str, Made] = {}
    for one in made(build, parts, shared, options, reporting.progress):
        put(one, build, noted=one.student not in others)
        done[one.student] = one
    put_parts(parts.parts if parts else (), plan, to, build.new, store)
    if plan.seals is not None:
        from reportgen.publishing.seal_areas import seal_areas

        seal_areas(to / "upload", plan.seals.students, store.folder)
    take_down_unknown(build, done, reporting.tell)
    return done, remove_gone(build, done, all_made=options.student is None)


def _published(plan: BuildPlan, done: Mapping[str, Made], gone: int, problems: tuple[Problem, ...]) -> Published:
    students, seals = sorted(plan.place), plan.seals
    return Published(
        made=tuple(name for name in students if name in done and done[name].pages),
        kept=tuple(name for name in students if name not in done and plan.notes[name].pages),
        blocked=tuple(name for name in students if name in done and done[name].problems),
        without=tuple(name for name in students if seals is not None and name not in seals.students),
        gone=gone,
        problems=problems,
    )


def _take_down_first(root: Path, to: Path, store: Store, tell: Tell) -> tuple[FileIndex | None, int]:
    """Take away what may no longer be shown, before anything else can go wrong. Gives the index of files where that was
    needed, and of how many students who are no longer in the academy pages were taken away. Raises CannotPublishError,
    LockedError."""
    if not (store.folder / "students").is_dir() or not (root / "students").is_dir():
        return None, 0
    with intact(to), locked(store.folder / "lock"):
        index = indexed(root, store)
        down = take_down(root, to, store, student_names(root), index.by_student())
    for one in down:
        tell(told_of(one))
    return index, sum(one.student == one.whose and one.why == "gone" for one in down)


def seals_for(students: list[str], keyring: "Keyring | None", home: Home) -> "Seals | None":
    """How the areas are sealed; what that takes is not loaded for an academy that is open."""
    if keyring is None:
        return None
    from reportgen.sealing.sealed_site import seals_of

    return seals_of(students, keyring, home)
