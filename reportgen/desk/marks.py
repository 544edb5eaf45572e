"""The marks of a lesson's pictures as the desk shows and measures them; the sheet is where they are kept."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, get_args

from reportgen.authoring.followed import begun_with, followed_by
from reportgen.desk.lent import earlier, ground, others
from reportgen.desk.lessons import Lessons
from reportgen.desk.proposing import Proposals
from reportgen.desk.saving import Change, ChangedMeanwhileError
from reportgen.judging.of_kind import of_kind
from reportgen.measuring.asked import STAND, marks_asked, marks_shown, moments_asked
from reportgen.measuring.formulas import Measure, measures
from reportgen.measuring.readings import from_stills
from reportgen.preview.watched import Watched
from reportgen.records.academy import MarkingError
from reportgen.records.base import Line, Record
from reportgen.records.stills import Still
from reportgen.records.words import CHECKPOINTS, LESSON_KINDS, Checkpoint, LessonKind, Mark, Side, View
from reportgen.saying.marking import SaidValue, said_missing, said_reading
from reportgen.saying.readers import Reader, library_for
from reportgen.saying.wording import mid_sentence, moment_name, slug_name, view_name
from reportgen.sheets.faults import faults
from reportgen.sheets.library import Library
from reportgen.sheets.loading import load
from reportgen.sheets.reading import read_text
from reportgen.sheets.stills_written import WrittenStill, read_still, stills_written
from reportgen.sheets.tree import parse

Shown = dict[str, Any]
"""What a page is given, as JSON has it."""
_PARTS = {"marks", "scale", "stick", "camera", "fps", "swing"}
"""What of a still the page of marks writes,"""
_SHOWS: Mapping[str, tuple[str, ...]] = {"view": get_args(View), "checkpoint": CHECKPOINTS}
"""and what it can say that the still shows."""


class SentChanges(Record):
    """What a page sends to be kept: of the picture `file`, each value by its keys in the still, what stood there, and
    what is to stand there."""

    file: Line
    changes: tuple[tuple[tuple[str, ...], Any, Any], ...]


class SentMarks(Record):
    """What a page sends to be measured: the picture `file`, and its still as it is `now`."""

    file: Line
    now: dict[str, Any]
    metrics: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Lesson:
    """A lesson whose pictures are marked: how the player plays, its kind, its stand, its stills."""

    sheet: Path
    plays: Side
    kind: LessonKind
    stand: str | None
    stills: tuple[WrittenStill, ...]


class Marks:
    """The marks of one academy's lessons; every method may be called from any thread."""

    def __init__(self, root: Path, watched: Watched, lessons: Lessons) -> None:
        self._root, self._watched, self._lessons = root, watched, lessons
        self._proposals = Proposals()

    def of_lesson(self, student: str, name: str) -> Shown:
        """What the page of marks needs once: the pictures, the metrics in focus, and how points are called. Raises
        LookupError."""
        lesson = self._lesson(student, name)
        every = measures(self._library(lesson).metrics)
        followed = followed_by(load(self._root, student), student, lesson.sheet)
        theirs = self._watched.folder.students[student].student
        return {
            "who": theirs.name if theirs else student,
            "focus": [one.metric for one in every if one.metric in followed],
            "pictures": [one.number for one in lesson.stills],
        }

    def moments(self, student: str, name: str, views: Collection[View]) -> Mapping[View, tuple[Checkpoint, ...]]:
        """The moments of which the metrics in focus need a picture of each view; where none is in focus those that the
        sheet has a row for, or all. Raises LookupError."""
        lesson = self._lesson(student, name)
        every = measures(self._library(lesson).metrics)
        followed = followed_by(load(self._root, student), student, lesson.sheet) or begun_with(lesson.sheet)
        return moments_asked([one for one in every if one.metric in followed] or every, views)

    def pictures(self, student: str, name: str) -> list[Shown]:
        """The pictures of a lesson, in the order of its sheet. Raises LookupError."""
        return [
            {
                "number": one.number,
                "file": one.still.file,
                "where": where_taken(one.still),
                "marks": len(one.still.marks),
                "row": one.written,
            }
            for one in self._lesson(student, name).stills
        ]

    def picture(self, student: str, name: str, number: int) -> Path:
        """The file of a still. Raises LookupError."""
        return _numbered(self._lesson(student, name).stills, number).picture

    def still(self, student: str, name: str, number: int, focus: Sequence[str]) -> Shown:
        """A still as it stands in the sheet, and what there is beside it: the points that the metrics in `focus` and
        those that all ask for, the ground that another picture of the view lends, the ground that is proposed, and the
        marks of the last lesson. What is proposed is in no sheet. Raises LookupError."""
        lesson = self._lesson(student, name)
        one = _numbered(lesson.stills, number)
        before = self._before(student, name)
        every = measures(self._library(lesson).metrics)
        followed = [measure for measure in every if measure.metric in focus]
        return {
            "number": number,
            "view": one.still.view,
            "checkpoint": one.still.checkpoint,
            "file": one.still.file,
            "where": where_taken(one.still),
            "size": one.size,
            "written": {key: value for key, value in one.written.items() if key in _PARTS},
            "asked": {
                "focus": _asked(followed or every, one.still, stand=not _stand_is_told(others(lesson.stills, one))),
                "all": _asked(every, one.still, stand=True),
            },
            "shown": marks_shown(one.still.view),
            "lent": ground(others(lesson.stills, one), one),
            "proposed": _proposed_ground(lesson, one, before),
            "before": {"lesson": before.sheet.stem, "marks": marks}
            if before and (marks := earlier(one, before.stills))
            else None,
        }

    def proposed(self, student: str, name: str, number: int) -> Shown:
        """The marks that are proposed for a still, in no sheet and no value: those that the model tells from the
        picture, and for the others those of the picture of the view that comes before. What can only be a place to
        start from says so; `lacks` is the line that installs the model, None where it is there. Raises LookupError."""
        lesson = self._lesson(student, name)
        one = _numbered(lesson.stills, number)
        return asdict(self._proposals.of(one, others(lesson.stills, one), lesson.plays))

    def keep(self, student: str, name: str, number: int, sent: SentChanges) -> None:
        """Write what was marked. Raises LookupError, ChangedMeanwhileError where another still has that number by now,
        ReportgenError, OSError."""
        one = _numbered(self._lesson(student, name).stills, number)
        if one.still.file != sent.file or not all(_can_be_written(at, value) for at, _, value in sent.changes):
            raise ChangedMeanwhileError(one.still.file)
        at = ("stills", number)
        self._lessons.write(student, name, *(Change((*at, *loc), was, value) for loc, was, value in sent.changes))

    def values(self, student: str, name: str, number: int, sent: SentMarks) -> Shown:
        """What the marks of the lesson give, those of one still as the page has them: values, what is missing, and
        what cannot be right, from which no number comes. Raises LookupError."""
        lesson = self._lesson(student, name)
        one = _numbered(lesson.stills, number)
        without = {key: value for key, value in one.written.items() if key not in _PARTS}
        still = read_still({**without, **{key: value for key, value in sent.now.items() if key in _PARTS}})
        if still is None or still.file != sent.file:
            raise LookupError(number)
        stills = [still if other.number == number else other.still for other in lesson.stills]
        sizes = {other.still.file: other.size for other in lesson.stills}
        wrong = [f"{where_taken(stills[loc[1]])}: {says}" for loc, says in faults(stills, sizes, lesson.plays)]  # type: ignore[index]
        return {
            "values": [] if wrong else [asdict(one) for one in self._said(lesson, stills, sizes, sent.metrics)],
            "wrong": wrong,
        }

    def last_values(self, student: str, name: str, metrics: Sequence[str]) -> Mapping[str, str]:
        """What the marks of the last lesson with any of this kind gave, by metric."""
        lesson, before = self._lesson(student, name), self._before(student, name)
        if before is None or before.kind != lesson.kind:
            return {}
        stills = [one.still for one in before.stills]
        sizes = {one.still.file: one.size for one in before.stills}
        if faults(stills, sizes, before.plays):
            return {}
        return {said.metric: said.value for said in self._said(before, stills, sizes, metrics) if said.value}

    def _said(
        self,
        lesson: _Lesson,
        stills: Sequence[Still],
        sizes: Mapping[str, tuple[int, int]],
        metrics: Sequence[str],
    ) -> Iterable[SaidValue]:
        library = self._library(lesson)
        spoken = library_for(Reader(self._watched.language()), library)
        academy = self._watched.folder.academy
        marking = academy.marking if academy else MarkingError()
        readings, missing = from_stills(stills, sizes, lesson.plays, marking, library.metrics)
        found = {one.metric: said_reading(one, library.metrics[one.metric], spoken) for one in readings}
        lacking = {one.metric: said_missing(one, spoken) for one in missing if one.metric}
        every = [one.metric for one in measures(library.metrics)]
        wanted = [metric for metric in every if metric in metrics] or every
        return [said for said_of in (found, lacking) for metric in wanted if (said := said_of.get(metric))]

    def _library(self, lesson: _Lesson) -> Library:
        return of_kind(self._watched.folder.library, lesson.kind)

    def _lesson(self, student: str, name: str) -> _Lesson:
        return self._read(student, self._lessons.sheet(student, name))

    def _read(self, student: str, sheet: Path) -> _Lesson:
        theirs = self._watched.folder.students[student].student
        text, _ = read_text(sheet, sheet.name)
        data = parse(text, sheet.name).data if text is not None else None
        said: Mapping[str, Any] = data if isinstance(data, Mapping) else {}
        kind: LessonKind = next((kind for kind in LESSON_KINDS if kind == said.get("kind")), "full-swing")
        stand = said.get("stand")
        return _Lesson(
            sheet,
            theirs.plays if theirs else "right",
            kind,
            stand if isinstance(stand, str) else None,
            stills_written(sheet, self._root),
        )

    def _before(self, student: str, name: str) -> _Lesson | None:
        """The last lesson before this one that has marks."""
        sheet = self._lessons.sheet(student, name)
        earlier = sorted((one for one in sheet.parent.glob("*.yaml") if one.stem < name), reverse=True)
        found = (self._read(student, one) for one in earlier)
        return next((one for one in found if any(still.still.marks for still in one.stills)), None)


