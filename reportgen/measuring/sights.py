"""A still's marks as plane coordinates, with samples of everything that blurs them (JCGM 101).

Every array has `rows` = 1 + samples entries along its sample axis: row 0 is the marks as they were set, without any
noise; the others are draws. What blurs a mark, all as standard uncertainties (own figures, to be set by the academy):

- the click on it, in pixels, another for each mark of each still;
- the landmark's placement under clothing, in millimetres along X, Y and Z: an error of the landmark that is seen,
  so the two pictures of one moment share it in Z, while another moment or swing has another;
- the clicks on the two ends of the scale, shared by all stills that carry the same scale;
- without the camera's distance, the depth error: depth of the landmark / 4 m, shared by all stills of the view;
- with one view alone, the depth itself (see `depths`).

Draws are seeded by what is marked, never by names of files, nor by the side the player stands on: the same sheet
gives the same numbers, and so does its mirror image.
"""

import hashlib
import json
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from itertools import count
from typing import Any

import numpy as np

from reportgen.measuring.camera import from_centre
from reportgen.measuring.geometry import Array
from reportgen.records.lesson import Camera, Scale, Still
from reportgen.records.units import convert
from reportgen.records.words import Checkpoint, Mark, Side, View

SAMPLES = 4096
USUAL_DISTANCE_M = 4.0
"""Depth / this is the error of a coordinate where the camera's distance is not known."""


@dataclass(frozen=True)
class Noise:
    """Standard uncertainties of marking: a click (px), a landmark's placement (mm), an end of the scale (px)."""

    click_px: float = 3.0
    placement_mm: float = 12.0
    scale_px: float = 3.0


@dataclass(frozen=True)
class Sight:
    """One still in metres: plane coordinates of every mark that is wanted, (rows, 2) each, across and up.

    `inverse_distance` (rows,) in 1/m is 0 in row 0 where the distance is not known; `size` is the picture's, in
    pixels; `fps` the video's frames a second; `digest` stands for all that was marked.
    """

    view: View
    checkpoint: Checkpoint
    swing: int
    size: tuple[float, float] | None
    marks: Mapping[Mark, Array]
    inverse_distance: Array
    distance_known: bool
    fps: float | None
    digest: str


def generator(*content: Any) -> np.random.Generator:
    """A random generator that depends on `content` alone (numbers, texts and lists of them)."""
    return np.random.default_rng(int(digest(*content)[:32], 16))


def digest(*content: Any) -> str:
    """The SHA-256 of `content` written as JSON, in hexadecimal."""
    return hashlib.sha256(json.dumps(content, separators=(",", ":")).encode()).hexdigest()


def draws(random: np.random.Generator, *shape: int) -> Array:
    """Standard normal draws of `shape`, of which the first along the last axis is 0: the marks as set."""
    values = random.standard_normal(shape)
    values[..., 0] = 0.0
    return values


def swing_numbers(stills: Sequence[Still]) -> tuple[int, ...]:
    """The swing each still belongs to: its own number, otherwise the lowest that no still of its view and checkpoint
    has, in the order of the sheet."""
    taken: dict[tuple[View, Checkpoint], set[int]] = {}
    for still in stills:
        taken.setdefault((still.view, still.checkpoint), set()).update({still.swing} if still.swing else ())
    numbers = []
    for still in stills:
        used = taken[still.view, still.checkpoint]
        number = still.swing or next(n for n in count(1) if n not in used)
        used.add(number)
        numbers.append(number)
    return tuple(numbers)


def sights(
    stills: Sequence[Still],
    plays: Side,
    sizes: Mapping[str, tuple[int, int]],
    noise: Noise,
    samples: int,
    wanted: Mapping[Checkpoint, Set[Mark]],
) -> tuple[Sight, ...]:
    """All stills that have marks and a scale, in metres.

    `sizes` gives width and height in pixels by the name of the file. A still without a scale or camera of its own
    takes those of the first still of its view that has them: one view is one camera on its stand. Only the marks
    `wanted` at a checkpoint are looked at.
    """
    first_scale = _first(stills, "scale")
    first_camera = _first(stills, "camera")
    lengths: dict[str, Array] = {}
    found = []
    for still, swing in zip(stills, swing_numbers(stills), strict=True):
        scale = still.scale or first_scale.get(still.view)
        names = sorted(still.marks.keys() & wanted.get(still.checkpoint, set()))
        if scale is None or not names:
            continue
        size = sizes.get(still.file)
        centre_size = size or _twice_the_middle(still)
        ends = from_centre(np.array([scale.from_, scale.to]), size or (0, 0), plays)
        key = digest("scale", still.view, _written(ends), scale.length.value, scale.length.unit)
        if key not in lengths:
            lengths[key] = _pixels_per_metre(ends, scale, noise, generator(key), samples + 1)
        camera = still.camera or first_camera.get(still.view)
        found.append(_sight(still, names, swing, size, centre_size, lengths[key], camera, plays, noise))
    return tuple(found)


def _first(stills: Sequence[Still], name: str) -> dict[View, Any]:
    first: dict[View, Any] = {}
    for still in stills:
        if getattr(still, name) is not None:
            first.setdefault(still.view, getattr(still, name))
    return first


def _twice_the_middle(still: Still) -> tuple[float, float]:
    """Where the picture's size is not known, its centre is taken in the middle of the marks."""
    x, y = np.mean(list(still.marks.values()), axis=0)
    return 2 * float(x), 2 * float(y)


def _written(pixels: Array) -> list[Any]:
    """Pixels for a digest, to a millionth, so that a mirrored picture has the same one."""
    return (np.round(pixels, 6) + 0.0).tolist()  # type: ignore[no-any-return]


def _pixels_per_metre(ends: Array, scale: Scale, noise: Noise, random: np.random.Generator, rows: int) -> Array:
    length = convert(scale.length.value, scale.length.unit, "m")
    span = (ends[1] - ends[0])[:, None] + np.sqrt(2) * noise.scale_px * draws(random, 2, rows)
    return np.asarray(np.hypot(span[0], span[1]) / length)


def _sight(
    still: Still,
    names: Sequence[Mark],
    swing: int,
    size: tuple[int, int] | None,
    centre_size: tuple[float, float],
    pixels_per_metre: Array,
    camera: Camera | None,
    plays: Side,
    noise: Noise,
) -> Sight:
    offsets = from_centre(np.array([still.marks[name] for name in names]), centre_size, plays)
    key = digest("still", still.view, still.checkpoint, swing, names, _written(offsets))
    rows = len(pixels_per_metre)
    click = noise.click_px / pixels_per_metre[0]
    noisy = draws(generator(key), 2, len(names), rows)
    across = offsets[:, :1] / pixels_per_metre + np.hypot(click, noise.placement_mm / 1000) * noisy[0]
    up = offsets[:, 1:] / pixels_per_metre + click * noisy[1]
    if camera is None:
        inverse = draws(generator("distance", still.view), rows) / USUAL_DISTANCE_M
    else:
        inverse = np.full(rows, 1.0 / convert(camera.distance.value, camera.distance.unit, "m"))
    return Sight(
        view=still.view,
        checkpoint=still.checkpoint,
        swing=swing,
        size=size,
        marks=dict(zip(names, np.stack([across, up], axis=-1), strict=True)),
        inverse_distance=inverse,
        distance_known=camera is not None,
        fps=still.fps,
        digest=key,
    )
