"""The stills of a lesson with what is drawn on them, and the ones to hold them against."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from reportgen.judging.leave import withheld
from reportgen.judging.strokes import Drawing, place, strokes
from reportgen.records.academy import Student
from reportgen.records.pictures import DrawnStill, Picture, Withheld
from reportgen.records.report import LessonReport
from reportgen.records.stills import Still
from reportgen.sheets.academy_folder import LessonSheet
from reportgen.sheets.attached import Attached, student_of


class Whose(NamedTuple):
    """Whose lesson it is, by id, and the students in whose folders its pictures may lie."""

    id: str
    student: Student
    lenders: Mapping[str, Student]


def pictures_of(
    sheet: LessonSheet,
    whose: Whose,
    drawn: Sequence[Drawing],
    before: Sequence[LessonReport],
    alongside: LessonReport | None,
) -> tuple[Picture, ...]:
    """Every still of the lesson, withheld where no leave is on file: the student's, and that of whoever of the lenders
    has it in their folder, for that is whom it shows.

    `drawn` is what the lesson's findings put on them. Beside each stands the same view and checkpoint of whom the
    student learns alongside, where the sheet asks for it, or else of the latest earlier lesson that has one.
    """
    lesson, attached = sheet.lesson, sheet.attached
    found = []
    for number, still in enumerate(lesson.stills):
        reason = reason_withheld(attached.places[still.file], whose, lesson.date)
        rest = [other for at, other in enumerate(lesson.stills) if at != number]
        beside, on = (None, None) if reason else _beside(still, before, alongside)
        found.append(
            Picture(
                view=still.view,
                checkpoint=still.checkpoint,
                still=None if reason else _drawn(still, rest, attached, drawn),
                beside=beside,
                beside_on=on,
                withheld=reason,
            )
        )
    return tuple(found)


def reason_withheld(place: str, whose: Whose, on: date) -> Withheld | None:
    """Why a picture at a `place` of the academy is not shown in a lesson of that day; None where it may be."""
    reason, shows = withheld(whose.student, on), student_of(place)
    if reason is None and shows != whose.id:
        lender = whose.lenders.get(shows or "")
        return "no leave of another" if lender is None or withheld(lender, on) else None
    return reason


def _drawn(still: Still, others: Sequence[Still], attached: Attached, drawings: Sequence[Drawing]) -> DrawnStill:
    return DrawnStill(
        file=attached.places[still.file],
        size=attached.sizes[still.file],
        px_per_m=still.scale.px_per_m if still.scale else None,
        centre=place(still, "mid-hip"),
        strokes=strokes(still, others, drawings),
        caption=still.caption,
    )


def _beside(
    still: Still, before: Sequence[LessonReport], alongside: LessonReport | None
) -> tuple[DrawnStill | None, date | None]:
    """The picture to hold a still against, and the day of the lesson where it is one of the student's own."""
    for report in [alongside] if alongside else reversed(before):
        for picture in report.pictures:
            if picture.still and (picture.view, picture.checkpoint) == (still.view, still.checkpoint):
                return picture.still, None if alongside else report.date
    return None, None
