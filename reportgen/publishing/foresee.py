"""What a publish would do, with nothing written, moved or taken away."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from reportgen.publishing.build_plan import build_plan, indexed_folders, student_names
from reportgen.publishing.file_index import FileIndex, index_files
from reportgen.publishing.may_publish import CannotPublishError, check_stays_sealed, check_target, home_of, intact
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.publish import seals_for
from reportgen.publishing.store import Store
from reportgen.publishing.taking_down import pages_to_take_down, told_of
from reportgen.sheets.academy_folder import TOUCH_EVERYBODY, Home
from reportgen.sheets.leave import leave_in
from reportgen.sheets.loading import load
from reportgen.sheets.problems import Problem, nearest

if TYPE_CHECKING:
    from reportgen.sealing.keyring import Keyring


@dataclass(frozen=True)
class Foreseen:
    """What a publish would do: ids of students whose pages it would make, leave as they are, or leave because of
    `problems`; of whom it would make none for want of a passphrase; and in lines, what it would take down."""

    made: tuple[str, ...]
    kept: tuple[str, ...]
    blocked: tuple[str, ...]
    without: tuple[str, ...]
    down: tuple[str, ...]
    problems: tuple[Problem, ...]


def would_publish(
    root: Path, to: Path, options: PublishOptions, *, keyring: "Callable[[Home], Keyring | None]"
) -> Foreseen:
    """What `publish` of the same would do. Raises what that would raise before its work begins."""
    check_target(root, to)
    store = Store(to / ".made")
    home, students = home_of(root, lambda line: None), student_names(root)
    if options.student is not None and options.student not in students:
        raise CannotPublishError(f"There is no student {options.student}. {nearest(options.student, students)}")
    opened = keyring(home)
    check_stays_sealed(home, opened, to, lambda line: None)
    seals = seals_for(students, opened, home)
    with intact(to):
        index = index_files(indexed_folders(root), store.file_index())
        down = _taken_down(root, to, store, index, students)
        plan = build_plan(home, store, index, seals, options)
    folder = load(root)
    if folder.shared_problems:
        raise CannotPublishError(TOUCH_EVERYBODY)
    asked = [job.student for job in plan.student_jobs if not job.only_read]
    blocked = [name for name in asked if name in folder.students and folder.students[name].problems]
    made = [name for name in asked if name in folder.students and folder.students[name].lessons]
    problems = {problem for name in blocked for problem in folder.students[name].problems}
    return Foreseen(
        made=tuple(sorted(set(made) - set(blocked))),
        kept=tuple(sorted(name for name, note in plan.notes.items() if note.pages and name not in asked)),
        blocked=tuple(sorted(blocked)),
        without=tuple(name for name in students if seals is not None and name not in seals.students),
        down=down,
        problems=tuple(sorted(problems)),
    )


def _taken_down(root: Path, to: Path, store: Store, index: FileIndex, students: list[str]) -> tuple[str, ...]:
    there = set(students)
    leave = cache(lambda name: leave_in(root / "students" / name) if name in there else None)
    found = pages_to_take_down(store.notes(), there, index.by_student(), leave)
    shown = ((note, down) for note, down in found if note.pages and (to / "upload" / note.place).exists())
    return tuple(told_of(down, "To be taken down") for _, down in shown)
