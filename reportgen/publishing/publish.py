"""An academy folder -> the published site: what changed is made again, each student's pages are replaced in one step.

DIR/upload/        what goes to the web host: students' areas, library, style
DIR/desk/          the instructor's overview; stays at home
DIR/.made/         what each part was made from
"""

import json
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from secrets import token_hex
from types import MappingProxyType
from typing import TYPE_CHECKING

from reportgen.errors import ReportgenError
from reportgen.languages.speaking import speaking
from reportgen.pages.printing import Print, print_here
from reportgen.publishing.dates import build_day
from reportgen.publishing.digests import combined
from reportgen.publishing.lock import locked
from reportgen.publishing.plan import Plan, plan, student_names
from reportgen.publishing.press import Press
from reportgen.publishing.privacy import is_sealed
from reportgen.publishing.replacing import remove, replace_folder
from reportgen.publishing.shared_parts import PARTS, PartsTask, make_parts, old_place, parts_to_make, put_parts
from reportgen.publishing.store import Note, Store
from reportgen.publishing.unit import Made, Workshop
from reportgen.records.academy import Academy
from reportgen.records.mailed import Mailed
from reportgen.sheets.academy_folder import TOUCH_EVERYBODY, AcademyFolder, load_shared
from reportgen.sheets.problems import Problem, nearest, shown
from reportgen.sheets.readers import spoken
from reportgen.sheets.reading import read_sheet

if TYPE_CHECKING:
    from reportgen.publishing.keyring import Keyring
    from reportgen.publishing.sealed_site import Seals

FEW = 8
"""How many students are made in this process, with a press to print for it; more are made by workers, each of whom
prints for itself and is replaced from time to time."""

Progress = Callable[[int, int], None]
"""Called with lessons done and lessons to do."""
Shared = Callable[[], tuple[AcademyFolder, Mapping[str, Path]]]
"""Gives what all students share, and their folders."""


class CannotPublishError(ReportgenError):
    """Nothing was published; the message says why and how to mend it."""


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
    *,
    student: str | None = None,
    jobs: int = 1,
    cluster: str | None = None,
    afresh: bool = False,
    keyring: "Callable[[Academy, Path], Keyring | None]" = lambda academy, root: None,
    progress: Progress = lambda done, of: None,
    tell: Callable[[Problem], None] = lambda problem: None,
    mailed: Mapping[str, Mailed] = MappingProxyType({}),
    press: Press | None = None,
) -> Published:
    """Publish the academy in `root` into `to`, sealed where there is a keyring; with `student`, of the students remake
    that one only. The work is done here where they are a FEW, by `jobs` processes, or on the Dask cluster at the
    address `cluster`; `mailed` is what the desk tells of each student's mail, and `press` prints the recaps of what is
    made here.

    A student with a broken sheet keeps the last good pages; a student without a passphrase has none where others have
    one. Raises CannotPublishError where academy.yaml or the library has problems (they touch every student), where `to`
    is inside the academy or the academy inside `to`, or cannot be written, where what was sealed would be laid open;
    LockedError where another publish is at work in `to`. Whatever ends it, each student's area is the old or the new
    one.
    """
    academy = _academy(root, tell)
    students = student_names(root)
    if student is not None and student not in students:
        raise CannotPublishError(f"There is no student {student}. {nearest(student, students)}")
    _check_target(root, to)
    store = Store(to / ".made")
    opened = keyring(academy, root)
    _check_stays_sealed(academy, opened, to)
    seals = _seals(students, opened, academy, root)
    with _intact(to):
        store.folder.mkdir(parents=True, exist_ok=True)
        with locked(store.folder / "lock"):
            todo = plan(academy, root, to, store, seals, student, afresh)
            shared = cache(lambda: _shared(root, tell))
            done: dict[str, Made] = {}
            if press is not None and not (todo.tasks and _is_made_here(todo, jobs, cluster)):
                press.end()
                press = None
            begin = print_here if press is None else press.begin
            if todo.tasks or not students or store.parts().get("base") != todo.base:
                shared()
            _put_back(to, todo.place)
            new = _clear_staging(to)
            parts = parts_to_make(todo, to, store, afresh)
            for one in _made(todo, parts, shared, new, store, jobs, cluster, progress, begin):
                _put(one, todo, to, new, store, others=student in (None, one.student))
                done[one.student] = one
            if press is not None:
                press.end()
            put_parts(parts.parts if parts else (), todo, to, new, store)
            if seals is not None:
                from reportgen.publishing.shutting import shut

                shut(to / "upload", seals.students, store.folder)
            gone = _remove_gone(todo, done, to, store) if student is None else 0
            problems = tuple(sorted({problem for one in done.values() for problem in one.problems}))
            _make_desk(todo, done, problems, root, to, store, mailed)
            _clear_staging(to)
    for problem in problems:
        tell(problem)
    return Published(
        made=tuple(name for name in students if name in done and done[name].pages),
        kept=tuple(name for name in students if name not in done and todo.notes[name].pages),
        blocked=tuple(name for name in students if name in done and done[name].problems),
        without=tuple(name for name in students if seals is not None and name not in seals.students),
        gone=gone,
        problems=problems,
    )


