"""The moments of a swing, proposed from the track of the player and from the sound of the strike.

The hand that the camera sees best tells them: the lead wrist face-on (the model invents the trail wrist at the top),
the trail wrist down-the-line. Heights and ways are counted in the player's own measure, from the shoulders down to the
ankles while the player stands still. What the figures below rest on: swings of four tempi, rendered from one recorded
motion and seen from both sides (own figures); a person moves what is not right.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from reportgen.films.crops import Array
from reportgen.films.tracks import Track, smoothed
from reportgen.records.films import ProposedMoment
from reportgen.records.words import CHECKPOINTS, Checkpoint, Side, View

TAKEN_BACK = 0.19
"""How far the lead wrist has gone back when the club is level on its way back, face-on."""
TAKEN_UP = 0.075
"""How far the trail wrist has risen then, down-the-line."""
AFTER_THE_TURN_S = 0.055
"""How much later the hands are highest than the shoulders have turned furthest."""
COME_DOWN = 0.08
"""The part of the way down that the hands have gone at transition, when the lower body already turns back."""
LEVEL_AGAIN, LEVEL_AGAIN_HIGH = 0.083, 0.13
"""When the club is level on its way down: the part of the downswing's time that is left, and of the hands' way."""
LOWEST_LATER: dict[View, float] = {"face-on": 0.03, "down-the-line": 0.06}
"""How much later than impact the hand is lowest, in parts of the downswing's time: the lead wrist, the trail wrist."""
STILL = 0.3
"""Slower than this, in the player's measure a second, a hand is at rest."""
HEARD_NEAR_S = 0.15
"""A sound is the strike's where it is so near to impact as the pictures tell it."""
_LONGEST_DOWN_S, _LONGEST_BACK_S, _FOLLOWED_S = 1.0, 2.5, 0.5
_LEAST_RISE = 0.35
"""Hands that do not rise higher than this made no swing."""
_AS_GOOD = 0.7
"""Of the widest swing of the film: a narrower one is none."""
_PLATEAU = 0.02
_BEFORE_IT_MOVES_S, _AT_LEAST_BEFORE_S = 0.1, 0.35
"""How long before the hand is seen to move, and before the takeaway, the player surely stands still."""
_AT_REST = 0.03


class Hand(NamedTuple):
    """The hand's way in the player's measure, (n,) each, from where it is while the player stands still: `up`, `ahead`
    toward the target (face-on) or the ball (down-the-line), and `speed` a second."""

    times: Array
    up: Array
    ahead: Array
    speed: Array


def moments(track: Track, view: View, plays: Side, heard: Sequence[float] = ()) -> tuple[ProposedMoment, ...]:
    """The moments of the swing in a track, in their order; none where it shows no swing from its beginning to its end.

    `heard` are the times (s) at which a strike may have been heard, on the film's clock and less the way of the sound.
    The one nearest to impact as the pictures tell it is taken. A person is asked for transition always, for impact
    where something was heard and not near it, and for what would come before the moment that goes before it.
    """
    found = _times(track, view, plays, heard)
    if found is None:
        return ()
    strike = min(heard, key=lambda time: abs(time - found["impact"]), default=None)
    by_sound = strike is not None and abs(strike - found["impact"]) <= HEARD_NEAR_S
    if strike is not None and by_sound:
        found["delivery"] += strike - found["impact"]
        found["impact"] = strike
    asked = {"transition"} | ({"impact"} if heard and not by_sound else set())
    asked |= {later for earlier, later in pairwise(CHECKPOINTS) if found[later] < found[earlier]}
    return tuple(
        ProposedMoment(
            moment=name,
            picture=int(track.numbers[np.abs(track.times - found[name]).argmin()]),
            time=round(found[name], 5),
            how="sound" if by_sound and name == "impact" else "pictures",
            ask=name in asked,
        )
        for name in CHECKPOINTS
    )


def _times(track: Track, view: View, plays: Side, heard: Sequence[float]) -> dict[Checkpoint, float] | None:
    """When each moment is, in seconds; None where there is no swing."""
    if len(track.times) < 8:
        return None
    hand = _hand(track, view, plays)
    times, up = hand.times, hand.up
    low = _low(times, up, heard)
    back = _between(times, times[low] - _LONGEST_DOWN_S, times[low])
    high = back[up[back].argmax()]
    base, at_rest = _stand(hand, high, low)
    up, ahead = up - base[0], hand.ahead - base[1]
    if up[high] < _LEAST_RISE or high - at_rest < 3 or low - high < 3:
        return None
    lowest, top = _bottom(times, up, low), _top(times, up, high)
    impact = lowest - LOWEST_LATER[view] * (lowest - top)
    if view == "face-on" and (returned := _crossing(times, ahead, 0, high, rising=True)) is not None:
        impact = (impact + returned) / 2  # the lead hand is over its place at address again
    way = (-ahead, TAKEN_BACK) if view == "face-on" else (up, TAKEN_UP)
    takeaway = _crossing(times, way[0], way[1], at_rest, rising=True) or times[at_rest]
    level = LEVEL_AGAIN_HIGH * up[high] + (1 - LEVEL_AGAIN_HIGH) * float(np.interp(impact, times, up))
    come_down = _crossing(times, up, level, high, rising=False) or impact
    return {
        "setup": max(float(times[0]), min(times[at_rest] - _BEFORE_IT_MOVES_S, takeaway - _AT_LEAST_BEFORE_S)),
        "takeaway": float(takeaway),
        "top": top,
        "transition": _crossing(times, up, (1 - COME_DOWN) * up[high], high, rising=False) or top,
        "delivery": (impact - LEVEL_AGAIN * (impact - top) + min(come_down, impact)) / 2,
        "impact": impact,
        "finish": _rest_after(hand, impact),
    }


