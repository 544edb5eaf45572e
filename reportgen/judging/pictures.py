"""The stills of a lesson with what is drawn on them, and the ones to hold them against."""

from collections.abc import Mapping, Sequence
from posixpath import normpath

from reportgen.judging.strokes import mid_hip, strokes
from reportgen.languages.speaking import later, say
from reportgen.records.academy import ADULT_FROM, Student
from reportgen.records.lesson import Lesson, Still
from reportgen.records.report import Finding, LessonReport, Picture, Shot, Stroke
from reportgen.records.wording import day, mid_sentence, moment_name

VIEWS = {"face-on": later("face-on"), "down-the-line": later("down the line")}


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
        return say("The leave to show pictures was taken back.")
    if leave is None and student.age_on(lesson.date) < ADULT_FROM:
        return say("Pictures of players under 18 are shown only with a guardian’s leave, and none is on file.")
    return None


def _shot(
    still: Still,
    others: Sequence[Still],
    student_id: str,
    student: Student,
    size: tuple[int, int],
    findings: Sequence[Finding],
) -> Shot:
    moment, view = moment_name(still.checkpoint), say(VIEWS[still.view])
    drawn = strokes(still, others, findings)
    seen = say("{player} at {moment}, seen {view}.", player=student.first_name, moment=mid_sentence(moment), view=view)
    return Shot(
        file=normpath(f"students/{student_id}/lessons/{still.file}"),
        size=size,
        px_per_m=still.scale.px_per_m if still.scale else None,
        centre=mid_hip(still),
        strokes=drawn,
        caption=still.caption or f"{moment}, {view}",
        alt=_with_values(seen, drawn),
    )


def _beside(still: Still, before: Sequence[LessonReport], alongside: LessonReport | None) -> Shot | None:
    sources = [(alongside, say("Learning alongside"))] if alongside else [(r, _on(r)) for r in reversed(before)]
    for report, caption in sources:
        for picture in report.pictures:
            if picture.shot and (picture.view, picture.checkpoint) == (still.view, still.checkpoint):
                moment, view = mid_sentence(moment_name(still.checkpoint)), say(VIEWS[still.view])
                seen = say("{when}: {moment}, seen {view}.", when=caption, moment=moment, view=view)
                alt = _with_values(seen, picture.shot.strokes)
                return picture.shot.model_copy(update={"caption": caption, "alt": alt})
    return None


def _on(report: LessonReport) -> str:
    return say("On {day}", day=day(report.date))


def _with_values(seen: str, drawn: Sequence[Stroke]) -> str:
    said = ", ".join(stroke.says for stroke in drawn if stroke.says)
    return f"{seen} " + say("Marked on it: {values}.", values=said) if said else seen
