"""The demo's golfer in motion: a whole swing through the three poses that a lesson's stills show.

Between setup, top and impact stand poses of our own, a club level on its way back and down and a finish; body, lead arm
and club go from one to the next on smooth curves (cubic, after Catmull and Rom). No recorded motion is in it.
"""

from dataclasses import dataclass, replace
from math import cos, radians, sin

import numpy as np

from examples.drawn_lessons import DrawnLesson
from examples.golfer import Figure, Pose, Vector, figure, unit

BACK_S, DOWN_S = 0.84, 0.28
"""Seconds from setup's last frame to the top, and from there to impact, of the demo's first player."""
FRAMES = 24
ANGLES = (
    "pelvis_closed", "thorax_closed", "side_bend", "forward_bend", "lead_knee", "trail_knee", "pelvis_shift",
    "seat_forward", "heel_lift", "reach",
)  # fmt: skip


@dataclass(frozen=True)
class Keyed:
    """A pose at a time (s), with the lead arm's and the club's directions in the axes of the golfer's world."""

    time: float
    pose: Pose
    arm: Vector
    shaft: Vector


def swing(lesson: DrawnLesson, slower: float = 1.0) -> tuple[tuple[float, ...], dict[str, int], list[Pose]]:
    """The times (s) of FRAMES frames, which of them are checkpoints, and the pose in each; `slower` stretches the time
    of a player with another tempo."""
    keys = _keys(lesson)
    marks = {"setup": 0.0, "takeaway": 0.42, "top": 1.04, "transition": 1.11, "delivery": 1.26, "impact": 1.32}
    marks["finish"] = keys[-1].time
    wanted = list(np.linspace(0.0, keys[-1].time, FRAMES))
    free, at = set(range(FRAMES)), {}
    for name, time in marks.items():
        place = min(free, key=lambda n: abs(wanted[n] - time))
        free.discard(place)
        wanted[place] = time
        at[name] = time
    times = sorted(wanted)
    checkpoints = {name: times.index(time) for name, time in at.items()}
    exact = {checkpoints["setup"]: lesson.setup, checkpoints["top"]: lesson.top, checkpoints["impact"]: lesson.impact}
    poses = [exact.get(number) or _pose_at(keys, time) for number, time in enumerate(times)]
    return tuple(round(0.3 + slower * time, 3) for time in times), checkpoints, poses


def _keys(lesson: DrawnLesson) -> list[Keyed]:
    """The poses that the curves go through, in their order."""
    setup, top, impact = lesson.setup, lesson.top, lesson.impact
    back = _mixed(setup, top, 0.30, side_bend=4.0)
    level = _mixed(setup, top, 0.66, side_bend=3.0)
    begun = replace(
        _mixed(top, impact, 0.12), pelvis_closed=top.pelvis_closed - 9, thorax_closed=top.thorax_closed - 2,
        pelvis_shift=top.pelvis_shift + 0.02,
    )  # fmt: skip
    down = _mixed(top, impact, 0.62)
    before = _mixed(top, impact, 0.88)
    past = _mixed(impact, _finish(impact), 0.30)
    through = _mixed(impact, _finish(impact), 0.62)
    end = _finish(impact)
    now, then = _arm_and_club(setup), _arm_and_club(impact)
    at_top = _arm_and_club(top)
    return [
        Keyed(0.0, setup, *now),
        Keyed(0.12, setup, *now),
        Keyed(0.42, back, _way(-0.50, 0.46, -0.73), _way(-0.97, 0.20, 0.10)),
        Keyed(0.72, level, _way(-0.82, 0.52, 0.02), _way(-0.25, -0.18, 0.95)),
        Keyed(1.04, top, *at_top),
        Keyed(1.11, begun, _between(at_top[0], _way(-0.80, 0.50, 0.25), 0.18), at_top[1]),
        Keyed(1.20, down, _way(-0.74, 0.62, -0.22), _way(-0.45, -0.25, 0.86)),
        Keyed(1.26, before, _way(-0.30, 0.52, -0.80), _way(-0.98, 0.12, -0.05)),
        Keyed(1.32, impact, *then),
        Keyed(1.40, past, _way(0.58, 0.42, -0.70), _way(0.93, 0.10, -0.30)),
        Keyed(1.52, through, _way(0.72, 0.05, 0.42), _way(0.20, -0.15, 0.96)),
        Keyed(1.76, end, _way(0.30, 0.02, 0.62), _way(-0.80, -0.30, 0.22)),
        Keyed(1.90, end, _way(0.30, 0.00, 0.60), _way(-0.80, -0.34, 0.02)),
    ]


