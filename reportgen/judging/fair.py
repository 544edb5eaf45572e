"""Which earlier values this one may fairly be held against."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportgen.records.findings import BandUsed, NotCompared, Reading
from reportgen.records.words import Verdict, club_family


@dataclass(frozen=True)
class EarlierReading:
    """A reading of an earlier lesson, the club it was taken with, and how it was judged then."""

    on: date
    reading: Reading
    club: str
    verdict: Verdict
    band: BandUsed | None = None
    """The band that it was held against."""


def fair_past(
    reading: Reading, club: str, past: Sequence[EarlierReading]
) -> tuple[tuple[EarlierReading, ...], NotCompared | None]:
    """Of the same metric's earlier readings (oldest first) those taken with a club of the same family and in the same
    way, and why the latest one is not among them, where it is not.

    A longer club changes the body's angles (older men: separation at the top 4.3° less with a driver than with a
    6-iron; Sports Biomech 2019, doi 10.1080/14763141.2019.1649452), and two ways of measuring differ by more than
    chance (separation by 16°, side bend by 8.7° between flat pictures and space; J Appl Biomech 2016;32(1)).
    """
    fair = tuple(earlier for earlier in past if _comparable(reading, club, earlier))
    if not past or (fair and fair[-1] is past[-1]):
        return fair, None
    last = past[-1]
    club_then = None if club_family(club) == club_family(last.club) else last.club
    return fair, NotCompared(on=last.on, club=club_then, how=last.reading.how, views=last.reading.views)


def is_fair(reading_how: tuple[str, int], club: str, how_then: tuple[str, int], club_then: str) -> bool:
    """Whether two values of a metric were taken in the same way and with clubs of one family."""
    return reading_how == how_then and club_family(club) == club_family(club_then)


def _comparable(reading: Reading, club: str, earlier: EarlierReading) -> bool:
    then = earlier.reading
    return is_fair((reading.how, reading.views), club, (then.how, then.views), earlier.club)
