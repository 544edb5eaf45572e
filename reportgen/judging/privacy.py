"""What pages may show of a student: the name, and the pictures of a lesson."""

from posixpath import normpath

from reportgen.records.academy import ADULT_FROM, Student
from reportgen.records.lesson import Lesson, Still
from reportgen.records.report import Person, Picture
from reportgen.records.wording import MOMENT_NAMES

_VIEWS = {"face-on": "face-on", "down-the-line": "down the line"}


def person_of(student_id: str, student: Student, lesson: Lesson) -> Person:
    """The student as pages show them on the lesson's date: a minor by first name alone, nobody's date of birth."""
    minor = student.age_on(lesson.date) < ADULT_FROM
    return Person(
        id=student_id,
        name=student.first_name if minor else student.name,
        first_name=student.first_name,
        plays=student.plays,
        stage=student.stage_on(lesson.date),
        restricted_hips=student.mobility.hips == "restricted",
    )


def pictures_of(student_id: str, student: Student, lesson: Lesson) -> tuple[Picture, ...]:
    """The stills of the lesson, withheld where the student is a minor and no leave stands on that day."""
    withheld = _withheld(student, lesson)
    return tuple(_picture(still, student_id, student, withheld) for still in lesson.stills)


def _withheld(student: Student, lesson: Lesson) -> str | None:
    if student.pictures is not None:
        allowed = student.pictures.withdrawn_on is None and student.pictures.given_on <= lesson.date
        return None if allowed else "No leave to show pictures is on file for this day."
    if student.age_on(lesson.date) < ADULT_FROM:
        return "Pictures of players under 18 are shown only with a guardian's leave, and none is on file."
    return None


def _picture(still: Still, student_id: str, student: Student, withheld: str | None) -> Picture:
    where = f"{MOMENT_NAMES[still.checkpoint]}, {_VIEWS[still.view]}"
    return Picture(
        file=None if withheld else normpath(f"students/{student_id}/lessons/{still.file}"),
        view=still.view,
        checkpoint=still.checkpoint,
        caption=still.caption or where,
        alt=f"{student.first_name} at {MOMENT_NAMES[still.checkpoint].lower()}, seen {_VIEWS[still.view]}.",
        withheld=withheld,
    )
