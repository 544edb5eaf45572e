"""The figures of a drill as they are written: how the body stands, what the hands do, and what stands or lies about.

Lengths are in centimetres, angles in degrees. `toward` is toward the target, `ahead` from the player toward the ball;
both count from the middle of the stance. Closed turns are positive, open ones negative.
"""

import re
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from reportgen.records.base import Line, Record
from reportgen.records.bounds import FEELS, FIGURES, PROPS

Seen = Literal["face-on", "down-the-line", "above"]
Base = Literal[
    "address", "upright", "sitting", "chip", "putt", "knee-back", "hip-back", "chest-back", "top", "impact",
    "knee-through", "hip-through", "chest-through", "finish",
]  # fmt: skip
HandsAt = Literal[
    "club", "together", "shoulder", "chest", "hip", "belt", "thigh", "knee", "crease", "hanging", "neck", "waist",
    "toss",
]  # fmt: skip
Held = Literal["iron", "wedge", "putter", "towel", "stick", "nothing"]
Eyes = Literal["ball", "target", "ahead"]
Thing = Literal[
    "ball", "tee", "coin", "hole", "towel", "stick", "line", "scales", "chair", "wall", "mirror", "mark",
]  # fmt: skip
Side = Literal["ahead", "behind", "lead", "trail"]
Part = Literal[
    "head", "chest", "belt", "seat", "hands", "club",
    "lead-shoulder", "lead-hip", "lead-pocket", "lead-thigh", "lead-knee", "lead-heel", "lead-foot", "lead-toes",
    "trail-shoulder", "trail-hip", "trail-pocket", "trail-thigh", "trail-knee", "trail-heel", "trail-foot",
    "trail-toes",
]  # fmt: skip
Way = Literal["target", "away", "ball", "back", "up", "down"]

_FILE = re.compile(r"[^\W_][\w .()-]*\.(?:png|jpe?g)", re.IGNORECASE)


def _read_picture(written: Any) -> Any:
    if not isinstance(written, str) or _FILE.fullmatch(written.strip()):
        return written
    raise ValueError("is no picture beside the drill", "Write the name of a PNG or JPEG file there, as coin.png.")


PictureFile = Annotated[
    str,
    BeforeValidator(_read_picture, json_schema_input_type=str),
    Field(max_length=100, description="the name of a PNG or JPEG file beside the drill, as coin.png"),
]
Turn = Annotated[float, Field(ge=-130, le=130)]
Knee = Annotated[float, Field(ge=0, le=130)] | Literal["level"]
"""How far a knee is bent, or as far as keeps the belt level."""
Place = Annotated[float, Field(ge=-200, le=200)]


class FigureFoot(Record):
    """A foot, where it differs from the pose: `out` how far it is turned out, `heel` and `toes` how high they are
    lifted (cm, degrees), `toward` and `ahead` how far it has moved."""

    out: Annotated[float, Field(ge=-30, le=80)] | None = None
    heel: Annotated[float, Field(ge=0, le=16)] | None = None
    toes: Annotated[float, Field(ge=0, le=50)] | None = None
    toward: Annotated[float, Field(ge=-60, le=60)] = 0
    ahead: Annotated[float, Field(ge=-60, le=60)] = 0


class FigureThing(Record):
    """Something that stands, lies or hangs about the player.

    A wall or mirror stands on a `side` of the player, `away` from the middle of the stance; a chair has its back on
    that side. `long` is how long a stick, a line, a towel or a paper mark is; the first two lie along the target line
    or `across` it.
    """

    what: Thing
    toward: Place | None = None
    ahead: Place | None = None
    up: Annotated[float, Field(ge=0, le=200)] = 0
    side: Side | None = None
    away: Annotated[float, Field(ge=5, le=150)] | None = None
    long: Annotated[float, Field(ge=5, le=200)] | None = None
    across: bool = False

    @model_validator(mode="after")
    def _stands_somewhere(self) -> Self:
        upright = self.what in ("wall", "mirror")
        if upright and (self.side is None or self.away is None):
            raise ValueError("does not say where it stands", "Write side: and away:, as in side: behind, away: 30.")
        if upright and (self.toward is not None or self.ahead is not None):
            raise ValueError("has side and away, and a place too", "Take toward: and ahead: out.")
        if not upright and self.away is not None:
            raise ValueError("is no wall and says away", "Write toward: and ahead: instead.")
        if not upright and self.what != "chair" and self.side is not None:
            raise ValueError("is no wall and no chair and has a side", "Take side: out.")
        return self


class FigureMove(Record):
    """An arrow: where a part of the body goes from here."""

    part: Part
    to: Way


class DrillFigure(Record):
    """One figure of a drill: a pose of the figure that is ours and what differs from it, or a `picture` of your own.

    With `step` it shows that step of the text, with `mistake` that mistake, otherwise how the drill begins; the line
    below it says so in the words of the drill.
    """

    step: Annotated[int, Field(ge=1, le=20)] | None = None
    mistake: Annotated[int, Field(ge=1, le=20)] | None = None
    seen: Seen = "face-on"
    picture: PictureFile | None = None
    alt: Line | None = None
    pose: Base = "address"
    belt: Turn | None = None
    chest: Turn | None = None
    bend: Annotated[float, Field(ge=-15, le=90)] | None = None
    side_bend: Annotated[float, Field(ge=-40, le=50)] | None = None
    lead_knee: Knee | None = None
    trail_knee: Knee | None = None
    shift: Annotated[float, Field(ge=-30, le=30)] | None = None
    seat: Annotated[float, Field(ge=-30, le=30)] | None = None
    stance: Annotated[float, Field(ge=8, le=90)] | None = None
    lead_foot: FigureFoot = FigureFoot()
    trail_foot: FigureFoot = FigureFoot()
    hands: HandsAt | None = None
    lead_hand: HandsAt | None = None
    trail_hand: HandsAt | None = None
    holds: Held | None = None
    arms: Annotated[float, Field(ge=-170, le=170)] | None = None
    hinge: Annotated[float, Field(ge=-130, le=130)] | None = None
    eyes: Eyes | None = None
    things: Annotated[tuple[FigureThing, ...], Field(max_length=PROPS)] = ()
    feel: Annotated[tuple[Part, ...], Field(max_length=FEELS)] = ()
    moves: Annotated[tuple[FigureMove, ...], Field(max_length=FEELS)] = ()

    @model_validator(mode="after")
    def _shows_one_thing(self) -> Self:
        if self.step is not None and self.mistake is not None:
            raise ValueError("shows a step and a mistake", "Keep one of the two.")
        return self

    @model_validator(mode="after")
    def _is_drawn_or_a_picture(self) -> Self:
        if self.picture is not None and self.alt is None:
            raise ValueError("has a picture that is not told", "Write alt: with a sentence that says what it shows.")
        if self.picture is None and self.alt is not None:
            raise ValueError("has an alt and no picture", "Take it out: what is drawn is told by itself.")
        drawn = self.model_fields_set - {"step", "mistake", "picture", "alt"}
        if self.picture is not None and drawn:
            raise ValueError("has a picture and is drawn too", f"Take {sorted(drawn)[0]}: out, or picture:.")
        return self


Figures = Annotated[tuple[DrillFigure, ...], Field(max_length=FIGURES)]
