"""The bounds of everything that a person can write, in one place: far above what a lesson needs, and low enough that
every file is read, judged, laid out and published within seconds and in little memory.

Lengths are in signs, counts in items, sizes in bytes. Every field of every record that a person writes has one of them
(`tests/records/test_bounds.py`).
"""

from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from pydantic import Field
from pydantic.config import JsonDict

from reportgen.records.units import UNITS

# Lengths of texts.
NAME = 60
"""An id of small letters, digits and hyphens."""
UNIT = 20
LINE = 300
TEXT = 2_000
"""A text of the library or a reason."""
LETTER = 20_000
"""The teacher's own letter, or what is kept about a student."""
WORD = 80
"""Signs of a word. A longer one does not fit a printed line, and to break it takes as long as to lay out a page:"""
LONG_WORDS = 3
"""so many longer ones one text may have, an address say,"""
LONGEST_WORD = 300
"""each no longer than this."""
ROW = 1_000
"""Signs without a space in a script that needs none between words."""
LINES = 300
MARKS = 400
"""Signs of emphasis, links and code in one text; they can stand in each other as deep as there are pairs of them."""
BLOCKS = 150
"""List items and lines of quotes in one text."""
INDENT = 8
"""How deep quotes and lists can stand in each other in a text."""
RARE = 1_000
"""Pictographs and marks of direction in one text."""

# Numbers of items in lists.
WORDS = 20
"""Words of a closed vocabulary; none has more."""
UPLOAD_WORDS = 60
"""Words of the command that uploads."""
READINGS = 60
TRIALS = 200
STILLS = 30
SWINGS = 4
"""Swings to step through in a lesson,"""
SWING_FRAMES = 60
"""pictures in one of them,"""
FRAME_SIDE = 2_000
"""and pixels of a side of each."""
FILM_SECONDS = 3_600
"""The length of a film."""
AGAIN = 60
"""Pictures of one second look."""
DRILLS_GIVEN = 12
COMFORTS = 60
COUNTS = 40
"""Rows of counted shots in a lesson,"""
SHOTS_COUNTED = 500
"""and shots in one of them."""
SETUP_SEEN = 20
"""Observations at setup in a lesson,"""
SETUP_WORDS = 30
"""and words for one of them."""
PRACTICE_DAYS = 400
"""A year, with one entry a day."""
TRIES = 100
"""Tries of one count of a drill's test."""
TARGETS = 60
FOLLOWED = 3
"""Metrics in focus: of more, none is."""
GROWTHS = 60
ROUNDS = 300
"""Rounds that a student has played: some years of them."""
OTHERS = 30
"""Students beside whom one may stand, and things that one has at hand."""
MAILS = 10
COLUMNS = 60
MEANINGS = 60
"""Cells of one column of words that are said in ours."""
SHOT_TABLES = 6
SHOTS = 1_000
"""Shots of one table; a lesson has some hundred."""
BANDS = 40
RULES = 60
PARTS_OF_CONDITION = 20
SERVED = 40
SECTIONS = 20
"""Headings of a drill; those that are not known are told one by one."""
CEILINGS = 12
FIGURES = 3
"""Figures of a drill,"""
PROPS = 8
"""things about the player in one of them,"""
FEELS = 3
"""and parts of the body that one points out."""

# Files.
SHEET_BYTES = 1 << 20
CATALOGUE_BYTES = 2 << 20
TABLE_BYTES = 8 << 20
TABLE_LINES = 20_000
PICTURE_BYTES = 64 << 20
PICTURE_MEGAPIXELS = 50
"""Of a photograph, which is brought to size while it is read,"""
WHOLE_MEGAPIXELS = 25
"""and of a picture that must be unpacked as a whole: a PNG, or a JPEG saved in steps (progressive)."""
NARROW = 20
"""How many times as long as wide a picture can be."""
VALUES = 20_000
"""Values in one file."""
DEPTH = 20
"""How deep lists and blocks can stand in each other in one file, conditions of a rule among them."""
FILES = 10_000
"""Entries of one folder, students among them."""
LESSONS = 600
"""Lesson sheets of one student."""
ROUNDS = 400
"""Second looks of an academy."""
OF_A_KIND = 200
"""Files of one kind in an academy's own library: metrics, bands, drills, safety rules, catalogues."""

# Numbers.
EARLIEST, LATEST = 1900, 2099
"""The years of every day that is written."""
MOST = 100_000.0
"""No number with a unit is larger, in whatever unit it is written."""
LEAST_U = 0.0001
"""No standard uncertainty is smaller, in whatever unit it is written."""
PRACTISED = 10_000.0
"""Swings, hours or days that a rule can ask of the practice log."""
SLOWEST_SWING = 30.0
"""Seconds from the takeaway to impact, in a drill in slow motion too."""
LONGEST_LESSON = 600
"""Minutes of a lesson."""
FRAMES = 10_000_000
"""A video of more than an hour, at the fastest rate."""
SECONDS = 36_000
"""Of a film, ten hours."""
PIXELS = 20_000
"""The longest side of a picture."""


class Span(NamedTuple):
    """The numbers between which any value of a dimension lies, in a unit of it."""

    low: float
    high: float
    unit: str

    def within(self, unit: str) -> tuple[float, float]:
        """The two limits in another unit of the same dimension."""
        factor = float(UNITS[self.unit].factor / UNITS[unit].factor)
        return self.low * factor, self.high * factor


SPANS: Mapping[str, Span] = {
    "angle": Span(-180.0, 180.0, "deg"),
    "length": Span(-3.0, 3.0, "m"),
    "speed": Span(1.0, 150.0, "m/s"),
    "ratio": Span(0.0, 20.0, "1"),
    "time": Span(0.0, 60.0, "s"),
    "mass": Span(0.0, 300.0, "kg"),
    "rotation": Span(-20_000.0, 20_000.0, "rpm"),
}
"""Outside these limits a value is a slip of the pen, whatever the swing (common practice, no source)."""
PERCENT = Span(0.0, 100.0, "%")
"""The same for a metric that is shown in percent,"""
FLIGHT = Span(-400.0, 400.0, "m")
"""and for lengths of a ball's flight, which are told in these units:"""
FAR = ("m", "yd", "ft")

Figure = Annotated[float, Field(ge=-MOST, le=MOST)]
"""A number whose unit stands elsewhere; that it fits this unit is looked at where both are known."""
StandardUncertainty = Annotated[float, Field(ge=LEAST_U, le=MOST)]


def limits_in(unit: str, shown_in: str | None = None) -> Span:
    """The limits of a value in `unit`, for a metric that is shown in the unit `shown_in`; without it, the widest."""
    if (shown_in or unit) in FAR:
        return FLIGHT
    return PERCENT if shown_in in ("%", "percent") else SPANS[UNITS[unit].dimension]


def by_unit(*names: str, u: str | None = None) -> JsonDict:
    """For the JSON Schema of a record with a field `unit`: the limits that the fields `names` have in each unit, and
    the most that the field `u` has."""
    return {"allOf": [_if_in(unit, names, u) for unit in UNITS]}


def _if_in(unit: str, names: tuple[str, ...], u: str | None) -> JsonDict:
    low, high = limits_in(unit).within(unit)
    limits: dict[str, Any] = {name: {"minimum": low, "maximum": high} for name in names}
    limits |= {name: {"items": limits[name]} for name in names if name == "trials"}
    if u is not None:
        limits[u] = {"maximum": high}
    return {"if": {"properties": {"unit": {"const": unit}}, "required": ["unit"]}, "then": {"properties": limits}}