def _academy(root: Path, tell: Callable[[Problem], None]) -> Academy:
    """academy.yaml. Raises NoAcademyError, CannotPublishError."""
    if (root / "academy.yaml").is_file():
        sheet, problems = read_sheet(root / "academy.yaml", "academy.yaml", Academy)
        if sheet is not None and not problems:
            return sheet.record
    _refuse(load_shared(root)[0], tell)
    raise AssertionError("academy.yaml has problems, and then it has none")


def _refuse(shared: AcademyFolder, tell: Callable[[Problem], None]) -> None:
    if shared.shared_problems or shared.academy is None:
        for problem in sorted(set(shared.shared_problems)):
            tell(problem)
        raise CannotPublishError(TOUCH_EVERYBODY)


def _check_target(root: Path, to: Path) -> None:
    try:
        home, target = root.resolve(), to.resolve()
    except (OSError, RuntimeError) as error:
        raise CannotPublishError(f"{to} is a link that leads nowhere. Give a folder.") from error
    if target.is_relative_to(home) or home.is_relative_to(target):
        raise CannotPublishError(f"{to} and the academy lie in each other. Give a folder beside the academy.")
    if to.exists() and not to.is_dir():
        raise CannotPublishError(f"{to} is a file. Give a folder.")
    if to.is_dir() and any(to.iterdir()) and not (to / ".made").is_dir():
        raise CannotPublishError(f"{to} holds files that are not of a publish. Give an empty folder, or a new name.")


