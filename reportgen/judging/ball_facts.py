"""What club and ball did on average in a lesson, as far as the shots show a side."""

from collections.abc import Iterator, Mapping, Sequence
from math import fsum, hypot, sqrt
from typing import Literal, NamedTuple

from reportgen.judging.counts import miss_side
from reportgen.judging.shot_doubts import curve_of, face_computed, face_to_path_of, sign_doubts
from reportgen.judging.shot_groups import Group, by_device, groups_of
from reportgen.measuring.ball import Figure, curve
from reportgen.measuring.shot_u import shot_u
from reportgen.records.academy import ShotError
from reportgen.records.cause_findings import BallFact, BallFacts
from reportgen.records.lesson import Lesson
from reportgen.records.shot_table import Shot, ShotTable
from reportgen.records.shots import Strike
from reportgen.records.words import Direction, club_family

LEAST = 5
"""Of fewer shots no average is told (own figure)."""
BENT = 0.0085
"""A degree of the spin axis curves the ball by about so much of its carry: published figures, read second-hand, say
0.0070 to 0.0075; a flight computed with coefficients of 1976 says 0.0071 to 0.0097 (own)."""

Unit = Literal["deg", "m", "mm"]
_WORDS: dict[str, tuple[str, Unit]] = {
    "start": ("start-direction", "deg"),
    "face": ("face-angle", "deg"),
    "path": ("club-path", "deg"),
    "face-to-path": ("face-to-path", "deg"),
    "attack": ("attack-angle", "deg"),
    "strike-across": ("strike-across", "mm"),
    "strike-up": ("strike-up", "mm"),
}
"""The columns of shots that the causes speak of, and their units."""


class _Main(NamedTuple):
    """The shots that are looked at, and how sure their numbers are."""

    group: Group
    errors: ShotError
    own: Mapping[str, Mapping[str, float]]

    def numbers(self, word: str) -> list[float]:
        """What the shots have for a word."""
        if word == "face-to-path":
            return [value for shot in self.group.shots if (value := face_to_path_of(shot)) is not None]
        return [value for shot in self.group.shots if (value := shot.number(word)) is not None]

    def average(self, word: str) -> Figure:
        """The mean of what the shots have for a word, and the device's standard uncertainty of one such shot: that of
        the least sure table."""
        mean = {word: _mean(self.numbers(word)), "carry": _mean(self.numbers("carry"))}
        own = {shot.file: self.own.get(shot.file, {}) for shot in self.group.shots}
        words = {name.replace("-", "_"): value for name, value in mean.items()}
        like = self.group.shots[0].model_copy(update=words)
        return Figure(
            mean[word] or 0.0, max(shot_u(word, like, self.errors, of_file) or 0.0 for of_file in own.values())
        )


def ball_facts(lesson: Lesson, tables: Sequence[ShotTable], errors: ShotError) -> BallFacts:
    """The averages of the lesson's main shots, those with its club, or else the most, and its counted strikes.

    The device's error is taken as the same for all shots: more shots do not lessen it. Columns whose sign is in doubt
    are left out.
    """
    groups = groups_of(tables)
    group = max(groups, key=lambda one: (one.club == lesson.club, len(one.shots)), default=None)
    if group is None:
        return BallFacts(facts=tuple(_struck(lesson, lesson.club)))
    main = _Main(group, errors, {table.file: table.u for table in tables})
    of_device = by_device(groups)[group.device]
    doubted = _doubted(of_device)
    facts = [fact for what in _WORDS if what not in doubted and (fact := _average(what, main)) is not None]
    bent = None if "curve" in doubted else _curve(main, axis="spin-axis" not in doubted)
    if bent is not None:
        facts.append(bent)
    if not any(fact.what == "strike-across" for fact in facts):
        facts += _struck(lesson, group.club)
    steps = {table.file: table.resolution for table in tables}
    computed = face_computed(of_device, steps) or face_computed(group.shots, steps)
    return BallFacts(facts=tuple(facts), face_computed=computed is not None, share=_share(bent, main))


def _doubted(shots: Sequence[Shot]) -> set[str]:
    """What must not be given a side. Of an axis that goes against the curve, the axis is doubted: the curve comes from
    places of landing."""
    found: set[str] = set()
    for doubt in sign_doubts(shots, None):
        found |= {"spin-axis"} if "spin-axis" in doubt.words else set(doubt.words)
    if "face-angle" in found:
        found |= {"face", "start", "face-to-path"}
    return found


def _average(what: str, main: _Main) -> BallFact | None:
    word, unit = _WORDS[what]
    numbers = main.numbers(word)
    return _fact(what, numbers, main.average(word).u, unit, main.group) if len(numbers) >= LEAST else None


def _fact(what: str, numbers: Sequence[float], device: float, unit: Unit, group: Group) -> BallFact:
    """The mean of these numbers and its standard uncertainty: of the shots' own scatter, and of the device, which all
    of them share."""
    n, mean = len(numbers), fsum(numbers) / len(numbers)
    scatter = sqrt(fsum((one - mean) ** 2 for one in numbers) / (n - 1) / n)
    u = hypot(scatter, device)
    side = _side(what, Figure(mean, u), group.club)
    return BallFact(what=what, club=group.club, of=n, value=mean, u=u, unit=unit, side=side)


def _mean(numbers: Sequence[float]) -> float | None:
    return fsum(numbers) / len(numbers) if numbers else None


def _side(what: str, mean: Figure, club: str) -> Direction | None:
    """The side of a mean that is at least twice its uncertainty from 0. Irons are meant to meet the ball going down and
    drivers not to, so an attack angle has only its unusual side (common practice, no source)."""
    if abs(mean.value) < 2 * mean.u or mean.value == 0:
        return None
    side: Direction = "above" if mean.value > 0 else "below"
    if what == "attack":
        usual = "above" if club_family(club) in ("driver", "wood") else "below"
        return None if side == usual else side
    return side


def _curve(main: _Main, axis: bool) -> BallFact | None:
    """How far the ball landed from its start line, or else how its spin axis tilted, where that can be used."""
    bent = [far for shot in main.group.shots if (far := curve_of(shot)) is not None]
    if len(bent) >= LEAST:
        u = curve(*(main.average(word) for word in ("side", "carry", "start-direction"))).u
        return _fact("curve", bent, u, "m", main.group)
    tilts = main.numbers("spin-axis") if axis else []
    return _fact("curve", tilts, main.average("spin-axis").u, "deg", main.group) if len(tilts) >= LEAST else None


def _share(bent: BallFact | None, main: _Main) -> float | None:
    """How far the ball curves, of its carry."""
    if bent is None or bent.value is None:
        return None
    if bent.unit == "deg":
        return abs(bent.value) * BENT
    carry = _mean(main.numbers("carry"))
    return abs(bent.value) / carry if carry else None


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
