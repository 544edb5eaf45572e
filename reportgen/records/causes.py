"""What can lead to what, as written under content/causes/: of body, club and ball, each row with what it rests on."""

from collections.abc import Mapping
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from reportgen.records.base import Record, Slug, Text
from reportgen.records.bounds import RULES, WORDS
from reportgen.records.words import ClubFamily, Direction

CauseBasis = Literal["geometry", "measured", "teachers hold", "evidence against"]
"""What a row rests on: geometry or physics, measured in a study, what teachers hold (no study found), or a study that
speaks against the simple reading. The last is kept to be read, and no report follows it."""

Part = Literal["body", "set-up", "club", "ball"]

SEEN: Mapping[str, Part] = {
    "lead-wrist-top": "body",
    "posture-setup": "body",
    "ball-place": "set-up",
    "ball-distance": "set-up",
    "head-weight": "set-up",
    "target-slope": "set-up",
    "face": "club",
    "path": "club",
    "face-to-path": "club",
    "attack": "club",
    "loft": "club",
    "loft-to-path": "club",
    "toe": "club",
    "low-point": "club",
    "strike-across": "club",
    "strike-up": "club",
    "contact": "club",
    "start": "ball",
    "curve": "ball",
    "tilt": "ball",
    "launch": "ball",
    "spin": "ball",
    "carry": "ball",
}
"""What a row can speak of beside the metrics, and the part it belongs to. `above` is: wrist bent back, straighter at
address; ball toward the lead foot, ball farther away, heavier head, target uphill; face open, path from inside to
outside, face open to the path, head moving up, more loft, more loft to the path, toe up, low point farther to the
target, strike toward the toe, strike high, ball struck thin (below: fat); start and curve to the trail side, more tilt
of the spin axis to either side, higher launch, more spin, longer carry. All other metrics belong to the body."""


class CauseEnd(Record):
    """One end of a row: a metric by its id, or a word for club and ball, and the side of its range, or of nothing."""

    what: Slug
    side: Direction

    @property
    def part(self) -> Part:
        """To what it belongs."""
        return SEEN.get(self.what, "body")


class Cause(Record):
    """One thing that can lead to another, each with its side: a cause below its range leads to its own effects alone.

    `clubs` are those that it holds for, all where it is empty. `caveat` says where it does not hold.
    """

    id: Slug
    cause: CauseEnd
    effect: CauseEnd
    basis: CauseBasis
    clubs: Annotated[tuple[ClubFamily, ...], Field(max_length=WORDS)] = ()
    source: Text
    caveat: Text | None = None

    @model_validator(mode="after")
    def _two_things(self) -> Self:
        if self.cause.what == self.effect.what:
            raise ValueError(f"goes from {self.cause.what} to itself", "Name another effect.")
        return self

    @model_validator(mode="after")
    def _through_the_club(self) -> Self:
        if self.cause.part == "body" and self.effect.part == "ball":
            raise ValueError(
                "goes from the body straight to the ball",
                "Write two rows: one to what the club does (as path), one from there to the ball.",
            )
        return self

    def fits(self, club: ClubFamily) -> bool:
        """Whether it holds for a club of this family."""
        return not self.clubs or club in self.clubs


class CauseFile(Record):
    """One file of content/causes/."""

    causes: Annotated[tuple[Cause, ...], Field(min_length=1, max_length=RULES)]
