"""The moments of one or two films as they are put before a person, each by the number of its picture."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from itertools import pairwise
from statistics import median
from typing import NamedTuple

from reportgen.films.swings import FilmedSwing
from reportgen.records.films import Lag, ProposedMoment
from reportgen.records.words import CHECKPOINTS, Checkpoint

Times = Sequence[float]
"""When each picture of a film is, in seconds of the world, by the film's own clock."""


class OneClock(NamedTuple):
    """By how many `seconds` the second film's clock is to be put forward to be the first's, and what tells it."""

    seconds: float
    by: str


def rate_of(times: Times) -> float:
    """Pictures a second, by the usual step from one to the next."""
    return round(1 / median(later - earlier for earlier, later in pairwise(times)), 2)


def nearest(times: Times, time: float) -> int:
    """The number of the picture that is nearest to a time."""
    after = bisect_left(times, time)
    return min((n for n in (after - 1, after) if 0 <= n < len(times)), key=lambda n: abs(times[n] - time))


def proposed_in(swing: FilmedSwing, times: Times) -> Mapping[Checkpoint, ProposedMoment]:
    """The moments of a film; where no swing was found they are spread over it, and all are asked."""
    if swing.moments:
        return {one.moment: one for one in swing.moments}
    numbers = [round((n + 0.5) * len(times) / len(CHECKPOINTS)) for n in range(len(CHECKPOINTS))]
    spread = [min(number, len(times) - 1) for number in numbers]
    return {
        name: ProposedMoment(moment=name, picture=number, time=times[number], how="pictures", ask=True)
        for name, number in zip(CHECKPOINTS, spread, strict=True)
    }


def in_step(
    leading: Mapping[Checkpoint, ProposedMoment], own: Mapping[Checkpoint, ProposedMoment], times: Times, ahead: float
) -> Mapping[Checkpoint, ProposedMoment]:
    """The moments of a film that follows one that leads: at the same time each, as two pictures of different moments
    measure neither. `ahead` is what puts the leading film's clock on the following one's. A strike that was heard in
    this film itself stays where it was heard."""
    found = {}
    for name, one in own.items():
        lead = leading[name]
        if one.how == "pictures":
            picture = nearest(times, lead.time + ahead)
            one = one.model_copy(update={"picture": picture, "time": times[picture], "ask": one.ask or lead.ask})
        found[name] = one
    return found


def clock_of(lag: Lag, trusted: str | None, impacts: tuple[float, float] | None) -> OneClock | None:
    """The clock of two films: what was found where that was not to be asked, otherwise what a person trusts; `impacts`
    are the times of impact in both, where a person has confirmed them. None while it is to be asked."""
    if not lag.ask and lag.seconds is not None:
        return OneClock(lag.seconds, "pictures" if lag.by_sound is None else "sound")
    if trusted == "hand" and impacts is not None:
        return OneClock(impacts[0] - impacts[1], "hand")
    by = {"sound": lag.by_sound, "pictures": lag.by_pictures}.get(trusted or "")
    return None if by is None or trusted is None else OneClock(by, trusted)
