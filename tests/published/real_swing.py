"""A real swing before invented cameras: the joints of `cases/swing.json` at any moment around each checkpoint.

The data used here was obtained from mocap.cs.cmu.edu. That database was created with funding from NSF EIA-0196217. It
is free for all uses and may be included in products; it may not be resold as data, even converted. The file tells
from which recording and in whose conversion it comes, and how the moments were found.
"""

import json
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import NamedTuple, get_args

import numpy as np

from reportgen.measuring.blur import Noise
from reportgen.measuring.formulas import measures
from reportgen.measuring.stills import measure
from reportgen.records.stills import Still
from reportgen.records.words import Mark
from tests.bench.measuring import METRICS
from tests.measuring import figures, pinhole

FPS = 60
(TRIAL,) = json.loads((Path(__file__).parent / "cases" / "swing.json").read_text(encoding="utf-8"))["trials"]
FRAMES = {
    checkpoint: {int(frame): joints for frame, joints in frames.items()} for checkpoint, frames in TRIAL["at"].items()
}
MARKS = [mark for mark in FRAMES["setup"][0] if mark in get_args(Mark)]


class Late(NamedTuple):
    """By how many frames the pictures of both films are late, at every checkpoint but setup."""

    face_on: float = 0.0
    down: float = 0.0


ON_TIME = Late()


def joints(late: float = 0.0) -> figures.Joints:
    """The joints at every checkpoint, so many frames late, (1, 3) each; between two frames and beyond the last one on a
    straight line. At setup the player stands still."""
    return {checkpoint: _joints_at(frames, late) for checkpoint, frames in FRAMES.items()}


def _joints_at(frames: Mapping[int, Mapping[str, list[float]]], late: float) -> dict[str, np.ndarray]:
    if len(frames) == 1:
        return {mark: np.array([frames[0][mark]]) for mark in MARKS}
    before = int(np.clip(np.floor(late), min(frames), max(frames) - 1))
    share = late - before
    return {
        mark: np.array([(1 - share) * np.array(frames[before][mark]) + share * np.array(frames[before + 1][mark])])
        for mark in MARKS
    }


TRUTH = {metric: float(value[0]) for metric, value in figures.truths(joints()).items()}


def square_cameras() -> tuple[pinhole.View, pinhole.View]:
    """Two cameras that look in their right directions."""
    return pinhole.View("face-on", 4.4, 1.1), pinhole.View("down-the-line", 4.2, 1.1, aside=0.3)


def any_cameras(random: np.random.Generator, noise: Noise) -> tuple[pinhole.View, ...]:
    """Two cameras as they may stand, turned as `noise` says."""
    return tuple(
        pinhole.View(
            view,
            distance=random.uniform(3.5, 6),
            height=random.uniform(0.8, 1.4),
            aside=random.normal(0, 0.1) if view == "face-on" else random.uniform(0, 0.4),
            yaw_deg=random.normal(0, noise.yaw_deg),
            roll_deg=random.normal(0, noise.roll_deg),
        )
        for view in ("face-on", "down-the-line")
    )


def filmed(
    cameras: tuple[pinhole.View, ...],
    late: Late = ON_TIME,
    random: np.random.Generator | None = None,
    noise: Noise | None = None,
) -> list[Still]:
    """The marked stills of both films, with the noise that is asked for, or none."""
    random = random or np.random.default_rng(0)
    marker = pinhole.marker(joints(), random, noise) if noise else None
    click, still = (noise.click_px, noise.still_mm) if noise else (0.0, 0.0)
    taken = [
        one
        for camera, frames in zip(cameras, late, strict=False)
        for one in pinhole.stills(joints(frames), 0, (camera,), random, click, still, marker)
    ]
    return [still.model_copy(update={"fps": FPS}) for still in taken]


class Counted(NamedTuple):
    """Of 100 times, by metric: how often the 95 % interval of a value held the truth, how often no value was given as
    the pictures were not of one moment."""

    held: Mapping[str, float]
    withheld: Mapping[str, float]


def counted(times: int, seed: int, late: Late | None, metrics: Collection[str], samples: int = 512) -> Counted:
    """What two films of the swing give, `times` over, each with a marker, a lesson and a stand of its own. Without
    `late` a frame is picked to ±1 and the other film lags as declared."""
    random, noise = np.random.default_rng(seed), Noise()
    wanted = {metric: METRICS[metric] for metric in metrics}
    shown = {checkpoint for one in measures(wanted) for checkpoint in one.ways[0].checkpoints}
    held: dict[str, list[bool]] = {}
    withheld: dict[str, int] = dict.fromkeys(metrics, 0)
    for _ in range(times):
        taken = filmed(any_cameras(random, noise), late or _as_declared(random, noise), random, noise)
        taken = [still for still in taken if still.checkpoint in {"setup", *shown}]
        readings, missing = measure(taken, wanted, "right", pinhole.sizes(taken), noise=noise, samples=samples)
        for reading in readings:
            off = abs(reading.value - TRUTH[reading.metric])
            held.setdefault(reading.metric, []).append(off <= 1.96 * reading.u)
        for gap in missing:
            withheld[gap.metric] += any(need.what == "one moment" for need in gap.needs)
    return Counted(
        {metric: 100 * float(np.mean(ones)) for metric, ones in held.items()},
        {metric: 100 * count / times for metric, count in withheld.items()},
    )


def _as_declared(random: np.random.Generator, noise: Noise) -> Late:
    picked = random.uniform(-1, 1) + random.uniform(-0.5, 0.5)
    return Late(picked, picked + random.normal(0, noise.lag_ms / 1000 * FPS))
