"""What club and ball did on average in a lesson, as far as the shots show a side."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from reportgen.judging.counts import miss_side
from reportgen.judging.shot_means import MainShots
from reportgen.measuring.ball import Figure
from reportgen.records.cause_findings import BallFact, BallFacts
from reportgen.records.lesson import Lesson
from reportgen.records.shots import Strike
from reportgen.records.words import Direction, club_family

BENT = 0.0085
"""A degree of the spin axis curves the ball by about so much of its carry: published figures, read second-hand, say
0.0070 to 0.0075; a flight computed with coefficients of 1976 says 0.0071 to 0.0097 (own)."""

Unit = Literal["deg", "m", "cm", "mm"]
_WORDS: Mapping[str, tuple[str, Unit]] = {
    "start": ("start-direction", "deg"),
    "face": ("face-angle", "deg"),
    "path": ("club-path", "deg"),
    "face-to-path": ("face-to-path", "deg"),
    "attack": ("attack-angle", "deg"),
    "low-point": ("low-point", "cm"),
    "strike-across": ("strike-across", "mm"),
    "strike-up": ("strike-up", "mm"),
}
"""What the causes speak of, by what it is called in a table of shots, and its unit."""


def ball_facts(lesson: Lesson, main: MainShots | None) -> BallFacts:
    """The averages of the lesson's main shots, and its counted strikes.

    The device's error is taken as the same for all shots: more shots do not lessen it. Columns whose sign is in doubt
    are left out.
    """
    if main is None:
        return BallFacts(facts=tuple(_struck(lesson, lesson.club)))
    facts = [fact for what in _WORDS if (fact := _average(what, main)) is not None]
    bent = _curve(main)
    if bent is not None:
        facts.append(bent)
    if not any(fact.what == "strike-across" for fact in facts):
        facts += _struck(lesson, main.group.club)
    return BallFacts(facts=tuple(facts), face_computed=main.face_computed, share=_share(bent, main))


def _average(what: str, main: MainShots) -> BallFact | None:
    word, unit = _WORDS[what]
    return _fact(what, word, unit, main)


def _fact(what: str, word: str, unit: Unit, main: MainShots) -> BallFact | None:
    """The mean of a word, where enough shots tell it and its side is not in doubt."""
    average = main.averages.get(word)
    if average is None or word in main.doubted:
        return None
    mean, club = Figure(average.mean, average.u), main.group.club
    side, of = _side(what, mean, club), len(average.numbers)
    return BallFact(what=what, club=club, of=of, value=mean.value, u=mean.u, unit=unit, side=side)


def _side(what: str, mean: Figure, club: str) -> Direction | None:
    """The side of a mean that is at least twice its uncertainty from 0. Irons are meant to meet the ball going down,
    with the low point ahead of it, and drivers not to: attack angle and low point have only their unusual side (common
    practice, no source)."""
    if abs(mean.value) < 2 * mean.u or mean.value == 0:
        return None
    side: Direction = "above" if mean.value > 0 else "below"
    if what in ("attack", "low-point"):
        up = club_family(club) in ("driver", "wood")
        return None if (side == "above") == (up == (what == "attack")) else side
    return side


def _curve(main: MainShots) -> BallFact | None:
    """How far the ball landed from its start line, or else how its spin axis tilted, where that can be used."""
    if "curve" in main.doubted:
        return None
    return _fact("curve", "curve", "m", main) or _fact("curve", "spin-axis", "deg", main)


def _share(bent: BallFact | None, main: MainShots) -> float | None:
    """How far the ball curves, of its carry."""
    if bent is None or bent.value is None:
        return None
    if bent.unit == "deg":
        return abs(bent.value) * BENT
    carry = main.averages.get("carry")
    return abs(bent.value) / carry.mean if carry and carry.mean else None


def _struck(lesson: Lesson, club: str) -> Iterator[BallFact]:
    """The sides that counted strikes show, by the sign test of heel against toe and of low against high."""
    rows = [row for row in lesson.shots if row.strike is not None and (row.club or lesson.club) == club]
    brought = [row for row in rows if row.when != "after"]  # what is done after the work is not yet kept
    seen = [row.strike for row in brought or rows if row.strike is not None]
    for what, above, below in (("strike-across", "toe", "heel"), ("strike-up", "high", "low")):
        more, less = _counted(seen, above), _counted(seen, below)
        if more + less:
            shown = miss_side(more, less).side
            side: Direction | None = None if shown is None else "above" if shown == "trail" else "below"
            of = sum(strike.of for strike in seen)
            yield BallFact(what=what, club=club, of=of, value=None, u=None, unit=None, side=side)


def _counted(strikes: Sequence[Strike], place: str) -> int:
    return sum(getattr(strike, place) for strike in strikes)
