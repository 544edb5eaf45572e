"""Marks that cannot be right, each with its place in the sheet and how to mend it. No number comes from a fault."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, product
from math import dist, isfinite

from reportgen.records.base import Pixel
from reportgen.records.stills import Still
from reportgen.records.words import Checkpoint, Mark, Side

Location = tuple[str | int, ...]
Fault = tuple[Location, str]

STICK_PX = 20.0
"""A stick that is seen shorter from top to bottom than this tells a direction no better than the eye does,"""
STICK_SLOPE = 0.25
"""and so does one that goes less down than this share of how far it goes across (both own figures)."""
STICK_BELOW_PX = 10.0
"""An end nearer than this to the horizon would be further away than any stick is laid (own figure)."""
SAME_PLACE_PX = 1.0
"""Two marks nearer than this are hardly two, and a scale shorter than this is none."""

_TO_IMPACT: tuple[Checkpoint, ...] = ("setup", "takeaway", "top", "transition", "delivery", "impact")
_FACING: tuple[tuple[str, Mark, Mark, tuple[Checkpoint, ...]], ...] = (
    ("hip line", "lead-hip", "trail-hip", _TO_IMPACT),
    ("shoulder line", "lead-shoulder", "trail-shoulder", ("setup", "takeaway", "delivery", "impact")),
    ("line of the knees", "lead-knee", "trail-knee", _TO_IMPACT),
    ("line of the ankles", "lead-ankle", "trail-ankle", _TO_IMPACT),
)
"""Lines across the body whose lead end is the one toward the target, and when: shoulders can turn past the ball at the
top, and everything can at the finish."""
POINTS_AWAY = 0.04
"""Metres by which such a line points away before it is a fault once the body turns; marks are not set more exactly."""

_NO_PLAYER = (
    ("hip", "ankle", 0.25, 1.30),
    ("knee", "ankle", 0.10, 0.75),
    ("hip", "knee", 0.08, 0.75),
    ("shoulder", "hip", 0.12, 0.95),
)
"""From one joint to the other of the same side no player, child or grown, measures less or more in a picture, in
metres. From memory, and wide: to find a wrong scale, not a wrong body."""


def faults(stills: Sequence[Still], sizes: Mapping[str, tuple[int, int]], plays: Side) -> list[Fault]:
    """Every fault of the marks, scales and sticks, as (location below the lesson, what is wrong and how to mend it).

    `sizes` is width and height of the pictures in pixels, by file; a picture that it does not name is not searched for
    marks outside.
    """
    return [
        (("stills", number, *where), message)
        for number, still in enumerate(stills)
        for where, message in _single(still, sizes.get(still.file))
    ] + [
        (("stills", number, *where), message)
        for number, still in enumerate(stills)
        for where, message in (*_together(still), *_wrong_view(still), *_swapped(still, plays), *_again(stills, number))
    ]


def _single(still: Still, size: tuple[int, int] | None) -> Iterator[Fault]:
    """What is wrong with single marks, the scale and the stick; a body's size is no fault of its own beside those of
    the scale that it is measured by."""
    found = [*_points(still, size), *_scale(still), *_stick(still, size)]
    yield from found
    if not any(where[0] == "scale" for where, _ in found):
        yield from _size(still)


def _points(still: Still, size: tuple[int, int] | None) -> Iterator[Fault]:
    """Places that are no number or lie outside the picture."""
    places: list[tuple[Location, Pixel]] = [(("marks", name), place) for name, place in still.marks.items()]
    if still.scale is not None:
        places += [(("scale", "from"), still.scale.from_), (("scale", "to"), still.scale.to)]
    if still.stick is not None:
        places += [(("stick", "from"), still.stick.from_), (("stick", "to"), still.stick.to)]
    for where, place in places:
        name = where[-1] if where[0] == "marks" else f"the {where[0]}'s {where[-1]}"
        if not all(isfinite(value) for value in place):
            yield where, f"{name} is not at a place: it says {list(place)}. Give x and y in pixels as two numbers."
        elif size is not None and not (0 <= place[0] <= size[0] and 0 <= place[1] <= size[1]):
            yield (
                where,
                f"{name} at {_at(place)} lies outside the picture, which is {size[0]} wide and {size[1]} high. "
                "Set it again on this picture; pixels count from the top left corner.",
            )


def _scale(still: Still) -> Iterator[Fault]:
    if still.scale is None:
        return
    if dist(still.scale.from_, still.scale.to) < SAME_PLACE_PX:
        yield ("scale",), f"both ends of the scale are at {_at(still.scale.to)}. Mark the two ends of a known length."


def _stick(still: Still, size: tuple[int, int] | None) -> Iterator[Fault]:
    """A stick that lies on no ground, or does not run away from the camera."""
    if still.stick is None:
        return
    far = min((("from", still.stick.from_), ("to", still.stick.to)), key=lambda end: end[1][1])
    if size is not None and far[1][1] < size[1] / 2 + STICK_BELOW_PX:
        yield (
            ("stick", far[0]),
            f"the stick's {far[0]} is not below the middle of the picture, where a level camera sees the ground. "
            "Mark the ends of a stick that lies on the ground, and hold the camera level.",
        )
    across, away = (abs(b - a) for a, b in zip(still.stick.from_, still.stick.to, strict=True))
    if away < STICK_PX or away < STICK_SLOPE * across:
        lies = "along the target line" if still.view == "down-the-line" else "square to the target line"
        yield (
            ("stick",),
            f"the stick does not run away from the camera: its ends are {away:g} px apart from top to bottom. "
            f"On a {still.view} still, mark the stick that lies {lies}; the one across the picture is a scale.",
        )


def _together(still: Still) -> Iterator[Fault]:
    """Two marks in the very same place."""
    for one, other in near_marks(still):
        if still.marks[one] == still.marks[other]:
            here = _at(still.marks[one])
            yield ("marks", other), f"{other} is in the same place as {one}, {here}. Set one of them again."


def near_marks(still: Still) -> Iterator[tuple[Mark, Mark]]:
    """Pairs of marks that are hardly two places: joints can stand so behind each other, and a click can have fallen on
    the wrong one. Down the line, lead and trail of one joint may well stand behind each other."""
    for (one, here), (other, there) in combinations(still.marks.items(), 2):
        same_joint = one.split("-")[-1] == other.split("-")[-1]
        if dist(here, there) < SAME_PLACE_PX and not (still.view == "down-the-line" and same_joint):
            yield one, other


def _wrong_view(still: Still) -> Iterator[Fault]:
    if still.view == "face-on" and "seat" in still.marks:
        yield (
            ("marks", "seat"),
            "seat is marked on a face-on still, where it does not show. "
            "Take it out here and mark it on the down-the-line still.",
        )


def _swapped(still: Still, plays: Side) -> Iterator[Fault]:
    """Lead and trail taken for each other: face-on, the lead side is the one toward the target."""
    for line, lead, trail, at in _FACING:
        if still.view != "face-on" or still.checkpoint not in at or not {lead, trail} <= still.marks.keys():
            continue
        # A right-handed player seen from the front has the target to the right of the picture.
        away = (still.marks[trail][0] - still.marks[lead][0]) * (1 if plays == "right" else -1)
        if still.checkpoint == "setup" and away > SAME_PLACE_PX:
            yield (
                ("marks", lead),
                f"the {line} points away from the target: lead and trail are swapped, the picture is mirrored, "
                f"or the player does not play {plays}-handed. Swap {lead} and {trail}.",
            )
        elif still.checkpoint != "setup" and (scale := _px_per_m(still)) and away > POINTS_AWAY * scale:
            yield (
                ("marks", lead),
                f"the {line} points away from the target, further than a body turns by then: lead and trail are "
                f"swapped, or one of the two sits wrong. Look at {lead} and {trail}.",
            )


def _size(still: Still) -> Iterator[Fault]:
    """A scale by which the body has no human size; told once for a still."""
    scale, marks = _px_per_m(still), {str(name): place for name, place in still.marks.items()}
    for (one, other, least, most), side in product(_NO_PLAYER, ("lead", "trail")):
        here, there = marks.get(f"{side}-{one}"), marks.get(f"{side}-{other}")
        if scale is None or here is None or there is None:
            continue
        metres = dist(here, there) / scale
        if not least <= metres <= most:
            yield (
                ("scale", "length"),
                f"by this scale it is {metres:.2f} m from {side}-{one} to {side}-{other}, which no player measures. "
                "Look at the length of the scale and at its two ends.",
            )
            return


def _px_per_m(still: Still) -> float | None:
    """Pixels a metre; None without a scale that can be one."""
    return None if still.scale is None or any(_scale(still)) else still.scale.px_per_m


def _again(stills: Sequence[Still], number: int) -> Iterator[Fault]:
    """A second still of the same view, checkpoint and numbered swing."""
    this = stills[number]
    same = [s for s in stills[:number] if (s.view, s.checkpoint, s.swing) == (this.view, this.checkpoint, this.swing)]
    if this.swing is not None and this.marks and any(still.marks for still in same):
        yield (
            ("swing",),
            f"there is already a {this.view} still of swing {this.swing} ({this.checkpoint}). "
            "Number the swings, or take one of the two stills out.",
        )


def _at(place: Pixel) -> str:
    return f"[{place[0]:g}, {place[1]:g}]"
