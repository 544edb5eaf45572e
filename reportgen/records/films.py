"""What a film says of itself, and what is proposed from it: nothing here counts before a person confirms it."""

from datetime import datetime
from typing import Literal

from reportgen.records.base import Pixel, Record
from reportgen.records.words import Checkpoint, Mark, View


class FilmFacts(Record):
    """What the head of a film says, before a picture is decoded.

    `coded` is width and height as stored, before the film is turned upright; `rate` the mean number of pictures a
    second, which heads get wrong; `began` when the film says it was begun; `stretched` by how much a tag says that slow
    motion was stretched. `may_be_stretched`: it plays at about 30 a second and no tag says whether that is how it was
    taken.
    """

    codec: Literal["h264", "hevc"]
    bits: int
    coded: tuple[int, int]
    rate: float
    sound: bool
    began: datetime | None
    stretched: float | None
    may_be_stretched: bool


class ProposedMoment(Record):
    """A moment of the swing as it was found in a film: the picture's number and its time (s) on the film's clock.

    `how` tells what it was found by; a person is to be asked where `ask` is true.
    """

    moment: Checkpoint
    picture: int
    time: float
    how: Literal["sound", "pictures"]
    ask: bool


class Lag(Record):
    """By how many seconds the second film's clock is ahead of the first's: t_first = t_second + `seconds`.

    `by_sound` and `by_pictures` are what each way gives, where it gives anything; `ask` is true where they differ by
    more than films of one swing do, or where neither way gives anything.
    """

    seconds: float | None
    by_sound: float | None
    by_pictures: float | None
    ask: bool


class WorkingFilm(Record):
    """A film that lies beside a lesson while that is written, and what a person has said of it so far.

    `name` is what the phone called it, `size` its bytes; `view` and `stretched` are None until they are known. `chosen`
    are pictures to which moments were moved, `confirmed` the moments that a person let stand or moved, `lag_by` what a
    person trusts for the clock where it was asked. `kept` tells that its pictures are in the sheet.
    """

    name: str
    size: int
    facts: FilmFacts
    view: View | None = None
    stretched: float | None = None
    chosen: dict[Checkpoint, int] = {}  # noqa: RUF012  a record is never changed
    confirmed: frozenset[Checkpoint] = frozenset()
    lag_by: Literal["sound", "pictures", "hand"] | None = None
    kept: bool = False


class ProposedMark(Record):
    """A mark that is proposed on a picture, at a pixel of it (x to the right, y down).

    `spread_mm` is by how much the looks at the picture disagree. `start_only`: it is a place to begin from and always
    moved by a person, as the model is wrong there to one side.
    """

    mark: Mark
    at: Pixel
    spread_mm: float
    start_only: bool
