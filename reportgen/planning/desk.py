"""What the instructor's desk shows of each student: who is due, who has a caution, what they work on."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from reportgen.records.academy import Academy
from reportgen.records.report import Caution, LessonReport
from reportgen.sheets.academy_folder import StudentFolder


@dataclass(frozen=True)
class DeskEntry:
    """One student: `overdue` in days, 0 where the next lesson is not due yet; `page` leads to their pages."""

    id: str
    name: str
    page: str | None
    lessons: int
    stage: str | None
    last: date | None
    due: date | None
    overdue: int
    stopped: bool
    problems: int
    working_on: tuple[str, ...]


@dataclass(frozen=True)
class DeskCaution:
    """The cautions of a student's latest lesson that are not said to everybody."""

    name: str
    on: date
    cautions: tuple[Caution, ...]


def desk_entries(
    folders: Mapping[str, StudentFolder],
    latest: Mapping[str, LessonReport],
    pages: Mapping[str, str],
    academy: Academy,
    as_of: date,
) -> tuple[DeskEntry, ...]:
    """All students, the longest overdue first. `latest` holds the last judged lesson of those free of problems."""
    entries = [_entry(folder, latest.get(name), pages.get(name), academy, as_of) for name, folder in folders.items()]
    return tuple(sorted(entries, key=lambda e: (-e.overdue, e.due or date.max, e.name)))


def desk_cautions(folders: Mapping[str, StudentFolder], latest: Mapping[str, LessonReport]) -> tuple[DeskCaution, ...]:
    """Students with a caution of their own, stops first."""
    found = []
    for name, report in latest.items():
        own = tuple(caution for caution in report.cautions if not caution.usual)
        if own:
            found.append(DeskCaution(_name(folders[name]), report.date, own))
    levels: Sequence[str] = ("stop", "hold", "note")
    return tuple(sorted(found, key=lambda c: (min(levels.index(x.level) for x in c.cautions), c.name)))


def _entry(
    folder: StudentFolder, report: LessonReport | None, page: str | None, academy: Academy, as_of: date
) -> DeskEntry:
    last = folder.lessons[-1].lesson.date if folder.lessons else None
    due = last + timedelta(days=academy.lesson_every) if last else None
    return DeskEntry(
        id=folder.id,
        name=_name(folder),
        page=page,
        lessons=len(folder.lessons),
        stage=folder.student.stage_on(as_of) if folder.student else None,
        last=last,
        due=due,
        overdue=max((as_of - due).days, 0) if due else 0,
        stopped=report is not None and report.stopped,
        problems=len(folder.problems),
        working_on=_working_on(report) if report else (),
    )


def _working_on(report: LessonReport) -> tuple[str, ...]:
    """The priorities, or else the drills that were given, and what only the instructor should know of them."""
    chosen = [p.headline for p in report.priorities] or [given.title for given in report.drills]
    return (*chosen, *report.for_the_desk)


def _name(folder: StudentFolder) -> str:
    return folder.student.name if folder.student else folder.id
