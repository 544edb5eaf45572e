"""What blurs a mark, part by part, as samples (JCGM 101).

Every array of samples has `rows` entries: row 0 is the marks as they were set, without any noise. Then comes a block of
draws for each part alone, in which everything else is as set, and at the end a block in which all parts blur together.
So one pass through the formulas tells how much each part makes of a value's uncertainty, and what they make together.

The parts, by who shares a draw:

- `habit`: where this marker sees a landmark of this player, alike in every lesson;
- `camera`: how the cameras of one stand are turned and where their scales lie, alike as long as the stand is;
- `visit`: clothing, dots put on anew, clicks on the scale: alike in all swings of one lesson;
- `still`: the click on a mark and its placement in one picture.

Draws are seeded by landmark, checkpoint, view and swing, never by names or by what is marked: the same sheet gives the
same numbers, so does its mirror image, and one more metric changes no number of another.
"""

import hashlib
import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal, get_args

import numpy as np

from reportgen.measuring.geometry import Array
from reportgen.records.words import Mark

Part = Literal["habit", "camera", "visit", "still"]
PARTS: tuple[Part, ...] = get_args(Part)
SAMPLES = 1024
"""Draws in each block. The standard deviation of so many is right to 2 %."""

_MARKS: tuple[Mark, ...] = get_args(Mark)
COMMON = 0.5
"""The share of habit and visit, as variance, that a landmark has alike at all checkpoints (own figure)."""


@dataclass(frozen=True)
class Noise:
    """Standard uncertainties of marking and filming.

    `click_px` and `scale_px`: a click on a mark, on an end of the scale. `habit_mm`, `visit_mm`, `still_mm`: where a
    landmark is seen, along each axis. `yaw_deg`, `roll_deg`: how a camera is turned. `scale_plane_m`: how far nearer or
    further than the player's plane the scale lies. `lag_ms`: how far apart in time the two pictures of one moment are
    where their films do not tell. Habit, visit and still together are the 12 mm of one placement: 10
    by the published errors of hip centres, 5 by what two days add to one, 4 by one person's second look at one picture
    (Damsted C, Nielsen RO, Larsen LH. Int J Sports Phys Ther; Guadagnin EC et al. Braz J Motor Behav 2025;19(1)).
    Yaw, roll, the scale's plane and the lag (half a frame of 60 a second) are own figures.
    """

    click_px: float = 3.0
    scale_px: float = 3.0
    habit_mm: float = 10.0
    visit_mm: float = 5.0
    still_mm: float = 4.0
    yaw_deg: float = 3.0
    roll_deg: float = 1.0
    scale_plane_m: float = 0.15
    lag_ms: float = 8.0


def rows_of(samples: int) -> int:
    """How many rows arrays of samples have: the marks as set, a block for each part, and one for all together."""
    return 1 + samples * (len(PARTS) + 1)


def block(rows: Array, part: Part | Literal["all"]) -> Array:
    """The draws of a part alone, or of all parts together, along the first axis of an array of samples."""
    samples = (len(rows) - 1) // (len(PARTS) + 1)
    number = len(PARTS) if part == "all" else PARTS.index(part)
    return rows[1 + number * samples : 1 + (number + 1) * samples]


def draws(part: Part, rows: int, *content: Any, shape: tuple[int, ...] = ()) -> Array:
    """Standard normal draws of a part that depend on `content` alone, (*shape, rows): 0 where the marks are as set, and
    in the blocks of other parts. Each block has the mean 0 and the variance 1 to its digits, so that fewer draws do."""
    samples = (rows - 1) // (len(PARTS) + 1)
    drawn = np.random.default_rng(_seed(part, *content)).standard_normal((*shape, 2, samples))
    drawn -= drawn.mean(axis=-1, keepdims=True)
    drawn /= drawn.std(axis=-1, keepdims=True)
    values = np.zeros((*shape, rows))
    first = 1 + PARTS.index(part) * samples
    values[..., first : first + samples] = drawn[..., 0, :]
    values[..., rows - samples :] = drawn[..., 1, :]
    return values


def _seed(*content: Any) -> int:
    """A number from content (texts and numbers) by the SHA-256 of its JSON."""
    return int(hashlib.sha256(json.dumps(content, separators=(",", ":")).encode()).hexdigest()[:32], 16)


@lru_cache(maxsize=32)
def placement(noise: Noise, checkpoint: str, rows: int) -> dict[Mark, Array]:
    """How far each landmark is seen from where it is, (3, rows) in metres along X, Y and Z, the same in every picture
    and swing of a checkpoint: habit and visit."""
    habit, visit = _placed("habit", checkpoint, rows), _placed("visit", checkpoint, rows)
    off = (noise.habit_mm * habit + noise.visit_mm * visit) / 1000
    return dict(zip(_MARKS, off, strict=True))


@lru_cache(maxsize=16)
def _placed(part: Part, checkpoint: str, rows: int) -> Array:
    """Standard normal places of all landmarks at a checkpoint, (marks, 3, rows), half of the variance the same at
    all."""
    common, own = (draws(part, rows, "place", at, shape=(len(_MARKS), 3)) for at in ("all", checkpoint))
    return np.asarray(np.sqrt(COMMON) * common + np.sqrt(1 - COMMON) * own)


@lru_cache(maxsize=48)
def clicks(view: str, checkpoint: str, swing: int, rows: int) -> dict[Mark, Array]:
    """Standard normal clicks on each landmark of one still, (2, rows): across and up."""
    drawn = draws("still", rows, "click", view, checkpoint, swing, shape=(len(_MARKS), 2))
    return dict(zip(_MARKS, drawn, strict=True))


@lru_cache(maxsize=512)
def depth_draws(view: str, mark: Mark, checkpoint: str, rows: int) -> tuple[Array, Array]:
    """Standard normal depths of a landmark in one view, (rows,) each: of the posture that somebody has, and of how it
    differs at a checkpoint."""
    return draws("habit", rows, "depth", view, mark), draws("visit", rows, "depth", view, mark, checkpoint)
