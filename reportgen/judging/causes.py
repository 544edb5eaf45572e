"""Which rows of causes a lesson bears out: chains from the body, through the club, to the ball."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from reportgen.measuring.ball import OFF_CENTRE
from reportgen.records.cause_findings import BallFacts, CauseChain, ChainEnd
from reportgen.records.causes import SEEN, Cause, CauseEnd
from reportgen.records.findings import Finding
from reportgen.records.words import Direction, club_family

LONGEST = 4
"""Ends of a chain at most: body, path, face to path, ball."""
SHOWN = 3
"""Chains at most: more explain nothing."""


class _Way(NamedTuple):
    """A chain on its way: its ends so far and the rows between them."""

    ends: tuple[CauseEnd, ...]
    rows: tuple[Cause, ...] = ()


class _Seen(NamedTuple):
    """What the lesson found: the side of each thing, None where it shows none."""

    sides: Mapping[str, Direction | None]

    def holds(self, end: CauseEnd) -> bool:
        """Whether this side of it was found."""
        return self.sides.get(end.what) == end.side

    def allows(self, end: CauseEnd) -> bool:
        """Whether it was found, or nobody looked."""
        return end.what not in self.sides or self.holds(end)


def chains(
    findings: Sequence[Finding], ball: BallFacts, causes: Collection[Cause], club: str
) -> tuple[CauseChain, ...]:
    """For each thing that the ball, or the strike, was found to do, the best borne out chain that ends there.

    A chain begins with a body metric that is out of its range and goes through the club, or, where there is none of
    these, from the club alone. What lies between was found too, or was not looked at; what was found otherwise breaks
    the chain. What a device worked out explains nothing that it was worked out from, and a strike far off the middle
    of the face leaves the curve to itself. `club` is that of a lesson without shots; the rows are about swings, so a
    putter has none.
    """
    at_hand = club_family(ball.facts[0].club if ball.facts else club)
    if at_hand == "putter" or all(fact.side is None for fact in ball.facts):
        return ()
    rows = [row for row in causes if row.fits(at_hand) and _says_something(row, ball)]
    body = {f.metric: _side_of(f) for f in findings if f.verdict != "not judged" and f.metric not in SEEN}
    struck = {fact.what: fact.side for fact in ball.facts}
    seen = _Seen({**body, **struck})
    found = [way for start in _ends(body) for way in _ways(_Way((start,)), rows, seen)]
    ended = {way.ends[-1].what for way in found}
    of_club = [way for start in _ends(struck) if start.part == "club" for way in _ways(_Way((start,)), rows, seen)]
    found += [way for way in of_club if len(way.ends) == 2 and way.ends[-1].what not in ended]
    return tuple(_chain(way, seen) for way in _best(found, seen))


def _ends(sides: Mapping[str, Direction | None]) -> list[CauseEnd]:
    return [CauseEnd(what=what, side=side) for what, side in sides.items() if side is not None]


def _says_something(row: Cause, ball: BallFacts) -> bool:
    ends = (row.cause.what, row.effect.what)
    if row.basis == "evidence against" or (ball.face_computed and ends == ("face", "start")):
        return False
    if ends == ("low-point", "attack") and any(fact.what == "low-point" for fact in ball.facts):
        return False  # it follows from the attack angle
    return ends != ("face-to-path", "curve") or not _off_centre(ball)


def _off_centre(ball: BallFacts) -> bool:
    return any(
        fact.what == "strike-across" and fact.value is not None and abs(fact.value) > 1000 * OFF_CENTRE
        for fact in ball.facts
    )


def _side_of(finding: Finding) -> Direction | None:
    if finding.verdict not in ("below range", "above range"):
        return None
    return "below" if finding.verdict == "below range" else "above"


def _ways(way: _Way, rows: Sequence[Cause], seen: _Seen) -> Iterator[_Way]:
    """Every way on from here that ends with something found of the ball, or of the strike."""
    last = way.ends[-1]
    for row in rows:
        end = row.effect
        if row.cause != last or end.part not in ("club", "ball") or any(one.what == end.what for one in way.ends):
            continue
        if not seen.allows(end):
            continue
        further = _Way((*way.ends, end), (*way.rows, row))
        if seen.holds(end) and (end.part == "ball" or end.what.startswith("strike-")):
            yield further
        if end.part == "club" and len(further.ends) < LONGEST:
            yield from _ways(further, rows, seen)


def _best(found: Sequence[_Way], seen: _Seen) -> list[_Way]:
    """One for each thing that is explained: with the fewest ends that nobody looked at, then the shortest. What only
    leads on to another of the chains is left out. The curve comes first, then the start: students ask for these."""
    best: dict[str, _Way] = {}
    for way in found:
        end = way.ends[-1].what
        if end not in best or _rank(way, seen) < _rank(best[end], seen):
            best[end] = way
    ways = sorted(best.values(), key=lambda way: [way.ends[-1].what != end for end in ("curve", "start")])
    on_the_way = {other.ends[:n] for other in ways for n in range(1, len(other.ends))}
    return [way for way in ways if way.ends not in on_the_way][:SHOWN]


def _rank(way: _Way, seen: _Seen) -> tuple[int, int]:
    return sum(not seen.holds(end) for end in way.ends), len(way.ends)


def _chain(way: _Way, seen: _Seen) -> CauseChain:
    return CauseChain(
        ends=tuple(ChainEnd(what=end.what, side=end.side, seen=seen.holds(end)) for end in way.ends),
        rows=tuple(row.id for row in way.rows),
        bases=tuple(row.basis for row in way.rows),
    )
