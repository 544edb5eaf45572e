"""A written figure -> all its joints, and what is wrong with it where no body can stand so."""

from collections.abc import Iterator
from dataclasses import dataclass

from reportgen.posing.arms import STATURE, with_arms
from reportgen.posing.body import Joints, PoseError, joints
from reportgen.posing.poses import BASES, Setting, setting_of, stance_of
from reportgen.posing.vectors import TARGET, UP, Vec
from reportgen.records.drill_figures import DrillFigure, FigureThing

INTO = 0.03
"""How far, in metres, a body may be drawn into a wall: clothes give."""
_BALL_WHERE_NONE = Vec(0, 0.45, 0.02)


@dataclass(frozen=True)
class Posed:
    """A figure in space: its joints, the pose in numbers, where the ball is or would be, and where the eyes look."""

    body: Joints
    setting: Setting
    ball: Vec
    looks_at: Vec


def posed(figure: DrillFigure) -> Posed:
    """The figure in space. Raises PoseError where no body can stand so."""
    setting, body = setting_of(figure), joints(stance_of(figure))
    body = with_arms(setting, body)
    ball = _ball(figure, setting, body)
    head = body["head"]
    looks = {"ball": ball, "target": head + TARGET * 4 - UP * 0.6, "ahead": head + Vec(0, 3, -0.1)}
    return Posed(body, setting, ball, looks[setting.eyes])


def _ball(figure: DrillFigure, setting: Setting, body: Joints) -> Vec:
    """Where the club lies on the ground, or would at set-up in the same stance."""
    if setting.holds in ("iron", "wedge", "putter") and setting.hinge is None and "clubhead" in body:
        return body["clubhead"] + Vec(0.045, 0.02, 0)
    base = {"putter": "putt", "wedge": "chip"}.get(setting.holds, "address")
    set_up = DrillFigure(pose=base, stance=figure.stance, lead_foot=figure.lead_foot, trail_foot=figure.trail_foot)
    if setting.seat_height is not None or base not in BASES:
        return _BALL_WHERE_NONE
    try:
        at_set_up = with_arms(setting_of(set_up), joints(stance_of(set_up)))
    except PoseError:
        return _BALL_WHERE_NONE
    return at_set_up["clubhead"] + Vec(0.045, 0.02, 0)


def faults_of(figure: DrillFigure) -> Iterator[tuple[str, str]]:
    """(what is wrong, how to mend it) of a figure that is drawn."""
    try:
        found = posed(figure)
    except PoseError as error:
        wrong, mend = error.args
        yield wrong, mend
        return
    for thing in figure.things:
        if thing.what == "wall" and (into := _into(thing, found.body)) > INTO:
            wrong = f"stands {100 * into:.0f} cm inside the wall"
            yield wrong, f"Write away: {thing.away + 100 * into:.0f} or more, or move the seat or the hips."  # type: ignore[operator]


def _into(wall: FigureThing, body: Joints) -> float:
    """How far the body reaches behind a wall, in metres."""
    away = (wall.away or 0) / 100
    # half the thickness of the body at each place
    at = [(body["seat"], 0.0)] + [(body[f"{side}-shoulder"], 0.03 * STATURE) for side in ("lead", "trail")]
    at += [(body[f"{side}-hip"], 0.046 * STATURE) for side in ("lead", "trail")] + [(body["head"], 0.056 * STATURE)]
    if wall.side == "behind":
        return max(thick * (name is not body["seat"]) - name.y for name, thick in at) - away
    if wall.side == "ahead":
        return max(point.y + thick for point, thick in at) - away
    sign = 1 if wall.side == "lead" else -1
    return max(sign * point.x + thick for point, thick in at if point is not body["seat"]) - away
