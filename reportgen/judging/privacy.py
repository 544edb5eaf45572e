"""What pages may show of a student."""

from reportgen.records.academy import ADULT_FROM, Student
from reportgen.records.lesson import Lesson
from reportgen.records.report import Person


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
