"""Swings to step through as one reader is told of them."""

from reportgen.records.base import Record
from reportgen.records.pictures import DrawnSwing, Stroke, SwingMoment, SwingSeen, SwingValue
from reportgen.records.words import Checkpoint


class ToldStroke(Stroke):
    """A stroke with the value that belongs to it, in words."""

    says: str | None = None


class ToldSwingValue(SwingValue):
    """A value with its name, in the reader's unit."""

    says: str


class ToldSwingMoment(SwingMoment):
    """A checkpoint with its name, what its verdict is in a word or two (nothing where none was given), and what the
    picture shows for those who do not see it."""

    name: str
    says: str
    alt: str
    values: tuple[ToldSwingValue, ...]
    strokes: tuple[ToldStroke, ...]


class ToldSwing(DrawnSwing):
    """A swing with what stands below it; `steps` says for each frame which part of the swing it is."""

    caption: str
    steps: tuple[str, ...]
    moments: tuple[ToldSwingMoment, ...]


class ToldSwingSeen(SwingSeen):
    """A swing and the one beside it, and why it is withheld, in a sentence."""

    swing: ToldSwing | None
    beside: ToldSwing | None
    withheld_says: str | None


class SwingPair(Record):
    """What is stepped through together, on one clock: `name` says what it is; the first of `sides` leads. It opens at a
    checkpoint, that of what is worked on; None where it begins at its first frame."""

    name: str
    sides: tuple[ToldSwing, ...]
    opens_at: Checkpoint | None = None
