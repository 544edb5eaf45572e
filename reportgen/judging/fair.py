"""Which earlier values this one may fairly be held against."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportgen.records.findings import BandUsed, Finding, NotCompared, OfShots, Reading
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
    """Of the same metric's earlier readings (oldest first) those that `is_fair` lets stand beside this one, and why the
    latest one is not among them, where it is not."""
    fair = tuple(earlier for earlier in past if is_fair(reading, club, earlier.reading, earlier.club))
    if not past or (fair and fair[-1] is past[-1]):
        return fair, None
    return fair, _why_not(reading, club, past[-1])


def is_fair(one: Reading | Finding, club: str, then: Reading | Finding, club_then: str) -> bool:
    """Whether two values of a metric were taken in the same way and with clubs of one family; of club and ball with the
    very same club, from the same ground and by the same device.

    A longer club changes the body's angles (older men: separation at the top 4.3° less with a driver than with a
    6-iron; Sports Biomech 2019, doi 10.1080/14763141.2019.1649452), and two ways of measuring differ by more than
    chance (separation by 16°, side bend by 8.7° between flat pictures and space; J Appl Biomech 2016;32(1)). Two
    devices read path and attack angle at two places of the head (published figures, read second-hand: 3° and 1°).
    """
    if (one.how, one.views) != (then.how, then.views):
        return False
    if one.of_shots is None and then.of_shots is None:
        return club_family(club) == club_family(club_then)
    return _shots(one, club) == _shots(then, club_then)


def _shots(of: Reading | Finding, club: str) -> OfShots:
    """What must be the same of two values of club and ball."""
    return of.of_shots.model_copy(update={"table": False}) if of.of_shots else OfShots(club=club)


def _why_not(reading: Reading, club: str, last: EarlierReading) -> NotCompared:
    then = last.reading
    left = NotCompared(on=last.on, club=None, how=then.how, views=then.views)
    if reading.of_shots is None and then.of_shots is None:
        other = club_family(club) != club_family(last.club)
        return left.model_copy(update={"club": last.club}) if other else left
    now, before = _shots(reading, club), _shots(then, last.club)
    if now.club != before.club:
        return left.model_copy(update={"club": before.club})
    if now.device != before.device:
        return left.model_copy(update={"other": "device"})
    return left.model_copy(update={"other": "surface"}) if now.surface != before.surface else left
