"""What the clock of the camera does to a reading: tempo from frame numbers, and turns caught by a slow camera."""

from math import hypot, sqrt

from reportgen.records.findings import Remark

FRAME_U = 1 / sqrt(3)
"""A moment picked from a video is right to ±1 frame, evenly spread: standard uncertainty, frames (JCGM 100, 4.3.7)."""


def frame_time_u(speed: float, fps: float) -> float:
    """Standard uncertainty of a value that changes by `speed` a second, taken from a video of `fps` frames a second.

    The moment lies within half a frame either side of the picture, evenly spread: u = speed / fps / √12, in the unit of
    `speed` without its second. At 500 deg/s and 30 frames a second that is 4.8°. Raises ValueError where fps is not
    above 0.
    """
    if not fps > 0:
        raise ValueError(f"frames a second are above 0; it says {fps}")
    return abs(speed) / fps / sqrt(12)


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
