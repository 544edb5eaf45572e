"""The instructor's desk: who is due, who has a caution, what each student works on, what is waited for."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType
from typing import Literal

from reportgen.records.academy import ADULT_FROM, Academy, Student
from reportgen.records.base import Record, Slug
from reportgen.records.cause_findings import BallFirst
from reportgen.records.mailed import Mailed
from reportgen.records.report import Caution, DeskRemark, LessonReport, Priority
from reportgen.records.taken_down import TakenDown
from reportgen.records.words import Direction, Stage
from reportgen.sheets.academy_folder import StudentFolder

WaitsFor = Literal["guardian's mail", "mail", "leave"]
"""What only the student or the guardian can give: an address, leave to show pictures."""


class OnDesk(Record):
    """What the desk must know of one student: `last` is the day of the latest lesson; `ball_first`, with the side to
    which the ball `curves`, `priorities`, `drills`, `remarks` and `cautions` (those that are not said to everybody) are
    that lesson's."""

    id: str
    name: str
    student: Student | None
    lessons: int
    last: date | None
    problems: int
    stopped: bool
    ball_first: BallFirst | None = None
    curves: Direction | None = None
    priorities: tuple[Priority, ...] = ()
    drills: tuple[Slug, ...] = ()
    remarks: tuple[DeskRemark, ...] = ()
    cautions: tuple[Caution, ...] = ()
    latest: str | None = None
    """The name of the latest lesson."""
    next_lesson: date | None = None
    """The day that its sheet gives for the next one."""
    withheld: bool = False
    """Whether it has pictures that are not shown for want of leave."""


@dataclass(frozen=True)
class DeskEntry:
    """One student: `overdue` in days, 0 where the next lesson is not due yet; `page` leads to their pages; `down` says
    why these were taken away. `mailed` is how the mail about the latest lesson that has one stands: one about an
    earlier lesson than the last where `unsent`."""

    on_desk: OnDesk
    page: str | None
    stage: Stage | None
    due: date | None
    overdue: int
    down: TakenDown | None
    mailed: Mailed | None
    unsent: bool
    waits_for: tuple[WaitsFor, ...]


def on_desk(folder: StudentFolder, latest: LessonReport | None) -> OnDesk:
    """A student on the desk; `latest` is the last judged lesson, None for those with problems."""
    following = folder.lessons[-1].lesson.next_lesson if folder.lessons else None
    known = OnDesk(
        id=folder.id,
        name=folder.student.name if folder.student else folder.id,
        student=folder.student,
        lessons=len(folder.lessons),
        last=folder.lessons[-1].lesson.date if folder.lessons else None,
        problems=len(folder.problems),
        stopped=latest is not None and latest.stopped,
        latest=folder.lessons[-1].name if folder.lessons else None,
        next_lesson=following.date if following else None,
    )
    if latest is None:
        return known
    return known.model_copy(
        update={
            "ball_first": latest.ball_first,
            "curves": next((fact.side for fact in latest.ball.facts if fact.what == "curve"), None),
            "priorities": latest.priorities,
            "drills": tuple(given.drill for given in latest.drills),
            "remarks": latest.for_the_desk,
            "cautions": tuple(caution for caution in latest.cautions if not caution.usual),
            "withheld": any(picture.withheld for picture in latest.pictures),
        }
    )


def desk_entries(
    students: Iterable[OnDesk],
    pages: Mapping[str, str],
    academy: Academy,
    as_of: date,
    mailed: Mapping[str, Mailed] = MappingProxyType({}),
    down: Mapping[str, TakenDown] = MappingProxyType({}),
) -> tuple[DeskEntry, ...]:
    """All students, the longest overdue first; `pages` leads from an id to the pages of those who have some, `mailed`
    to how their mail stands, `down` to why their pages were taken away."""
    entries = [_entry(one, pages.get(one.id), academy, as_of, mailed.get(one.id), down.get(one.id)) for one in students]
    return tuple(sorted(entries, key=lambda e: (-e.overdue, e.due or date.max, e.on_desk.name)))


def with_cautions(students: Iterable[OnDesk]) -> tuple[OnDesk, ...]:
    """Students with a caution of their own, stops first."""
    levels: Sequence[str] = ("stop", "hold", "note")
    found = [one for one in students if one.cautions and one.last]
    return tuple(sorted(found, key=lambda one: (min(levels.index(c.level) for c in one.cautions), one.name)))


def _entry(
    one: OnDesk, page: str | None, academy: Academy, as_of: date, mailed: Mailed | None, down: TakenDown | None
) -> DeskEntry:
    due = one.next_lesson or (one.last + timedelta(days=academy.lesson_every) if one.last else None)
    return DeskEntry(
        on_desk=one,
        page=page,
        stage=one.student.stage_on(as_of) if one.student else None,
        due=due,
        overdue=max((as_of - due).days, 0) if due else 0,
        down=down,
        mailed=mailed,
        unsent=one.latest is not None and (mailed is None or mailed.lesson < one.latest),
        waits_for=tuple(_waits_for(one, as_of)),
    )


def _waits_for(one: OnDesk, as_of: date) -> Iterator[WaitsFor]:
    student = one.student
    if student is None:
        return
    if student.age_on(as_of) < ADULT_FROM:
        if student.guardian is None or student.guardian.mail is None:
            yield "guardian's mail"
    elif not student.mail.to:
        yield "mail"
    if one.withheld:
        yield "leave"
