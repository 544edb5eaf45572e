"""The poses that figures begin from, and a written figure -> how the body stands in numbers.

The poses are round figures of what a teacher shows (common practice, no source).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from reportgen.posing.body import Foot, Stance
from reportgen.records.drill_figures import Base, DrillFigure, Eyes, FigureFoot, HandsAt, Held


@dataclass(frozen=True)
class Setting:
    """A whole pose: angles in degrees, lengths in centimetres, as `DrillFigure` has them. A knee that is None bends so
    that the belt is level, a hinge that is None so that the club lies on the ground."""

    belt: float = 0.0
    chest: float = 0.0
    bend: float = 38.0
    side_bend: float = 5.0
    lead_knee: float | None = 20.0
    trail_knee: float | None = 20.0
    shift: float = 0.0
    seat: float = 0.0
    stance: float = 42.0
    lead_heel: float = 0.0
    trail_heel: float = 0.0
    lead_hand: HandsAt = "club"
    trail_hand: HandsAt = "club"
    holds: Held = "iron"
    arms: float = 0.0
    hinge: float | None = None
    hang: float = 18.0
    """How far the arms hang in front of the shoulders at set-up."""
    eyes: Eyes = "ball"
    seat_height: float | None = None


_ADDRESS = Setting()
_THROUGH = replace(_ADDRESS, trail_knee=None, lead_knee=10.0, bend=30.0, side_bend=14.0)

BASES: Mapping[Base, Setting] = {
    "address": _ADDRESS,
    "upright": replace(
        _ADDRESS, bend=10, side_bend=0, lead_knee=10, trail_knee=10, stance=38, lead_hand="shoulder",
        trail_hand="shoulder", holds="nothing", eyes="ahead", seat=8,
    ),
    "sitting": replace(
        _ADDRESS, bend=4, side_bend=0, lead_knee=None, trail_knee=None, stance=34, lead_hand="shoulder",
        trail_hand="shoulder", holds="nothing", eyes="ahead", seat=-30, seat_height=45,
    ),
    "chip": replace(_ADDRESS, stance=22, shift=3, side_bend=2, holds="wedge", lead_knee=20, trail_knee=22, bend=41),
    "putt": replace(
        _ADDRESS, bend=50, side_bend=2, stance=30, lead_knee=16, trail_knee=16, holds="putter", hang=10,
    ),
    "knee-back": replace(_ADDRESS, belt=10, chest=18, arms=28, hinge=8),
    "hip-back": replace(_ADDRESS, belt=25, chest=52, arms=46, hinge=44, side_bend=2, trail_knee=18, lead_knee=25),
    "chest-back": replace(_ADDRESS, belt=38, chest=75, arms=88, hinge=70, side_bend=0, trail_knee=16, lead_knee=28),
    "top": replace(_ADDRESS, belt=44, chest=90, arms=122, hinge=100, side_bend=0, trail_knee=15, lead_knee=32),
    "impact": replace(
        _THROUGH, belt=-38, chest=-25, side_bend=18, bend=34, shift=6, arms=-4, trail_heel=3, lead_knee=12,
    ),
    "knee-through": replace(_THROUGH, belt=-40, chest=-30, shift=6, arms=-28, hinge=-6, trail_heel=4),
    "hip-through": replace(_THROUGH, belt=-58, chest=-52, shift=8, arms=-44, hinge=-46, trail_heel=7),
    "chest-through": replace(
        _THROUGH, belt=-72, chest=-80, shift=10, arms=-88, hinge=-68, trail_heel=10, bend=22, side_bend=12,
    ),
    "finish": replace(
        _THROUGH, belt=-85, chest=-105, shift=13, arms=-135, hinge=-105, trail_heel=15, lead_knee=5, bend=6,
        side_bend=2, eyes="target", seat=8,
    ),
}  # fmt: skip

_LEAD_OUT, _TRAIL_OUT = 22.0, 8.0
_LEAD_ROLLS, _TRAIL_ROLLS = -150.0, 350.0
"""Degrees that a foot turns toward the target for each metre that its heel is lifted."""


def setting_of(figure: DrillFigure) -> Setting:
    """The pose of a figure, with what differs from its base."""
    same = ("belt", "chest", "bend", "side_bend", "lead_knee", "trail_knee", "shift", "seat", "stance", "arms", "hinge")
    base = BASES[figure.pose]
    changes: dict[str, Any] = {name: getattr(figure, name) for name in (*same, "holds", "eyes")}
    changes |= {side: getattr(figure, side) or figure.hands for side in ("lead_hand", "trail_hand")}
    for side in ("lead", "trail"):
        changes[f"{side}_heel"] = getattr(figure, f"{side}_foot").heel
    written = {name: None if value == "level" else value for name, value in changes.items() if value is not None}
    setting = _changed(base, written)
    on_club = "club" in (setting.lead_hand, setting.trail_hand)
    if figure.holds is None and not on_club:
        setting = replace(setting, holds="nothing")
    if figure.holds is None and on_club and setting.holds == "nothing":
        setting = replace(setting, holds="iron")
    return setting


def _changed(base: Setting, changes: dict[str, Any]) -> Setting:
    return replace(base, **changes)


def stance_of(figure: DrillFigure) -> Stance:
    """How the body of a figure stands or sits."""
    setting = setting_of(figure)
    half = setting.stance / 200
    return Stance(
        lead_foot=_foot(figure.lead_foot, half, setting.lead_heel, _LEAD_OUT, 1),
        trail_foot=_foot(figure.trail_foot, -half, setting.trail_heel, _TRAIL_OUT, -1),
        belt=setting.belt,
        chest=setting.chest,
        side_bend=setting.side_bend,
        bend=setting.bend,
        lead_knee=setting.lead_knee,
        trail_knee=setting.trail_knee,
        shift=setting.shift / 100,
        seat_forward=setting.seat / 100,
        seat_height=None if setting.seat_height is None else setting.seat_height / 100,
    )


def _foot(foot: FigureFoot, place: float, heel: float, usual: float, sign: int) -> Foot:
    out = usual if foot.out is None else foot.out
    toes = foot.toes or 0.0
    rolls = _TRAIL_ROLLS if sign < 0 else _LEAD_ROLLS
    return Foot(place + foot.toward / 100, foot.ahead / 100, sign * out, heel / 100, toes, rolls)