def _finish(impact: Pose) -> Pose:
    return replace(
        impact, pelvis_closed=-88, thorax_closed=-112, side_bend=6, forward_bend=8, lead_knee=6, trail_knee=42,
        pelvis_shift=0.15, seat_forward=0.03, heel_lift=0.17, reach=0.6,
    )  # fmt: skip


def _mixed(one: Pose, other: Pose, part: float, **changes: float) -> Pose:
    values = {name: (1 - part) * getattr(one, name) + part * getattr(other, name) for name in ANGLES}
    return replace(one, **(values | changes))  # type: ignore[arg-type]


def _way(x: float, y: float, z: float) -> Vector:
    return unit(np.array([x, y, z], dtype=np.float64))


def _between(one: Vector, other: Vector, part: float) -> Vector:
    return unit((1 - part) * one + part * other)


def _arm_and_club(pose: Pose) -> tuple[Vector, Vector]:
    body: Figure = figure(pose)
    return unit(body["lead-wrist"] - body["lead-shoulder"]), unit(body["clubhead"] - body["lead-wrist"])


def _pose_at(keys: list[Keyed], time: float) -> Pose:
    place = max(1, next((n for n, key in enumerate(keys) if key.time >= time), len(keys) - 1))
    values = {name: _curve([getattr(key.pose, name) for key in keys], keys, place, time) for name in ANGLES}
    arm = unit(np.array([_curve([float(key.arm[axis]) for key in keys], keys, place, time) for axis in range(3)]))
    shaft = unit(np.array([_curve([float(key.shaft[axis]) for key in keys], keys, place, time) for axis in range(3)]))
    pose = replace(keys[0].pose, **values)
    return replace(pose, lead_arm=_as_chest_has_it(arm, pose), shaft=tuple(map(float, shaft)))


def _as_chest_has_it(arm: Vector, pose: Pose) -> tuple[float, float, float]:
    """A direction of the world along (shoulder line from lead to trail, chest forward, up)."""
    turned = radians(pose.thorax_closed)
    across, ahead = np.array([-cos(turned), -sin(turned), 0]), np.array([-sin(turned), cos(turned), 0])
    return float(arm @ across), float(arm @ ahead), float(arm[2])


def _curve(values: list[float], keys: list[Keyed], place: int, time: float) -> float:
    """The value at a time between keys `place` - 1 and `place`, with slopes that do not swing past the keys."""
    start, end = keys[place - 1].time, keys[place].time
    span = end - start
    t = min(1.0, max(0.0, (time - start) / span))
    first, last = (_slope(values, keys, n) * span for n in (place - 1, place))
    a, b = values[place - 1], values[place]
    return (
        (2 * t**3 - 3 * t**2 + 1) * a + (t**3 - 2 * t**2 + t) * first + (3 * t**2 - 2 * t**3) * b + (t**3 - t**2) * last
    )


def _slope(values: list[float], keys: list[Keyed], at: int) -> float:
    """The harmonic mean of the slopes on both sides, 0 where they differ in sign (Fritsch and Butland 1984)."""
    if at in (0, len(keys) - 1):
        return 0.0
    before = (values[at] - values[at - 1]) / (keys[at].time - keys[at - 1].time)
    after = (values[at + 1] - values[at]) / (keys[at + 1].time - keys[at].time)
    return 0.0 if before * after <= 0 else 2 * before * after / (before + after)
