"""A film of one swing, read in one go: who is in each picture, what was heard, and the moments that are proposed.

The desk shows pictures while it reads and so takes the parts one by one (`pictures`, `followed`, `swing_of`); who wants
the outcome alone calls `read_swing`.
"""

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from reportgen.films.clocks import lag, lag_by_heights, nearest_pair
from reportgen.films.following import followed
from reportgen.films.moments import moments
from reportgen.films.reading import pictures
from reportgen.films.sound import strikes_heard
from reportgen.films.tracks import Seen, Track, track
from reportgen.records.films import Lag, ProposedMoment
from reportgen.records.words import Side, View

TRACKED = 1280
"""Pixels of the longer side of a picture in which a player is followed: the model sees no more of it."""
STRETCHES = (1.0, 2.0, 4.0, 8.0)
"""By how much slow motion is stretched: 30, 60, 120 and 240 pictures a second, played at 30."""
_DOWN_S = 0.15, 0.8
"""How long a downswing takes, at least and at most, from a putt's length of hands to a slow full swing."""


class FilmedSwing(NamedTuple):
    """The track of a film, the times (s) at which a strike may have been heard, the loudest first, and the moments."""

    track: Track
    heard: tuple[float, ...]
    moments: tuple[ProposedMoment, ...]


def read_swing(file: Path, view: View, plays: Side, distance_m: float = 4.0, stretched: float = 1) -> FilmedSwing:
    """A film read from beginning to end, the camera `distance_m` from the player. Raises FilmError,
    MissingFilmLibraryError, OSError."""
    heard = strikes_heard(file, distance_m, stretched)
    seen = [one for _, one in followed(pictures(file, longest=TRACKED, stretched=stretched))]
    return swing_of(seen, heard, view, plays)


def swing_of(seen: Sequence[Seen], heard: tuple[float, ...], view: View, plays: Side) -> FilmedSwing:
    """The swing of a film that was followed and heard."""
    player = track(seen, view, plays)
    return FilmedSwing(player, heard, moments(player, view, plays, heard))


def on_one_clock(first: FilmedSwing, second: FilmedSwing) -> Lag:
    """By how much the second film's clock is to be put forward; of several strikes heard, those that fit the pictures
    best, otherwise each film's own moment of impact."""
    shift = lag_by_heights(first.track, second.track)
    return lag(shift, nearest_pair(first.heard, second.heard, shift))


def stretches(swing: FilmedSwing, view: View, plays: Side) -> tuple[float, ...]:
    """By how much the film may be stretched, of `STRETCHES`, so that its downswing takes as long as one does. With more
    than one, a person is to be asked; the film must have been read as if it were not stretched."""
    found = []
    for factor in STRETCHES:
        quicker = swing.track._replace(times=swing.track.times / factor)
        at = {one.moment: one.time for one in moments(quicker, view, plays)}
        if at and _DOWN_S[0] <= at["impact"] - at["top"] <= _DOWN_S[1]:
            found.append(factor)
    return tuple(found)
