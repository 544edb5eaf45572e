"""The swings of a lesson to step through: what was found at their checkpoints, and the ones to hold them against."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from reportgen.judging.shown_stills import Whose, reason_withheld
from reportgen.judging.strokes import VALUES_SHOWN, Drawing, strokes
from reportgen.records.findings import Finding
from reportgen.records.lesson import Lesson
from reportgen.records.pictures import DrawnSwing, Stroke, SwingMoment, SwingSeen, SwingValue
from reportgen.records.report import LessonReport
from reportgen.records.swings import SwingFrames
from reportgen.records.words import CHECKPOINTS, GRAVEST_FIRST, Checkpoint
from reportgen.sheets.academy_folder import LessonSheet


def swings_of(
    sheet: LessonSheet,
    whose: Whose,
    findings: Sequence[Finding],
    drawn: Sequence[Drawing],
    before: Sequence[LessonReport],
    alongside: LessonReport | None,
) -> tuple[SwingSeen, ...]:
    """Every swing of the lesson, withheld as its pictures are. `drawn` is what the `findings` put on stills.

    Beside each stands the same view of whom the student learns alongside, where the sheet asks for it, or else of the
    latest earlier lesson that has one.
    """
    lesson, places = sheet.lesson, sheet.attached.places
    found = []
    for swing in lesson.swings:
        place = places[swing.file]
        reason = reason_withheld(place, whose, lesson.date)
        beside, on = (None, None) if reason else _beside(swing, before, alongside)
        shown = None if reason else _drawn(swing, place, lesson, findings, drawn)
        found.append(SwingSeen(view=swing.view, swing=shown, beside=beside, beside_on=on, withheld=reason))
    return tuple(found)


def parts_of(times: Sequence[float], checkpoints: Sequence[tuple[int, int]]) -> tuple[float, ...]:
    """How far a swing has come at each of its `times`: the number of a checkpoint at its frame, straight on in time
    from one to the next, and the whole swing's time as one part before the first and after the last. `checkpoints` are
    (its number from setup, its frame)."""
    whole = times[-1] - times[0]
    parts = []
    for at, time in enumerate(times):
        for (number, frame), (later, end) in pairwise(checkpoints):
            if frame <= at <= end:
                parts.append(number + (later - number) * (time - times[frame]) / (times[end] - times[frame]))
                break
        else:
            number, frame = checkpoints[0] if at < checkpoints[0][1] else checkpoints[-1]
            parts.append(number + (time - times[frame]) / whole)
    return tuple(round(part, 3) for part in parts)


def _drawn(
    swing: SwingFrames, place: str, lesson: Lesson, findings: Sequence[Finding], drawn: Sequence[Drawing]
) -> DrawnSwing:
    named = [(name, swing.checkpoints[name]) for name in CHECKPOINTS if name in swing.checkpoints]
    return DrawnSwing(
        file=place,
        columns=swing.columns,
        size=swing.frame,
        times=swing.times,
        parts=parts_of(swing.times, [(CHECKPOINTS.index(name), frame) for name, frame in named]),
        moments=tuple(_moment(name, frame, swing, lesson, findings, drawn) for name, frame in named),
    )


def _moment(
    name: Checkpoint,
    frame: int,
    swing: SwingFrames,
    lesson: Lesson,
    findings: Sequence[Finding],
    drawn: Sequence[Drawing],
) -> SwingMoment:
    here = sorted((f for f in findings if f.checkpoint == name), key=lambda f: GRAVEST_FIRST.index(f.verdict))
    return SwingMoment(
        checkpoint=name,
        frame=frame,
        verdict=here[0].verdict if here else None,
        values=tuple(
            SwingValue(metric=f.metric, value=f.value, unit=f.unit, verdict=f.verdict) for f in here[:VALUES_SHOWN]
        ),
        strokes=_strokes(name, swing, lesson, drawn),
    )


def _strokes(name: Checkpoint, swing: SwingFrames, lesson: Lesson, drawn: Sequence[Drawing]) -> tuple[Stroke, ...]:
    """The lines of the still of this view and moment, brought to the frame; none where it was not cut from the same
    film, for then nobody knows where they lie."""
    at = next(
        (n for n, s in enumerate(lesson.stills) if (s.view, s.checkpoint) == (swing.view, name) and s.marks), None
    )
    if swing.cut is None or at is None:
        return ()
    (left, top), (right, _) = swing.cut.from_, swing.cut.to
    scale = swing.frame[0] / (right - left)
    others = [other for number, other in enumerate(lesson.stills) if number != at]

    def in_frame(stroke: Stroke) -> Stroke:
        points = tuple((round((x - left) * scale, 1), round((y - top) * scale, 1)) for x, y in stroke.points)
        return stroke.model_copy(update={"points": points})

    return tuple(map(in_frame, strokes(lesson.stills[at], others, drawn)))


def _beside(
    swing: SwingFrames, before: Sequence[LessonReport], alongside: LessonReport | None
) -> tuple[DrawnSwing | None, date | None]:
    """The swing to step through beside one, and the day of the lesson where it is one of the student's own."""
    for report in [alongside] if alongside else reversed(before):
        for seen in report.swings:
            if seen.swing and seen.view == swing.view:
                return (_of_another(seen.swing), None) if alongside else (seen.swing, report.date)
    return None, None


def _of_another(swing: DrawnSwing) -> DrawnSwing:
    """A swing without what was found in it: whoever shares pictures shares no numbers."""
    bare = (moment.model_copy(update={"verdict": None, "values": (), "strokes": ()}) for moment in swing.moments)
    return swing.model_copy(update={"moments": tuple(bare)})
