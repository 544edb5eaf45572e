"""Whether the next lesson and the rounds that a person has written can be right."""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

from reportgen.records.academy import Student
from reportgen.records.lesson import Lesson
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet

PAR_OF = {9: (27, 45), 18: (54, 90)}
"""From nothing but par threes to nothing but par fives (common practice, no source)."""
SCORE_OF = {9: (25, 135), 18: (50, 270)}
"""From fewer strokes than a good professional needs to fifteen a hole (own limits)."""


def next_lesson_problems(sheet: Sheet[Lesson]) -> Iterator[Problem]:
    """What is wrong with the day of the next lesson. It can be the same day, as a second lesson is."""
    lesson, following = sheet.record, sheet.record.next_lesson
    if following is None:
        return
    if following.date < lesson.date:
        wrong = f"the next lesson is before this one, which is on {lesson.date}"
        yield sheet.problem(("next_lesson", "date"), wrong, "Look at its year, month and day.")
    elif following.date > lesson.date + timedelta(days=366):
        wrong = "the next lesson is more than a year after this one"
        yield sheet.problem(("next_lesson", "date"), wrong, "Look at its year, or take next_lesson out.")


def round_problems(sheet: Sheet[Student], today: date | None) -> Iterator[Problem]:
    """What is wrong in the list `rounds` of a student file; `today` is None where nobody knows what day it is."""
    for number, played in enumerate(sheet.record.rounds):
        loc = ("rounds", number)
        if today is not None and played.date > today:
            wrong = "the round is on a day that is still to come"
            yield sheet.problem((*loc, "date"), wrong, "Add it when it is played.")
        elif played.date <= sheet.record.born:
            yield sheet.problem((*loc, "date"), "the round is before the student was born", "Look at its year.")
        for what, written, limits in (("par", played.par, PAR_OF), ("score", played.score, SCORE_OF)):
            if written is not None and (fault := _fault(what, written, played.holes, limits)) is not None:
                yield sheet.problem((*loc, what), *fault)


def _fault(what: str, written: int, holes: int, limits: Mapping[int, tuple[int, int]]) -> tuple[str, str] | None:
    """What is wrong with a number of strokes for so many holes, and how to mend it; None where it may be right."""
    low, high = limits[holes]
    if low <= written <= high:
        return None
    other = next((count for count, (least, most) in limits.items() if least <= written <= most), None)
    mend = f"Write holes: {other}, or look at" if other else "Look at"
    return f"{written} cannot be the {what} of {holes} holes", f"{mend} {what} ({low} to {high})."