def _can_be_written(at: Sequence[str], value: Any) -> bool:
    """Whether a page of marks writes that value at that place of a still."""
    return bool(at) and (at[0] in _PARTS or (len(at) == 1 and value in _SHOWS.get(at[0], ())))


def point_names() -> Mapping[str, str]:
    """How the points are called."""
    return {mark: slug_name(mark) for mark in marks_shown("down-the-line")}


def where_taken(still: Still) -> str:
    """What a still shows: `impact, face-on`."""
    return f"{mid_sentence(moment_name(still.checkpoint))}, {view_name(still.view)}"


def _numbered(stills: Iterable[WrittenStill], number: int) -> WrittenStill:
    for one in stills:
        if one.number == number:
            return one
    raise LookupError(number)


def _asked(of: Iterable[Measure], still: Still, *, stand: bool) -> tuple[Mark, ...]:
    return marks_asked(of, still.view, still.checkpoint, stand=stand)


def _stand_is_told(by: Iterable[WrittenStill]) -> bool:
    """Whether one of these pictures tells where the player stands, so that this one need not."""
    return any(set(STAND) <= set(other.still.marks) for other in by)


def _proposed_ground(lesson: _Lesson, one: WrittenStill, before: _Lesson | None) -> Shown:
    """Scale, stick and camera of the last lesson where the cameras stood on the same marks, as far as this lesson has
    none of its own."""
    if before is None or lesson.stand is None or before.stand != lesson.stand:
        return {}
    own = ground((*others(lesson.stills, one), one), one)
    lent = ground([other for other in before.stills if other.still.view == one.still.view], one)
    return {part: value for part, value in lent.items() if part not in own}
