"""Cameras that do not stand as they should, and sticks of which nothing comes: worth a look, no problem."""

from collections.abc import Iterator, Sequence
from math import atan2, degrees, hypot

from reportgen.records.stills import Scale, Still
from reportgen.records.words import Mark
from reportgen.sheets.academy_folder import LessonSheet
from reportgen.sheets.ball_shifts import ball_shifts
from reportgen.sheets.problems import Problem
from reportgen.sheets.tree import Loc

LEVEL_DEG = 1.5
"""A scale that lies level and slopes by more than this tells of a camera that leans or is turned (own figure)."""
MEANT_LEVEL_DEG = 10.0
"""A scale that slopes by less than this is meant to lie level (own figure)."""

_ANKLES: tuple[Mark, Mark] = ("lead-ankle", "trail-ankle")


def stand_warnings(sheet: LessonSheet, click_px: float) -> Iterator[Problem]:
    """What is worth a look, in the order of the stills. `click_px` is one click's standard uncertainty in pixels."""
    stills = sheet.lesson.stills
    shifts = ball_shifts(stills, click_px)
    for number, still in enumerate(stills):
        at: Loc = ("stills", number)
        if still.scale is not None and (slope := _slope(still.scale)) is not None:
            yield sheet.sheet.problem(
                (*at, "scale"),
                f"the scale lies level and slopes by {slope:.1f}° in the picture: the camera leans, or is turned",
                "Set the phone level by its own level, and square to the target line.",
            )
        if number in shifts:
            yield sheet.sheet.problem(
                (*at, "marks", "ball"),
                f"the ball lies {hypot(*shifts[number]):.0f} px from where the first {still.view} still of this swing "
                "shows it: the camera moved",
                "The shift is taken out; look whether the ball is marked right, and fix the phone to its stand.",
            )
        yield from _sticks(sheet, stills, number)


def _slope(scale: Scale) -> float | None:
    """By how many degrees a scale slopes that is meant to lie level; None where it does not, or hardly slopes."""
    (x0, y0), (x1, y1) = scale.from_, scale.to
    slope = degrees(atan2(abs(y1 - y0), abs(x1 - x0)))
    return slope if slope > LEVEL_DEG and (scale.is_stick or slope < MEANT_LEVEL_DEG) else None


def _sticks(sheet: LessonSheet, stills: Sequence[Still], number: int) -> Iterator[Problem]:
    """A stick that cannot be used, and a scale that is said to be a stick that nothing shows."""
    still, at = stills[number], ("stills", number)
    if still.stick is not None and not any(s.camera for s in stills if s.view == still.view):
        yield sheet.sheet.problem(
            (*at, "stick"),
            "the stick tells how the camera is turned only where the camera's distance is known",
            "Add camera: {distance: 4.10 m} with what the tape says.",
        )
    if still.scale is None or not still.scale.is_stick:
        return
    others = [s for s in stills if s.view != still.view and s.stick is not None]
    if not any(all(mark in other.marks for mark in _ANKLES) for other in others):
        other = "down-the-line" if still.view == "face-on" else "face-on"
        yield sheet.sheet.problem(
            (*at, "scale", "is_stick"),
            f"the scale is said to be a stick, and no {other} still shows that stick with both ankles",
            f"Mark stick: and both ankles on a {other} still, or take is_stick out.",
        )
