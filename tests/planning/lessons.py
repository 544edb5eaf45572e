"""Students and their lessons as anybody could write them, as records without a file, for tests that try thousands."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations
from pathlib import Path
from typing import Any, get_args

from hypothesis import strategies as st

from reportgen.records.academy import Academy, PracticeTime, Student
from reportgen.records.lesson import Cleared, Comfort, DrillChoice, Lesson, PracticeEntry
from reportgen.records.safety import SafetyRule
from reportgen.records.words import LESSON_KINDS, SITES, Activity, FeltWhen, LessonKind, fits_kind
from reportgen.sheets.academy_folder import LessonSheet, SoundAcademy, StudentFolder
from reportgen.sheets.attached import Attached
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Tree
from tests.judging.academies import library

ACADEMY = Academy.model_validate(
    {"name": "Invented Green", "instructor": {"name": "Invented Teacher"}, "secret": "an invented phrase of the tests"}
)
FIRST = date(2026, 3, 5)
BORN = {"junior": date(2013, 5, 1), "adult": date(1986, 5, 1), "senior": date(1958, 5, 1)}
CLUBS = {"full-swing": "7-iron", "short-game": "sand-wedge", "putting": "putter", "on-the-course": "driver"}
COUNTS = {"short-game": "solid", "putting": "holed"}
OUT = {"pelvis-open-impact": (45, 75), "thorax-open-impact": (30, 60), "tempo-ratio": (2, 5)}
"""Values about the middle of a range, and far out of it."""

FELT = [Comfort(site=s, score=n, when=w) for s in SITES for n in (0, 1, 2, 3, 4, 5, 7) for w in get_args(FeltWhen)]
felt = st.lists(st.sampled_from(FELT), max_size=2)
times = st.none() | st.builds(
    PracticeTime,
    minutes=st.sampled_from((5, 10, 20, 30, 45, 90)),
    days=st.lists(st.sampled_from(("mon", "wed", "thu", "sat")), min_size=1, unique=True).map(tuple),
)
LOGS = ((), (), (40,), (200,))
DOSES = (None, None, "1 x 3 slow", "3 x 10 easy", "10 x 30 full", "8 min")
students = st.builds(
    Student,
    name=st.just("Ines Invented"),
    born=st.sampled_from(tuple(BORN.values())),
    plays=st.just("right"),
    watch=st.lists(st.sampled_from(SITES), max_size=2, unique=True).map(tuple),
    practice=times,
    mail=st.just({"to": ["ines@example.org"]}),
    guardian=st.just({"name": "Ida Invented", "mail": "ida@example.org"}),
)
FORBIDDING = [(), (), (), *((one,) for one in get_args(Activity)), *combinations(get_args(Activity), 2)]
"""What a rule of the academy's own forbids to everybody, beside the shipped ones."""


def _drills(kind: LessonKind) -> list[str]:
    return sorted(d.id for d in library().drills.values() if any(fits_kind([one], kind) for one in d.kinds))


@st.composite
def lessons_of(draw: st.DrawFn, day: date, kind: LessonKind, out: bool) -> Lesson:
    """One lesson of a kind: values (`out` of their ranges or in them), counts, drills, comfort, log, and now and then a
    clearance."""
    readings: list[dict[str, Any]] = []
    if kind in ("full-swing", "on-the-course"):
        metric = draw(st.sampled_from(sorted(OUT)))
        unit = "1" if metric == "tempo-ratio" else "deg"
        readings = [{"metric": metric, "value": OUT[metric][out], "unit": unit, "how": "sensor", "u": 0.5}]
    shots = [{"count": COUNTS[kind], "made": 9 - 4 * out, "of": 10}] if kind in COUNTS else []
    for shot in shots if kind == "putting" else ():
        shot["distance"] = "2 m"
    chosen = draw(st.lists(st.sampled_from(_drills(kind)), min_size=0 if out else 1, max_size=3, unique=True))
    dose = draw(st.sampled_from(DOSES))
    log = [PracticeEntry(date=day - timedelta(days=1), swings=swings) for swings in draw(st.sampled_from(LOGS))]
    return Lesson.model_validate(
        {
            "student": "ines-invented",
            "date": day,
            "kind": kind,
            "club": CLUBS[kind],
            "readings": readings,
            "shots": shots,
            "drills": [DrillChoice(drill=drill, dose=dose) for drill in chosen],
            "comfort": draw(felt),
            "practice_log": log,
            "cleared": Cleared(by="a doctor", on=day) if draw(st.integers(0, 3)) == 0 else None,
        }
    )


@st.composite
def histories(draw: st.DrawFn) -> tuple[Student, tuple[Lesson, ...]]:
    """A student with up to four lessons."""
    kind, out = draw(st.sampled_from((*LESSON_KINDS, "full-swing", "full-swing"))), draw(st.booleans())
    days = [FIRST + timedelta(weeks=week) for week in range(draw(st.integers(1, 4)))]
    return draw(students), tuple(draw(lessons_of(day, kind, out)) for day in days)


def home_with(forbids: Sequence[Activity]) -> SoundAcademy:
    """An academy with a rule of its own that forbids something to everybody."""
    own = SafetyRule(
        id="of-the-tests",
        level="note",
        when={"always": True},
        forbids=forbids,
        student="Mind it.",
        instructor="Mind it.",
        basis="instructor",
        source="invented",
    )
    shared = library()
    return SoundAcademy(Path("none"), ACADEMY, replace(shared, rules={**shared.rules, own.id: own}))


def folder_of(student: Student, lessons: Sequence[Lesson]) -> StudentFolder:
    """A student with these lessons, as if they had been read from files."""
    sheets = [
        LessonSheet(one.date.isoformat(), Sheet("none", one, Tree({}, {}, {}, [], [], [])), Attached())
        for one in lessons
    ]
    return StudentFolder("ines-invented", student, tuple(sheets), ())
