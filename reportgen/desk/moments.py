"""The moments of a lesson's films, proposed until a person confirms them; nothing of it is in a sheet."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from pydantic import Field

from reportgen.desk.film_words import clock_words, factor_words, film_shown, rate_words
from reportgen.desk.films import Film, Films
from reportgen.desk.marks import Marks
from reportgen.errors import ReportgenError
from reportgen.films.pairs import OneClock, clock_of, in_step, nearest, proposed_in, rate_of
from reportgen.films.swings import FilmedSwing
from reportgen.languages.speaking import say
from reportgen.records.base import Record
from reportgen.records.films import Lag, ProposedMoment
from reportgen.records.words import CHECKPOINTS, Checkpoint, View

Shown = dict[str, Any]
RECOMMENDED = 100
"""Pictures a second from which impact is surely among them; phones have 120 next."""
VIEWS: tuple[View, View] = ("face-on", "down-the-line")


class SentMove(Record):
    """What a page sends: in which film a moment is moved to which picture."""

    film: int
    moment: Checkpoint
    picture: int


class SentWord(Record):
    """What a page sends of a film: its view, by how much it is stretched, or what tells the clock."""

    view: View | None = None
    stretched: Annotated[float, Field(ge=1, le=100)] | None = None
    lag_by: Literal["sound", "pictures", "hand"] | None = None


@dataclass(frozen=True)
class FilmMoments:
    """A film whose moments are proposed: when each picture is, the swing, and each moment as it stands now."""

    film: Film
    view: View
    times: Sequence[float]
    swing: FilmedSwing
    moments: Mapping[Checkpoint, ProposedMoment]

    def counts(self, moment: Checkpoint) -> bool:
        """Whether a moment may be kept: one that is asked counts for nothing until a person has confirmed it."""
        return not self.moments[moment].ask or moment in self.film.note.confirmed

    def taken(self, moment: Checkpoint) -> float:
        """When the picture of a moment was taken, in seconds by the clock of the film."""
        return self.times[self.moments[moment].picture]


@dataclass(frozen=True)
class Pair:
    """The films of one swing, one of each view at most; `lag` is what was found of their clocks, `clock` what counts.
    Both are None where there are not two."""

    films: tuple[FilmMoments, ...]
    lag: Lag | None
    clock: OneClock | None


class Moments:
    """The moments of one academy's films; every method may be called from any thread."""

    def __init__(self, films: Films, marks: Marks) -> None:
        self._films, self._marks = films, marks

    def waiting(self, student: str, name: str) -> tuple[Film, ...]:
        """The films of the swing that is next to be looked at: of each view the first that nobody has kept, and those
        whose view is not known. Raises LookupError."""
        every = self._films.of_lesson(student, name)
        open_ones = [one for one in every if not one.note.kept and one.progress.wrong is None]
        first = [next((one for one in open_ones if one.note.view == view), None) for view in VIEWS]
        return (*(one for one in first if one is not None), *(one for one in open_ones if one.note.view is None))

    def pair(self, student: str, name: str) -> Pair:
        """The moments of that swing, as far as its films have been read. Raises LookupError."""
        waiting = self.waiting(student, name)
        known = [one for one in waiting if one.read and one.note.view and one.note.stretched is not None]
        apart = tuple(self._alone(one, student, name) for one in known)
        if len(apart) < 2:
            return Pair(tuple(_as_said(one) for one in apart), None, None)
        lag = self._films.lag(known[0], known[1], student, name)
        clock = clock_of(lag, apart[1].film.note.lag_by, _impacts(apart))
        both = tuple(_as_said(one) for one in (_one_moment(apart, clock) if clock else apart))
        return Pair(both, lag, clock)

    def now(self, student: str, name: str) -> Shown:
        """All that the page of moments shows. Raises LookupError."""
        waiting, pair = self.waiting(student, name), self.pair(student, name)
        views = [one.note.view for one in waiting if one.note.view]
        wanted = self._marks.moments(student, name, views) if pair.films else {}
        found = {one.film.number: one for one in pair.films}
        return {
            "films": [self._shown(one, found.get(one.number), wanted, student, name, pair) for one in waiting],
            "reading": any(one.progress.running for one in waiting),
            "clock": None if pair.lag is None else clock_words(pair.lag, pair.clock),
            "apart": _apart(pair),
        }

    def move(self, student: str, name: str, sent: SentMove) -> Shown:
        """Move a moment of a film to another picture, which confirms it there and proposes the same time in the other
        film. Raises LookupError, OSError."""
        pair = self.pair(student, name)
        moved = next((one for one in pair.films if one.film.number == sent.film), None)
        if moved is None or not 0 <= sent.picture < len(moved.times):
            raise LookupError(sent.film)
        self._put(moved.film, sent.moment, sent.picture, confirmed=True)
        for other in pair.films:
            if pair.clock and other is not moved and sent.moment not in other.film.note.confirmed:
                ahead = _ahead(pair.clock, moved.view)
                self._put(other.film, sent.moment, nearest(other.times, moved.times[sent.picture] + ahead))
        return self.now(student, name)

    def confirm(self, student: str, name: str, moment: Checkpoint) -> Shown:
        """Let a moment stand as it is shown in each film of the swing. Raises LookupError, OSError."""
        for one in self.pair(student, name).films:
            self._put(one.film, moment, one.moments[moment].picture, confirmed=True)
        return self.now(student, name)

    def word(self, student: str, name: str, number: int, sent: SentWord) -> Shown:
        """Note what a person says of a film; another view or stretch takes back what was confirmed of its moments.
        Raises LookupError, OSError."""
        film = self._films.film(student, name, number)
        if sent.lag_by is not None:
            if sent.lag_by == "hand" and _impacts(self.pair(student, name).films) is None:
                raise ReportgenError(say("Confirm impact in both films first."))
            self._films.change(film, lag_by=sent.lag_by)
        said = {key: value for key, value in (("view", sent.view), ("stretched", sent.stretched)) if value is not None}
        if said:
            self._films.change(film, **said, chosen={}, confirmed=frozenset())
        return self.now(student, name)

    def _put(self, film: Film, moment: Checkpoint, picture: int, *, confirmed: bool = False) -> None:
        note = self._films.noted(film)
        said = note.confirmed | {moment} if confirmed else note.confirmed
        self._films.change(film, chosen={**note.chosen, moment: picture}, confirmed=said)

    def _alone(self, film: Film, student: str, name: str) -> FilmMoments:
        view, times = film.note.view, self._films.times(film)
        if view is None:
            raise LookupError(film.number)
        swing = self._films.swing(film, student, name)
        return FilmMoments(film, view, times, swing, proposed_in(swing, times))

    def _shown(
        self,
        film: Film,
        found: FilmMoments | None,
        wanted: Mapping[View, tuple[Checkpoint, ...]],
        student: str,
        name: str,
        pair: Pair,
    ) -> Shown:
        shown: Shown = film_shown(film)
        if film.read and not film.note.facts.stretched and film.note.facts.may_be_stretched:
            rate = rate_of(self._films.times(film)) * (1 if film.note.stretched is None else film.note.stretched)
            factors = self._films.may_be_stretched(film, student, name)
            if film.note.stretched is None or len(factors) > 1:
                shown["stretch"] = {"now": film.note.stretched, "ways": factor_words(factors, rate)}
        if found is None:
            return shown
        needed = wanted.get(found.view, ())
        impact = pair.films[0].moments["impact"].time
        if pair.clock is None:
            impact = found.moments["impact"].time
        elif found is not pair.films[0]:
            impact -= pair.clock.seconds
        return shown | {
            "pictures": len(found.times),
            "times": [round(time, 4) for time in found.times],
            "rate": rate_words(rate_of(found.times)),
            "slow": rate_of(found.times) < RECOMMENDED,
            "found": bool(found.swing.moments),
            "impact": round(impact, 4),
            "middle": _middle(found.swing),
            "moments": {
                moment: {
                    "picture": one.picture,
                    "state": "confirmed" if moment in film.note.confirmed else "asked" if one.ask else "proposed",
                    "needed": moment in needed,
                }
                for moment, one in found.moments.items()
            },
        }


