"""The stills of a lesson with what is drawn on them, and the ones to hold them against."""

from collections.abc import Mapping, Sequence
from posixpath import normpath

from reportgen.judging.strokes import mid_hip, px_per_m, strokes
from reportgen.records.academy import ADULT_FROM, Student
from reportgen.records.lesson import Lesson, Still
from reportgen.records.report import Finding, LessonReport, Picture, Shot
from reportgen.records.wording import MOMENT_NAMES, day

VIEWS = {"face-on": "face-on", "down-the-line": "down the line"}


def pictures_of(
    student_id: str,
    student: Student,
    lesson: Lesson,
    sizes: Mapping[str, tuple[int, int]],
    findings: Sequence[Finding],
    before: Sequence[LessonReport],
    alongside: LessonReport | None,
) -> tuple[Picture, ...]:
    """Every still of the lesson, withheld where the student is a minor and no leave is on file.

    Beside each stands the same view and checkpoint of whom the student learns alongside, where the sheet asks for it,
    or else of the latest earlier lesson that has one.
    """
    reason = withheld(student, lesson)
    found = []
    for number, still in enumerate(lesson.stills):
        others = [other for at, other in enumerate(lesson.stills) if at != number]
        shot = None if reason else _shot(still, others, student_id, student, sizes[still.file], findings)
        found.append(
            Picture(
                view=still.view,
                checkpoint=still.checkpoint,
                shot=shot,
                beside=_beside(still, before, alongside) if shot else None,
                withheld=reason,
            )
        )
    return tuple(found)


def withheld(student: Student, lesson: Lesson) -> str | None:
    """Why no picture of the student is shown; None where pictures may be. Leave that was taken back counts for all
    lessons, earlier ones too."""
    leave = student.pictures
    if leave is not None and leave.withdrawn_on is not None:
        return "The leave to show pictures was taken back."
    if leave is None and student.age_on(lesson.date) < ADULT_FROM:
        return "Pictures of players under 18 are shown only with a guardian’s leave, and none is on file."
    return None


def _shot(
    still: Still,
    others: Sequence[Still],
    student_id: str,
    student: Student,
    size: tuple[int, int],
    findings: Sequence[Finding],
) -> Shot:
    where = f"{MOMENT_NAMES[still.checkpoint]}, {VIEWS[still.view]}"
    drawn = strokes(still, others, findings)
    said = [s.says for s in drawn if s.says]
    values = f" Marked on it: {', '.join(said)}." if said else ""
    return Shot(
        file=normpath(f"students/{student_id}/lessons/{still.file}"),
        size=size,
        px_per_m=px_per_m(still),
        centre=mid_hip(still),
        strokes=drawn,
        caption=still.caption or where,
        alt=f"{student.first_name} at {MOMENT_NAMES[still.checkpoint].lower()}, seen {VIEWS[still.view]}.{values}",
    )


def _beside(still: Still, before: Sequence[LessonReport], alongside: LessonReport | None) -> Shot | None:
    sources = [(alongside, "Learning alongside")] if alongside else [(r, f"On {day(r.date)}") for r in reversed(before)]
    for report, caption in sources:
        for picture in report.pictures:
            if picture.shot and (picture.view, picture.checkpoint) == (still.view, still.checkpoint):
                where = f"{MOMENT_NAMES[still.checkpoint].lower()}, seen {VIEWS[still.view]}"
                said = [s.says for s in picture.shot.strokes if s.says]
                alt = f"{caption}: {where}." + (f" Marked on it: {', '.join(said)}." if said else "")
                return picture.shot.model_copy(update={"caption": caption, "alt": alt})
    return None
