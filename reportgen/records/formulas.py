"""How stills give a metric: a small, closed grammar of quantities. A formula is data; it is never run as code.

X points to the target, Y from the player to the ball, Z up. Angles are in degrees, lengths in centimetres.
"""

from typing import Annotated, Any, Literal, cast

from pydantic import ConfigDict, Field, model_validator

from reportgen.records.base import Record, Slug
from reportgen.records.words import Checkpoint, Mark, View

Joints = Literal["toes", "heels", "ankles", "knees", "hips", "shoulders", "wrists"]
"""A pair of landmarks, and the line from its trail to its lead end."""
Point = Literal[Mark, "mid-toe", "mid-heel", "mid-ankle", "mid-knee", "mid-hip", "mid-shoulder", "mid-wrist"]
"""A mark, or the middle between those of the lead and the trail side."""
Axis = Literal["target", "trail-side", "ball", "heels", "up", "down"]
"""A direction in space: along X, Y or Z, each way."""

AXES: dict[Axis, tuple[int, float]] = {
    "target": (0, 1.0),
    "trail-side": (0, -1.0),
    "ball": (1, 1.0),
    "heels": (1, -1.0),
    "up": (2, 1.0),
    "down": (2, -1.0),
}
"""Each direction's coordinate (0, 1, 2 for X, Y, Z) and sign."""
_PLANES: tuple[View, View, None] = ("face-on", "down-the-line", None)


class Turn(Record):
    """The turn of a line about the vertical, as seen from above: 0° along the target line."""

    of: Joints
    toward: Literal["closed", "open"]
    since: Checkpoint | None = None


class Tilt(Record):
    """The tilt of a line in the plane of one view. Toward target, trail-side, ball or heels it is taken from the
    vertical, toward up or down from the level along the target line."""

    from_: Point = Field(alias="from")
    to: Point
    toward: Axis
    since: Checkpoint | None = None


class Flexion(Record):
    """The bend at a joint: 180° less the angle at it, 0° straight. A knee bends between hip and ankle, a hip between
    shoulder and knee."""

    of: Literal["lead-knee", "trail-knee", "lead-hip", "trail-hip"]
    since: Checkpoint | None = None


class Distance(Record):
    """How far one point is from another at the same moment."""

    from_: Point = Field(alias="from")
    to: Point
    toward: Axis | None = None
    since: Checkpoint | None = None


class Displacement(Record):
    """How far a point has moved since an earlier moment."""

    of: Point
    toward: Literal[Axis, Mark]
    since: Checkpoint


class Difference(Record):
    """One metric less another, both of which stills give."""

    of: Slug
    less: Slug


Measurand = Turn | Tilt | Flexion | Distance | Displacement | Difference

QUANTITIES = ("turn", "tilt", "flexion", "distance", "displacement", "difference")


class Formula(Record):
    """What marked stills give for a metric, at the moment of the metric: exactly one of turn, tilt, flexion, distance,
    displacement and difference. The views, moments and marks that it needs follow from it."""

    model_config = ConfigDict(json_schema_extra={"oneOf": [{"required": [key]} for key in QUANTITIES]})

    turn: Turn | None = None
    tilt: Tilt | None = None
    flexion: Flexion | None = None
    distance: Distance | None = None
    displacement: Displacement | None = None
    difference: Difference | None = None
    rate: Annotated[float, Field(gt=0, le=5000)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _one_quantity(cls, written: Any) -> Any:
        if isinstance(written, dict):
            given = [key for key in QUANTITIES if key in written]
            # an unknown key is told by itself, and may be the quantity misspelt
            if len(given) != 1 and not (not given and set(written) - {"rate"}):
                wrong = f"takes exactly one quantity ({', '.join(given) or 'none'} given)"
                raise ValueError(wrong, f"Write one of {', '.join(QUANTITIES)}.")
        return written

    @property
    def kind(self) -> str:
        """The key of its quantity: turn, tilt, flexion, distance, displacement or difference."""
        return next(key for key in QUANTITIES if getattr(self, key) is not None)

    @property
    def measurand(self) -> Measurand:
        """Its one quantity."""
        found: Measurand = getattr(self, self.kind)
        return found

    @property
    def since(self) -> Checkpoint | None:
        """The earlier moment that it is compared with."""
        return getattr(self.measurand, "since", None)


def marks_of(point: Point) -> tuple[Mark, ...]:
    """The marks that give a point: itself, or the two that it lies between."""
    if point.startswith("mid-"):
        return _pair(point.removeprefix("mid-"))
    return (cast(Mark, point),)


def line_of(joints: Joints) -> tuple[Mark, Mark]:
    """The lead and the trail mark of a pair of landmarks."""
    return _pair(joints.removesuffix("s"))


def joint_of(flexion: Flexion) -> tuple[Mark, Mark, Mark]:
    """The marks of a joint and of what it bends between, from above."""
    side, joint = flexion.of.split("-")
    around = ("hip", "knee", "ankle") if joint == "knee" else ("shoulder", "hip", "knee")
    above, at, below = (cast(Mark, f"{side}-{name}") for name in around)
    return above, at, below


def plane_of(axis: Axis) -> View | None:
    """The one view in whose plane a direction lies; None for up and down, which lie in both."""
    return _PLANES[AXES[axis][0]]


def _pair(joint: str) -> tuple[Mark, Mark]:
    return cast(Mark, f"lead-{joint}"), cast(Mark, f"trail-{joint}")
