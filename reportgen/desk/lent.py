"""What other pictures lend to one that is being marked: scale, stick, camera, and places of marks, at its own size."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from reportgen.measuring.asked import marks_shown
from reportgen.records.words import Mark
from reportgen.sheets.stills_written import WrittenStill


def others(stills: Iterable[WrittenStill], one: WrittenStill) -> list[WrittenStill]:
    """The other pictures of the same view; the nearest before it first, then those behind it."""
    same = [other for other in stills if other.still.view == one.still.view and other.number != one.number]
    return sorted(same, key=lambda other: (other.number > one.number, abs(other.number - one.number)))


def ground(stills: Iterable[WrittenStill], one: WrittenStill) -> dict[str, Any]:
    """Scale, stick and camera of the first of `stills` that has each, at the size of the picture of `one`."""
    found: dict[str, Any] = {}
    for other in stills:
        for part in ("scale", "stick", "camera"):
            if part not in found and getattr(other.still, part) is not None:
                found[part] = _at_size(dict(other.written[part]), other.size, one.size)
    return found


def places(other: WrittenStill, one: WrittenStill) -> Mapping[Mark, tuple[float, float]]:
    """The marks of another picture that this one can show, in this one's pixels."""
    shown = set(marks_shown(one.still.view))
    return {mark: moved(at, other.size, one.size) for mark, at in other.still.marks.items() if mark in shown}


def earlier(one: WrittenStill, before: Iterable[WrittenStill]) -> Mapping[Mark, tuple[float, float]]:
    """The marks of the stills of an earlier lesson at this view and moment; none where there are none."""
    for other in before:
        here = (other.still.view, other.still.checkpoint) == (one.still.view, one.still.checkpoint)
        if here and other.still.marks:
            return places(other, one)
    return {}


def moved(at: Sequence[float], had: tuple[int, int], has: tuple[int, int]) -> tuple[float, float]:
    """A place of a picture that `had` one size, in a picture of the same that `has` another."""
    return round(at[0] * has[0] / had[0], 1), round(at[1] * has[1] / had[1], 1)


def _at_size(part: dict[str, Any], had: tuple[int, int], has: tuple[int, int]) -> dict[str, Any]:
    """A scale or stick of another picture at the size of this one; a camera as it is."""
    ends = [end for end in ("from", "to") if end in part]
    return part | {end: moved([float(value) for value in part[end]], had, has) for end in ends}