def _hand(track: Track, view: View, plays: Side) -> Hand:
    wrist = 15 if view == "face-on" else 16
    toward = 1 if plays == "right" else -1
    where = smoothed(track, (wrist, 11, 12, 27, 28))
    hand, shoulders, ankles = where[:, 0], where[:, 1:3].mean(axis=1), where[:, 3:].mean(axis=1)
    # a player bent over or turned is never longer than upright, so the middle of the longer half is the stand's
    measure = float(np.percentile(ankles[:, 1] - shoulders[:, 1], 75))
    way = hand / max(measure, 1.0)
    speed = np.linalg.norm(np.gradient(way, track.times, axis=0), axis=1)
    return Hand(track.times, -way[:, 1], toward * way[:, 0], speed)


def _low(times: Array, up: Array, heard: Sequence[float]) -> int:
    """The picture from which the hands have fallen the most before and rise the most after: the bottom of the swing.
    Of several swings, some for practice, it is the one in which a strike is heard, the loudest first."""
    swung = np.empty(len(up))
    for at, time in enumerate(times):
        before, after = _between(times, time - _LONGEST_DOWN_S, time), _between(times, time, time + _FOLLOWED_S)
        swung[at] = up[before].max() + up[after].max() - 2 * up[at]
    for strike in heard:
        near = _between(times, strike - HEARD_NEAR_S, strike + HEARD_NEAR_S)
        if near.size and swung[near].max() > _AS_GOOD * swung.max():
            return int(near[swung[near].argmax()])
    return int(swung.argmax())


def _stand(hand: Hand, high: int, low: int) -> tuple[tuple[float, float], int]:
    """(up, ahead) of the hand while the player stands over the ball, and the last picture in which it is there."""
    span = _between(hand.times, hand.times[high] - _LONGEST_BACK_S, hand.times[high])
    down_there = hand.up[span] < hand.up[low] + 0.3 * (hand.up[high] - hand.up[low])
    resting = span[down_there & (hand.speed[span] < STILL)]
    if not resting.size:
        resting = span[:3]
    last = resting[hand.times[resting] > hand.times[resting[-1]] - 0.25]
    base = float(np.median(hand.up[last])), float(np.median(hand.ahead[last]))
    away = np.hypot(hand.up[span] - base[0], hand.ahead[span] - base[1])
    there = span[away < _AT_REST]
    return base, int(there[-1] if there.size else resting[-1])


def _top(times: Array, up: Array, high: int) -> float:
    """The middle of the time in which the hands are as good as highest, less what they are late."""
    first = last = high
    while first > 0 and up[first - 1] > up[high] - _PLATEAU:
        first -= 1
    while last + 1 < len(up) and up[last + 1] > up[high] - _PLATEAU:
        last += 1
    return float((times[first] + times[last]) / 2 - AFTER_THE_TURN_S)


def _bottom(times: Array, up: Array, low: int) -> float:
    """When the hands are lowest, between pictures: the foot of the parabola through the three about the lowest."""
    if not 0 < low < len(up) - 1:
        return float(times[low])
    a, b, _ = np.polyfit(times[low - 1 : low + 2] - times[low], up[low - 1 : low + 2], 2)
    shift = -b / (2 * a) if a > 0 else 0.0
    return float(times[low] + np.clip(shift, times[low - 1] - times[low], times[low + 1] - times[low]))


def _crossing(times: Array, values: Array, level: float, start: int, *, rising: bool) -> float | None:
    """The first time from picture `start` on at which `values` pass `level`, on the straight line between pictures."""
    beyond = values[start:] >= level if rising else values[start:] <= level
    found = np.flatnonzero(beyond)
    if not found.size:
        return None
    at = start + int(found[0])
    if at == start:
        return float(times[at])
    part = (level - values[at - 1]) / (values[at] - values[at - 1])
    return float(times[at - 1] + part * (times[at] - times[at - 1]))


def _rest_after(hand: Hand, impact: float) -> float:
    """The first time after impact, a fifth of a second at least, at which the hand rests; else the film's last."""
    resting = np.flatnonzero((hand.times > impact + 0.2) & (hand.speed < STILL))
    return float(hand.times[resting[0]] if resting.size else hand.times[-1])


def _between(times: Array, first: float, last: float) -> "np.ndarray[tuple[int], np.dtype[np.intp]]":
    return np.flatnonzero((times >= first) & (times <= last))
