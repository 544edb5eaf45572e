"""Which points a picture is asked for, by what is to be measured."""

from collections.abc import Collection, Iterable, Mapping
from typing import get_args

from reportgen.measuring.formulas import Measure
from reportgen.records.words import CHECKPOINTS, Checkpoint, Mark, View

STAND: frozenset[Mark] = frozenset({"lead-ankle", "trail-ankle", "ball"})
"""They tell where the player stands, whatever is measured, and from picture to picture whether the camera has moved."""
_UPWARDS: tuple[Mark, ...] = get_args(Mark)


def marks_asked(of: Iterable[Measure], view: View, checkpoint: Checkpoint, *, stand: bool) -> tuple[Mark, ...]:
    """The points that any way of measuring needs in a picture of this view and checkpoint, from the feet upwards; with
    those that tell the `stand`."""
    ways = [way for measure in of for way in measure.ways if checkpoint in way.checkpoints]
    wanted = (STAND if stand else frozenset[Mark]()).union(*(way.seen.get(view, ()) for way in ways))
    return tuple(mark for mark in _UPWARDS if mark in wanted)


def moments_asked(of: Iterable[Measure], views: Collection[View]) -> Mapping[View, tuple[Checkpoint, ...]]:
    """The moments of which each view needs a picture, each metric measured in the surest way that these views allow."""
    wanted: dict[View, set[Checkpoint]] = {view: set() for view in views}
    for measure in of:
        way = next((way for way in measure.ways if set(way.seen) <= set(views)), None)
        for view in way.seen if way else ():
            wanted[view].update(way.checkpoints if way else ())
    return {view: tuple(one for one in CHECKPOINTS if one in wanted[view]) for view in views}


def marks_shown(view: View) -> tuple[Mark, ...]:
    """All points that a picture of a view can show, from the feet upwards."""
    return tuple(mark for mark in _UPWARDS if view == "down-the-line" or mark != "seat")
