"""What the clocks of cameras do to a reading: tempo from frame numbers, turns caught by a slow camera, two films."""

from collections.abc import Mapping
from math import hypot, sqrt
from typing import Literal

from reportgen.records.findings import Remark
from reportgen.records.words import Checkpoint, View

FRAME_U = 1 / sqrt(3)
"""A moment picked from a video is right to ±1 frame, evenly spread: standard uncertainty, frames (JCGM 100, 4.3.7)."""
SHARP: tuple[Checkpoint, Checkpoint] = ("delivery", "impact")
"""The moments that are over so soon that everybody picks the same frame."""
FRAMES_APART = 2.5
"""From so many frames on, two films that disagree were not picked as well as they could be: with four frames, each
picked to ±1, they disagree by that much once in 30 times."""

ONE_CLOCK_S = {"sound": 0.001, "pictures": 0.008}
"""Within how many seconds two films come on one clock."""
SLOWEST = 30.0
"""Frames a second of a film that does not say."""

Times = Mapping[tuple[View, Checkpoint], float]
"""When the stills of one swing were taken, in seconds of each film's own clock."""


def frame_time_u(speed: float, fps: float) -> float:
    """Standard uncertainty of a value that changes by `speed` a second, taken from a video of `fps` frames a second.

    The picture is picked to ±1 frame, and no frame is nearer than half of one to the moment, both evenly spread:
    u = speed / fps · √(1/3 + 1/12), in the unit of `speed` without its second. At 300 deg/s and 60 frames a second that
    is 3.2°. Raises ValueError where fps is not above 0.
    """
    if not fps > 0:
        raise ValueError(f"frames a second are above 0; it says {fps}")
    return abs(speed) / fps * hypot(FRAME_U, FRAME_U / 2)


def lag_u(known: float | None, fps: float | None, lag_ms: float) -> float:
    """Standard uncertainty, in seconds, of a value from two films because their pictures are not of one moment.

    Where the films tell by how much they disagree, `known` seconds, that counts in full, as nobody knows which picture
    is late, and with it half a frame of the slower film either side, evenly spread. Otherwise it is `lag_ms`.
    """
    if known is None or fps is None:
        return lag_ms / 1000
    return hypot(known, FRAME_U / 2 / fps)


def one_clock_u(apart: float, by: Literal["sound", "pictures", "hand"], fps: float | None) -> float:
    """Standard uncertainty, in seconds, of a value from two films that are on one clock, whose pictures are `apart`
    seconds by it.

    What they are apart counts in full, as nobody knows which picture is late. The clock itself is right to 1 ms by the
    sound of the strike and to 8 ms by the pictures (own figures: the most that it was wrong over filmed swings with a
    known lag was 0.4 and 4.9 ms), and to a frame of each film where a person picked impact in both; all evenly spread.
    """
    clock = FRAME_U * ONE_CLOCK_S[by] if by != "hand" else FRAME_U * sqrt(2) / (fps or SLOWEST)
    return hypot(apart, clock)


def lag(times: Times) -> float | None:
    """By how many seconds more the down-the-line film takes from delivery to impact than the face-on one; None where a
    film does not tell both.

    The two need no common clock, as the same time goes by in both. Other moments tell nothing, as
    nobody picks the top to a frame.
    """
    if not all((view, at) in times for view in ("face-on", "down-the-line") for at in SHARP):
        return None
    took = {view: times[view, "impact"] - times[view, "delivery"] for view, _ in times}
    return took["down-the-line"] - took["face-on"]


def tempo_ratio(start: float, top: float, impact: float) -> tuple[float, float]:
    """Backswing time over downswing time and its standard uncertainty, from the frame numbers of the takeaway's start,
    the top and impact in one video.

    Each moment is right to ±1 frame, evenly spread; the top counts in both times. First order (JCGM 100, 5.1.2):
    (u/r)² = u_frame² · ((1/b + 1/d)² + 1/b² + 1/d²), b and d in frames. A downswing of 0.25 s after a backswing of
    0.75 s carries 13 % at 30 frames a second, 1.6 % at 240. The rate itself cancels from the ratio. Raises ValueError
    where the frames are not in order.
    """
    if not start < top < impact:
        raise ValueError(f"the start comes before the top and the top before impact; it says {start}, {top}, {impact}")
    back, down = top - start, impact - top
    ratio = back / down
    return ratio, ratio * FRAME_U * hypot(1 / back + 1 / down, 1 / back, 1 / down)


def frame_rate(start: float, top: float, impact: float, fps: float) -> Remark:
    """What the rate of the video leaves uncertain of a tempo ratio. Raises ValueError where the frames are not in order
    or `fps` is not above 0."""
    if not fps > 0:
        raise ValueError(f"frames a second are above 0; it says {fps}")
    ratio, u = tempo_ratio(start, top, impact)
    figures = {"fps": fps, "seconds": (impact - top) / fps, "percent": 100 * u / ratio}
    return Remark(code="frame rate", figures=figures)
