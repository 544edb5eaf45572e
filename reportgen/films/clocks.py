"""Two films of one swing on one clock: by the sound of the strike in both, otherwise by the heights of all landmarks.

Two cameras see the same height of a point, whatever the body does, as long as both look at one moment. So the films are
shifted until the heights of shoulders, arms, hips, legs and head rise and fall together, over the whole film: the
swing's end tells as much as its beginning. Absolute differences are summed, as a model's gross mistakes would rule
squares.
"""

from collections.abc import Sequence

import numpy as np

from reportgen.films.crops import Array
from reportgen.films.tracks import Track, smoothed
from reportgen.records.films import Lag

LANDMARKS = (0, 7, 8, *range(11, 17), *range(23, 31))
"""Nose, ears, shoulders, elbows, wrists, hips, knees, ankles, heels: all but face, fingers and toes."""
APART_S = 0.008
"""Two ways that differ by more do not speak of one strike: a person is asked."""
_OVERLAP_S = 1.0
_STEP_S, _COARSE_S, _FINE_S = 1 / 240, 0.02, 0.004
_ALIKE = 0.6
"""Heights that differ by more than this part of what they move are not of one swing."""


def lag(by_pictures: float | None, heard: tuple[float | None, float | None] = (None, None)) -> Lag:
    """By how many seconds the second film's clock is to be put forward to be the first's.

    `by_pictures` is what `lag_by_heights` found, `heard` when the strike was heard in each film, less the way of the
    sound. Sound goes before pictures; both, where they differ by more than 8 ms, are asked.
    """
    by_sound = None if heard[0] is None or heard[1] is None else heard[0] - heard[1]
    chosen = by_sound if by_sound is not None else by_pictures
    differ = by_sound is not None and by_pictures is not None and abs(by_sound - by_pictures) > APART_S
    return Lag(seconds=chosen, by_sound=by_sound, by_pictures=by_pictures, ask=chosen is None or differ)


def lag_by_heights(first: Track, second: Track) -> float | None:
    """The same in seconds, by the heights of the landmarks alone; None where no shift makes them of one swing. The
    tracks have their sides put right."""
    if min(len(first.times), len(second.times)) < 8:
        return None
    a, b = _heights(first), _heights(second)
    least = _OVERLAP_S - (second.times[-1] - first.times[0])
    most = first.times[-1] - second.times[0] - _OVERLAP_S
    if most - least < _COARSE_S:
        return None
    coarse = np.arange(least, most, _COARSE_S)
    near = coarse[np.argmin([_apart(first.times, a, second.times, b, shift) for shift in coarse])]
    fine = near + np.arange(-12, 13) * _FINE_S
    costs = np.array([_apart(first.times, a, second.times, b, shift) for shift in fine])
    at = int(np.clip(costs.argmin(), 3, len(fine) - 4))
    if not costs[at] < _ALIKE:
        return None
    foot = slice(at - 3, at + 4)
    bent, sloping, _ = np.polyfit(fine[foot] - fine[at], costs[foot], 2)
    shift = float(np.clip(-sloping / (2 * bent), -3 * _FINE_S, 3 * _FINE_S)) if bent > 0 else 0.0
    return float(fine[at] + shift)


def _heights(track: Track) -> Array:
    """(k, n) heights of the landmarks in the player's measure."""
    points = smoothed(track, LANDMARKS)[..., 1]
    shoulders = points[:, [LANDMARKS.index(11), LANDMARKS.index(12)]].mean(axis=1)
    ankles = points[:, [LANDMARKS.index(27), LANDMARKS.index(28)]].mean(axis=1)
    return np.asarray(-points.T / max(float(np.percentile(ankles - shoulders, 75)), 1.0))


def _apart(times: Array, a: Array, other_times: Array, b: Array, shift: float) -> float:
    """By what part of what they move the heights differ where the films overlap, the second put forward by `shift`;
    each landmark in a scale of its own, as it is nearer to the one camera or the other."""
    start, end = max(times[0], other_times[0] + shift), min(times[-1], other_times[-1] + shift)
    if end - start < _OVERLAP_S / 2:
        return float("inf")
    clock = np.arange(start, end, _STEP_S)
    x = np.array([np.interp(clock, times, row) for row in a])
    y = np.array([np.interp(clock - shift, other_times, row) for row in b])
    x, y = x - x.mean(axis=1, keepdims=True), y - y.mean(axis=1, keepdims=True)
    scale = np.sqrt((x**2).sum(axis=1) / np.maximum((y**2).sum(axis=1), 1e-12))
    left = x - scale[:, None] * y
    left -= np.median(left, axis=1, keepdims=True)
    return float(np.abs(left).sum() / max(float(np.abs(x).sum()), 1e-12))


def nearest_pair(
    first: Sequence[float], second: Sequence[float], shift: float | None
) -> tuple[float | None, float | None]:
    """Of the strikes heard in two films, the pair that agrees best with the lag by pictures; the loudest of each where
    pictures give none; None where a film has none."""
    if not first or not second:
        return (first[0] if first else None), (second[0] if second else None)
    if shift is None:
        return first[0], second[0]
    return min(((a, b) for a in first for b in second), key=lambda pair: abs(pair[0] - pair[1] - shift))