def _middle(swing: FilmedSwing) -> float | None:
    """Where the player stands, in pixels from the left of the pictures that are shown; None where nobody is seen."""
    points = swing.track.points
    return round(float(points[..., 0].mean()), 1) if points.size else None


def _as_said(one: FilmMoments) -> FilmMoments:
    """The moments with those that a person moved where they were moved to."""
    chosen = {moment: picture for moment, picture in one.film.note.chosen.items() if picture < len(one.times)}
    moved = {
        moment: one.moments[moment].model_copy(update={"picture": picture, "time": one.times[picture]})
        for moment, picture in chosen.items()
    }
    return replace(one, moments={**one.moments, **moved})


def _one_moment(apart: Sequence[FilmMoments], clock: OneClock) -> tuple[FilmMoments, ...]:
    """Two films whose proposals are of one moment each: the slower film leads, as the other has the nearer picture."""
    first, second = apart
    lead, other = (second, first) if rate_of(second.times) < rate_of(first.times) else (first, second)
    other = replace(other, moments=in_step(lead.moments, other.moments, other.times, _ahead(clock, lead.view)))
    return (lead, other) if lead is first else (other, lead)


def _ahead(clock: OneClock, view: View) -> float:
    """What puts a time of the film of that view on the clock of the other."""
    return -clock.seconds if view == "face-on" else clock.seconds


def _impacts(films: Sequence[FilmMoments]) -> tuple[float, float] | None:
    """When impact is in both films, where a person has confirmed it in both."""
    said = [_as_said(one) for one in films if "impact" in one.film.note.confirmed]
    return (said[0].taken("impact"), said[1].taken("impact")) if len(said) == 2 else None


def _apart(pair: Pair) -> dict[Checkpoint, float]:
    """By how many milliseconds the two pictures of each moment are apart, where the films are on one clock."""
    if pair.clock is None or len(pair.films) < 2:
        return {}
    first, second = pair.films
    return {at: round(1000 * abs(second.taken(at) + pair.clock.seconds - first.taken(at))) for at in CHECKPOINTS}
