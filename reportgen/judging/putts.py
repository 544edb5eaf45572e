"""Tables of putts, and of shots at a hole: each distance as a count, so many of so many, judged as every count is.

What comes to rest beside a hole is no pattern of landing places, and from another distance it is another task. So shots
that a table tells the distance of are counted by distance, and by nothing else.
"""

from collections.abc import Iterator, Sequence
from math import log

from reportgen.records.amounts import Quantity
from reportgen.records.lesson import Lesson
from reportgen.records.shot_table import Shot, ShotTable
from reportgen.records.shots import ShotCount

LENGTH = 0.9
"""Metres: a putter's length, within which a ball has the right length (common practice, no source)."""
NEAR = 3.0
"""Metres: a nearer putt should reach the hole, one from farther away should come to rest beside it (own figure)."""
AS_WRITTEN = 8
"""So many distances are told as they are written; more are sorted into DISTANCES."""
DISTANCES = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 12.0, 16.0, 24.0, 40.0, 70.0)
"""Metres; each shot goes to the one that is nearest to it as a ratio (own figures)."""


def with_putts_counted(lesson: Lesson, tables: Sequence[ShotTable]) -> Lesson:
    """The lesson with what its tables tell by distance among its counted shots."""
    told = [shot for table in tables for shot in table.shots if shot.distance is not None]
    return lesson.model_copy(update={"shots": (*lesson.shots, *_counts(told))}) if told else lesson


def by_distance_alone(shots: Sequence[Shot]) -> bool:
    """Whether shots are told by distance and by no place of landing."""
    return all(shot.distance is not None and shot.carry is None for shot in shots)


def _counts(shots: Sequence[Shot]) -> Iterator[ShotCount]:
    """What was holed, and what had the right length, by club and distance, the nearest first."""
    written = {round(shot.distance or 0.0, 2) for shot in shots}
    groups: dict[tuple[str, float], list[Shot]] = {}
    for shot in shots:
        far = round(shot.distance or 0.0, 2)
        groups.setdefault((shot.club, far if len(written) <= AS_WRITTEN else _sorted_in(far)), []).append(shot)
    for (club, far), found in sorted(groups.items()):
        holed = [shot.result == "holed" for shot in found if shot.result is not None]
        reach = club == "putter" and far < NEAR
        length = [_right_length(shot, reach=reach) for shot in found if shot.past is not None]
        for count, made in (("holed", holed), ("past-the-hole" if reach else "distance-control", length)):
            if made:
                distance = Quantity(value=far, unit="m")
                yield ShotCount(count=count, club=club, made=sum(made), of=len(made), distance=distance)


def _sorted_in(far: float) -> float:
    return min(DISTANCES, key=lambda one: abs(log(one / far)))


def _right_length(shot: Shot, *, reach: bool) -> bool:
    """Whether it fell or came to rest near the hole; a near putt that must `reach` it, not short of it."""
    past = shot.past or 0.0
    return shot.result == "holed" or (0.0 if reach else -LENGTH) <= past <= LENGTH
