"""Leave to show pictures: asked of everybody, taken back for all lessons at once."""

from datetime import date

from reportgen.records.academy import ADULT_FROM, Student
from reportgen.records.pictures import Withheld


def withheld(student: Student, on: date) -> Withheld | None:
    """Why no picture of the student is shown; None where pictures may be. Leave that was taken back counts for all
    lessons, earlier ones too. Who is a minor is asked of the day `on`."""
    leave = student.pictures
    if leave is not None and leave.withdrawn_on is not None:
        return "taken back"
    if leave is None and student.age_on(on) < ADULT_FROM:
        return "no leave of a guardian"
    if leave is None:
        return "no leave"
    return None
