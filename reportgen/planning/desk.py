"""What the instructor's desk shows of each student: who is due, who has a caution, what they work on."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType

from reportgen.languages.speaking import say
from reportgen.records.academy import ADULT_FROM, Academy, Student
from reportgen.records.base import Record
from reportgen.records.mailed import Mailed
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
    mailed: Mailed | None
    """The mail about the latest lesson that has one; about an earlier lesson than the last where `unsent`."""
    unsent: bool
    waits_for: tuple[str, ...]
    """What must be on file before mail or pictures go out."""


@dataclass(frozen=True)
class DeskCaution:
    """The cautions of a student's latest lesson that are not said to everybody."""

    name: str
    on: date
    cautions: tuple[Caution, ...]


class OnDesk(Record):
    """What the desk must know of one student: `last` is the day of the latest lesson, `cautions` are its own ones."""

    id: str
    name: str
    student: Student | None
    lessons: int
    last: date | None
    problems: int
    stopped: bool
    working_on: tuple[str, ...]
    cautions: tuple[Caution, ...]
    latest: str | None = None
    """The name of the latest lesson."""
    withheld: bool = False
    """Whether it has pictures that are not shown for want of leave."""


def on_desk(folder: StudentFolder, latest: LessonReport | None) -> OnDesk:
    """A student on the desk; `latest` is the last judged lesson, None for those with problems."""
    return OnDesk(
        id=folder.id,
        name=folder.student.name if folder.student else folder.id,
        student=folder.student,
        lessons=len(folder.lessons),
        last=folder.lessons[-1].lesson.date if folder.lessons else None,
        problems=len(folder.problems),
        stopped=latest is not None and latest.stopped,
        working_on=_working_on(latest) if latest else (),
        cautions=tuple(caution for caution in latest.cautions if not caution.usual) if latest else (),
        latest=folder.lessons[-1].name if folder.lessons else None,
        withheld=latest is not None and any(picture.withheld for picture in latest.pictures),
    )


def desk_entries(
    students: Iterable[OnDesk],
    pages: Mapping[str, str],
    academy: Academy,
    as_of: date,
    mailed: Mapping[str, Mailed] = MappingProxyType({}),
) -> tuple[DeskEntry, ...]:
    """All students, the longest overdue first; `pages` leads from an id to the pages of those who have some, `mailed`
    to how their mail stands."""
    entries = [_entry(one, pages.get(one.id), academy, as_of, mailed.get(one.id)) for one in students]
    return tuple(sorted(entries, key=lambda e: (-e.overdue, e.due or date.max, e.name)))


def desk_cautions(students: Iterable[OnDesk]) -> tuple[DeskCaution, ...]:
    """Students with a caution of their own, stops first."""
    found = [DeskCaution(one.name, one.last, one.cautions) for one in students if one.cautions and one.last]
    levels: Sequence[str] = ("stop", "hold", "note")
    return tuple(sorted(found, key=lambda c: (min(levels.index(x.level) for x in c.cautions), c.name)))


def _entry(one: OnDesk, page: str | None, academy: Academy, as_of: date, mailed: Mailed | None) -> DeskEntry:
    due = one.last + timedelta(days=academy.lesson_every) if one.last else None
    return DeskEntry(
        id=one.id,
        name=one.name,
        page=page,
        lessons=one.lessons,
        stage=one.student.stage_on(as_of) if one.student else None,
        last=one.last,
        due=due,
        overdue=max((as_of - due).days, 0) if due else 0,
        stopped=one.stopped,
        problems=one.problems,
        working_on=one.working_on,
        mailed=mailed,
        unsent=one.latest is not None and (mailed is None or mailed.lesson < one.latest),
        waits_for=tuple(_waits_for(one, as_of)),
    )


def _waits_for(one: OnDesk, as_of: date) -> Iterator[str]:
    """What only the student or the guardian can give."""
    student = one.student
    if student is None:
        return
    if student.age_on(as_of) < ADULT_FROM:
        if student.guardian is None or student.guardian.mail is None:
            yield say("a guardian’s mail address")
    elif not student.mail:
        yield say("a mail address")
    if one.withheld:
        yield say("leave to show pictures")


def _working_on(report: LessonReport) -> tuple[str, ...]:
    """The priorities, or else the drills that were given, and what only the instructor should know of them."""
    chosen = [p.headline for p in report.priorities] or [given.title for given in report.drills]
    return (*chosen, *report.for_the_desk)