@contextmanager
def _intact(to: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise CannotPublishError(
            f"{error.filename or to}: {error.strerror or error}. What was published before is intact."
        ) from error


def _check_stays_sealed(academy: Academy, keyring: "Keyring | None", to: Path) -> None:
    sealed = academy.private == "sealed" or (academy.private is None and is_sealed(to / "upload" / "library"))
    if keyring is None and sealed:
        raise CannotPublishError(
            "The pages are sealed, and there is no keyring. Put it back, or begin a new one: reportgen members add. "
            "Or lay the pages open: write private: link-only into academy.yaml."
        )


def _seals(students: list[str], keyring: "Keyring | None", academy: Academy, root: Path) -> "Seals | None":
    """How the areas are sealed; what that takes is not loaded for an academy that is open."""
    if keyring is None:
        return None
    from reportgen.publishing.sealed_site import seals_of

    return seals_of(students, keyring, academy, root)


def _shared(root: Path, tell: Callable[[Problem], None]) -> tuple[AcademyFolder, Mapping[str, Path]]:
    """What all students share, and their folders. Raises CannotPublishError."""
    shared, folders = load_shared(root)
    _refuse(shared, tell)
    return shared, folders


def _is_made_here(todo: Plan, jobs: int, cluster: str | None) -> bool:
    """Whether this process makes the students of the plan itself."""
    return cluster is None and len(todo.tasks) <= (FEW if jobs == 1 else 1)


def _made(
    todo: Plan,
    parts: PartsTask | None,
    shared: Shared,
    new: Path,
    store: Store,
    jobs: int,
    cluster: str | None,
    progress: Progress,
    begin: Print,
) -> Iterator[Made]:
    """The students of the plan as they are made, here or by others. Shared parts are a unit among theirs where workers
    make them, and otherwise made here at last."""
    if not (todo.tasks or parts):
        return
    from reportgen.publishing.workers import made_by_workers, made_here

    workshop = Workshop(*shared(), new, store.folder / "kept", todo.look, todo.drawn_by)
    for task in todo.tasks:
        if task.student not in workshop.folders:
            raise CannotPublishError(f"students/{shown(task.student)} was taken away just now. Publish once more.")
    by_workers = not _is_made_here(todo, jobs, cluster) and cluster is None
    if by_workers:
        found = made_by_workers([*([parts] if parts else ()), *todo.tasks], workshop, jobs)
    elif cluster is not None and todo.tasks:
        from reportgen.publishing.cluster import made_on_cluster

        found = made_on_cluster(todo.tasks, workshop, cluster)
    else:
        found = made_here(todo.tasks, workshop, begin)
    total, so_far = sum(todo.lessons.get(task.student, 0) for task in todo.tasks if not task.only_read), 0
    if todo.tasks:
        progress(0, total)
    for one in found:
        yield one
        so_far += todo.lessons.get(one.student, 0) if one.pages else 0
        progress(so_far, total)
    if parts and not by_workers:
        make_parts(parts, workshop)


def _put(one: Made, todo: Plan, to: Path, new: Path, store: Store, *, others: bool) -> None:
    """Put a student's new area in its place, and note what it was made from.

    The old note goes first: who is killed in between must not find new pages under a note that speaks of the old ones,
    for the sheet may be as it was before by then.
    """
    place = todo.place[one.student]
    if one.pages:
        store.drop_note(one.student)
        replace_folder(new / one.student, to / "upload" / place, old_place(to, one.student))
    if others and not one.problems:
        store.write_note(
            one.student, Note(todo.inputs(one.student, one.leans_on), place, one.pages, one.leans_on, one.desk)
        )


def _remove_gone(todo: Plan, done: Mapping[str, Made], to: Path, store: Store) -> int:
    """Take away the areas of students who are no longer in the academy, or whose lessons all are gone. Returns of how
    many that was; an area of somebody who has another place now is none of theirs."""
    stay = {todo.place[name] for name, note in todo.notes.items() if note.pages}
    stay |= {todo.place[name] for name, one in done.items() if one.pages or one.problems}
    gone = [area for area in sorted((to / "upload" / "s").glob("*")) if f"s/{area.name}" not in stay]
    for area in gone:
        remove(area, old_place(to, area.name))
    left = [name for name in store.students() if name not in todo.place]
    for name in left:
        store.forget(name)
    return min(len(gone), len(left) + sum(not one.pages and not one.problems for one in done.values()))


def _make_desk(
    todo: Plan,
    done: Mapping[str, Made],
    problems: tuple[Problem, ...],
    root: Path,
    to: Path,
    store: Store,
    mailed: Mapping[str, Mailed],
) -> None:
    """The instructor's overview, where anything on it has changed since it was made."""
    said = {name: done[name].desk if name in done else todo.notes[name].desk for name in todo.place}
    places = {name: place for name, place in todo.place.items() if (to / "upload" / place / "index.html").is_file()}
    as_of = build_day(todo.academy)
    told = [str(problem) for problem in problems]
    season = (to / "desk" / "season.html").is_file()
    facts = [said, places, told, season, [repr(item) for item in sorted(mailed.items())]]
    made_from = combined(todo.base, str(as_of), json.dumps(facts, sort_keys=True))
    desk, stored = to / "desk" / "index.html", store.parts()
    if stored.get("desk") == made_from and desk.is_file():
        return
    from reportgen.pages.shared_pages import desk_page
    from reportgen.planning.desk import OnDesk, desk_cautions, desk_entries

    students = [OnDesk.model_validate(one) for one in said.values()]
    pages = {name: f"../upload/{place}/index.html" for name, place in places.items()}
    with speaking(spoken(todo.academy.language, root)):
        entries = desk_entries(students, pages, todo.academy, as_of, mailed)
    text = desk_page(entries, desk_cautions(students), problems, as_of, todo.academy, root, season=season)
    if not desk.is_file() or desk.read_bytes() != text:
        store.write_parts({name: digest for name, digest in stored.items() if name != "desk"})
        beside = store.folder / "desk.html"
        beside.write_bytes(text)
        beside.replace(desk)
    store.write_parts({**stored, "desk": made_from})


def _put_back(to: Path, place: Mapping[str, str]) -> None:
    """What a publish that was killed in the middle of a replacement has taken away and not yet replaced."""
    students = {name: f"upload/{area}" for name, area in place.items()}
    for name, home in {**students, **{name: name for name in PARTS}}.items():
        if old_place(to, name).is_dir() and not (to / home).exists():
            (to / home).parent.mkdir(parents=True, exist_ok=True)
            old_place(to, name).rename(to / home)


def _clear_staging(to: Path) -> Path:
    """Delete what is no longer used, and give the name of a folder for what is new.

    The name is another in each run: a worker of a publish that was killed may still be writing into the last one.
    """
    for name in ("new", "old"):
        shutil.rmtree(to / ".made" / name, ignore_errors=True)
    return to / ".made" / "new" / token_hex(4)
