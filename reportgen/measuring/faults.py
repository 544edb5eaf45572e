"""Marks that cannot be right, each with its place in the sheet and how to mend it. No number comes from a fault."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from math import dist, isfinite

from reportgen.records.lesson import Pixel, Still
from reportgen.records.words import Mark, Side

Location = tuple[str | int, ...]
Fault = tuple[Location, str]

SAME_PLACE_PX = 1.0
"""Two marks nearer than this, or a scale shorter than this, are one place."""

_FACING: tuple[tuple[str, Mark, Mark], ...] = (
    ("hip line", "lead-hip", "trail-hip"),
    ("shoulder line", "lead-shoulder", "trail-shoulder"),
    ("line of the knees", "lead-knee", "trail-knee"),
    ("line of the ankles", "lead-ankle", "trail-ankle"),
)


def faults(stills: Sequence[Still], sizes: Mapping[str, tuple[int, int]], plays: Side) -> list[Fault]:
    """Every fault of the marks, scales and cameras, as (location below the lesson, what is wrong and how to mend it).

    `sizes` is width and height of the pictures in pixels, by file; a picture that it does not name is not searched for
    marks outside.
    """
    return [
        (("stills", number, *where), message)
        for number, still in enumerate(stills)
        for where, message in (*_points(still, sizes.get(still.file)), *_scale(still), *_camera(still))
    ] + [
        (("stills", number, *where), message)
        for number, still in enumerate(stills)
        for where, message in (*_together(still), *_wrong_view(still), *_swapped(still, plays), *_again(stills, number))
    ]


def _points(still: Still, size: tuple[int, int] | None) -> Iterator[Fault]:
    """Places that are no number or lie outside the picture."""
    places: list[tuple[Location, Pixel]] = [(("marks", name), place) for name, place in still.marks.items()]
    if still.scale is not None:
        places += [(("scale", "from"), still.scale.from_), (("scale", "to"), still.scale.to)]
    for where, place in places:
        name = where[-1] if where[0] == "marks" else f"the scale's {where[-1]}"
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
    if still.scale.length.value <= 0:
        yield (
            ("scale", "length"),
            f"the scale is {still.scale.length.value:g} {still.scale.length.unit} long. "
            "Write the true length between its two ends, as in 1.00 m.",
        )


def _camera(still: Still) -> Iterator[Fault]:
    if still.camera is not None and still.camera.distance.value <= 0:
        distance = still.camera.distance
        yield (
            ("camera", "distance"),
            f"the camera is {distance.value:g} {distance.unit} from the player. "
            "Write the distance from the lens to the player's plane, as in 4.0 m.",
        )


def _together(still: Still) -> Iterator[Fault]:
    """Two marks in one place. Down the line, lead and trail of one joint may well stand behind each other."""
    for (one, here), (other, there) in combinations(still.marks.items(), 2):
        same_joint = one.split("-")[-1] == other.split("-")[-1]
        if dist(here, there) < SAME_PLACE_PX and not (still.view == "down-the-line" and same_joint):
            yield ("marks", other), f"{other} is in the same place as {one}, {_at(here)}. Set one of them again."


def _wrong_view(still: Still) -> Iterator[Fault]:
    if still.view == "face-on" and "seat" in still.marks:
        yield (
            ("marks", "seat"),
            "seat is marked on a face-on still, where it does not show. "
            "Take it out here and mark it on the down-the-line still.",
        )


def _swapped(still: Still, plays: Side) -> Iterator[Fault]:
    """Lead and trail taken for each other: at setup, face-on, the lead side is the one toward the target."""
    if (still.view, still.checkpoint) != ("face-on", "setup"):
        return
    for line, lead, trail in _FACING:
        if lead not in still.marks or trail not in still.marks:
            continue
        # A right-handed player seen from the front has the target to the right of the picture.
        toward = 1 if plays == "right" else -1
        if toward * (still.marks[lead][0] - still.marks[trail][0]) < -SAME_PLACE_PX:
            yield (
                ("marks", lead),
                f"the {line} points away from the target: lead and trail are swapped, the picture is mirrored, "
                f"or the player does not play {plays}-handed. Swap {lead} and {trail}.",
            )


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
