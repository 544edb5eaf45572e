"""Which earlier values this one may fairly be held against."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportgen.languages.speaking import say
from reportgen.records.report import Reading
from reportgen.records.wording import club_name, day, way_taken
from reportgen.records.words import Verdict, club_family


@dataclass(frozen=True)
class Past:
    """A reading of an earlier lesson, the club it was taken with, and how it was judged then."""

    on: date
    reading: Reading
    club: str
    verdict: Verdict
    band_for: str | None = None
    """Whom the band was for that it was held against."""


def fair_past(reading: Reading, club: str, past: Sequence[Past]) -> tuple[tuple[Past, ...], str | None]:
    """Of the same metric's earlier readings (oldest first) those taken with a club of the same family and in the same
    way, and why the latest one is not among them, where it is not.

    A longer club changes the body's angles (older men: separation at the top 4.3° less with a driver than with a
    6-iron; Sports Biomech 2019, doi 10.1080/14763141.2019.1649452), and two ways of measuring differ by more than
    chance (separation by 16°, side bend by 8.7° between flat pictures and space; J Appl Biomech 2016;32(1)).
    """
    fair = tuple(earlier for earlier in past if _fault(reading, club, earlier) is None)
    if not past or (fair and fair[-1] is past[-1]):
        return fair, None
    last = past[-1]
    how = _fault(reading, club, last)
    return fair, say("On {day} it was measured {how}: that is not compared.", day=day(last.on), how=how)


def is_fair(reading_how: tuple[str, int], club: str, how_then: tuple[str, int], club_then: str) -> bool:
    """Whether two values of a metric were taken in the same way and with clubs of one family."""
    return reading_how == how_then and club_family(club) == club_family(club_then)


def _fault(reading: Reading, club: str, past: Past) -> str | None:
    if club_family(club) != club_family(past.club):
        return say("with the {club}", club=club_name(past.club))
    then = past.reading
    if (reading.how, reading.views) != (then.how, then.views):
        return way_taken(then.how, then.views)
    return None
