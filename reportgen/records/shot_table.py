"""What a table says of each shot, and what its columns can hold.

One rule of sign for both hands: + is the trail side (right of the target for a right-handed player, left of it for a
left-handed one), toward the toe, and up. It is kept by who reads a table, so that nobody after has to know the hand.
"""

from collections.abc import Mapping
from datetime import date
from typing import Literal, NamedTuple

from pydantic import Field

from reportgen.records.base import Line, Record
from reportgen.records.words import Club, Result, SpinSource, Surface


class Word(NamedTuple):
    """What a number of a shot is: the unit in which a `Shot` holds it, the limits outside which it is a slip of the
    pen (common practice, no source), and whether it has a side: of the target, or of the face."""

    unit: str
    low: float
    high: float
    side: Literal["target", "face"] | None = None


_DIRECTION = Word("deg", -90.0, 90.0, "target")

WORDS: Mapping[str, Word] = {
    "start-direction": _DIRECTION,
    "launch-angle": Word("deg", -45.0, 90.0),
    "face-angle": _DIRECTION,
    "club-path": _DIRECTION,
    "face-to-path": _DIRECTION,
    "attack-angle": Word("deg", -45.0, 45.0),
    "dynamic-loft": Word("deg", -30.0, 90.0),
    "swing-plane": Word("deg", 0.0, 90.0),
    "spin": Word("rpm", 0.0, 20_000.0),
    "back-spin": Word("rpm", -20_000.0, 20_000.0),
    "side-spin": Word("rpm", -20_000.0, 20_000.0, "target"),
    "spin-axis": _DIRECTION,
    "carry": Word("m", 0.0, 400.0),
    "side": Word("m", -250.0, 250.0, "target"),
    "height": Word("m", 0.0, 100.0),
    "strike-across": Word("mm", -100.0, 100.0, "face"),
    "strike-up": Word("mm", -100.0, 100.0),
    "ball-speed": Word("m/s", 0.5, 150.0),
    "clubhead-speed": Word("m/s", 0.5, 150.0),
    "speed-ratio": Word("1", 0.05, 20.0),
    "distance": Word("m", 0.1, 100.0),
    "past": Word("m", -50.0, 50.0),
}
"""What a column of numbers can hold, by the word for it in `columns`. Lateral directions, side, side spin and spin axis
have the side of the target; the strike place has that of the face, which no hand turns."""

TEXTS = ("club", "surface", "device", "spin-source", "date", "result")
"""What a column of words can hold."""

ALSO_METRICS = frozenset(("ball-speed", "clubhead-speed", "speed-ratio"))
"""Words that an academy's map can name for tables of swings alone, so that `readings_from` asks for their columns."""

FOLLOWS: Mapping[str, str] = {"curve": "m", "loft-to-path": "deg", "low-point": "cm"}
"""What follows from the columns of a shot, with its unit: + is the trail side, and the target side of the ball."""

UNIT_OF: Mapping[str, str] = {**{word: of.unit for word, of in WORDS.items()}, **FOLLOWS}
"""Everything that is known of club and ball by a number, with its unit. Where a metric has such a word as its id, the
shots of a table give it."""


class Shot(Record):
    """One shot. `file` is where its table lies below the academy, `line` its line there; what the table does not say,
    or leaves blank, is None.

    Directions, lofts, launch, attack, plane and spin axis in degrees; carry, side and height in m; speeds in m/s; spins
    in turns a minute; strike place in mm from the middle of the face. `start_direction`, `face_angle`, `club_path`,
    `face_to_path` and `side`: + to the trail side. `spin_axis` and `side_spin`: + curves to the trail side.
    `attack_angle`, `launch_angle`: + up. `strike_across`: + toward the toe. `strike_up`: + high on the face. Of a putt,
    or a shot at a hole: its `distance` from there in m, and how far `past` the hole it came to rest, − short of it.
    """

    file: str
    line: int
    club: Club
    surface: Surface | None = None
    device: Line | None = None
    spin_source: SpinSource | None = None
    result: Result | None = None
    day: date | None = None
    start_direction: float | None = None
    launch_angle: float | None = None
    face_angle: float | None = None
    club_path: float | None = None
    face_to_path: float | None = None
    attack_angle: float | None = None
    dynamic_loft: float | None = None
    swing_plane: float | None = None
    spin: float | None = None
    back_spin: float | None = None
    side_spin: float | None = None
    spin_axis: float | None = None
    carry: float | None = None
    side: float | None = None
    height: float | None = None
    strike_across: float | None = None
    strike_up: float | None = None
    ball_speed: float | None = None
    clubhead_speed: float | None = None
    speed_ratio: float | None = None
    distance: float | None = None
    past: float | None = None

    def number(self, word: str) -> float | None:
        """What the shot has for a word of `WORDS`, in that word's unit."""
        value: float | None = getattr(self, word.replace("-", "_"))
        return value


WhyNoShot = Literal["no number", "not numbered", "mean"]


class LeftOut(Record):
    """A line of a table that is no shot: it has no number at all, none in the column that numbers the shots, or is a
    mean (or another summary) of the shots above it."""

    line: int
    why: WhyNoShot


class ShotTable(Record):
    """The shots of one file, in its order, each of them; nothing is dropped.

    `file` is where it lies below the academy. `blanks` are the lines of shots whose cell is blank, by word; `absent`
    the words of the map that no column holds; `unread_dates` the lines whose day is written in a form that cannot be
    told apart from others. `resolution` is the step of a column's last decimal, `u` the standard uncertainty that the
    map gives it, both by word and in the word's unit.
    """

    file: str
    shots: tuple[Shot, ...]
    left_out: tuple[LeftOut, ...] = ()
    blanks: dict[str, tuple[int, ...]] = Field(default_factory=dict)
    absent: tuple[str, ...] = ()
    unread_dates: tuple[int, ...] = ()
    resolution: dict[str, float] = Field(default_factory=dict)
    u: dict[str, float] = Field(default_factory=dict)
