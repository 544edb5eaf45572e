"""The sights of one lesson by moment and swing, and the bodies that a way of measuring takes from them."""

from collections.abc import Sequence

from reportgen.measuring.body import Body, body_from_one, body_from_two, feet_of
from reportgen.measuring.camera import Feet
from reportgen.measuring.formulas import VIEWS, Bodies, Seen, Way
from reportgen.measuring.moments import WristApart, wrist_apart
from reportgen.measuring.sights import Sight
from reportgen.measuring.timing import SHARP, lag, lag_u, one_clock_u
from reportgen.records.words import Checkpoint, Mark, View

BOTH: Seen = {"face-on": ("lead-ankle", "trail-ankle"), "down-the-line": ("lead-ankle", "trail-ankle")}


class SwingSights:
    """All sights of a lesson. Where a swing has no usable still of an earlier checkpoint, the first swing that has one
    lends it: a player stands at setup nearly alike each time."""

    def __init__(self, sights: Sequence[Sight]) -> None:
        self._sights: dict[tuple[View, Checkpoint], dict[int, Sight]] = {}
        for sight in sights:
            self._sights.setdefault((sight.view, sight.checkpoint), {})[sight.swing] = sight
        self._built: dict[tuple[tuple[View, Checkpoint, int], ...], Body] = {}
        self._shown: dict[tuple[Checkpoint, tuple[tuple[View, tuple[Mark, ...]], ...]], list[int]] = {}

    def swings_of(self, way: Way) -> list[int]:
        """The swings that a way can measure: those whose stills of its last checkpoint show all marks."""
        if not all(self._showing(checkpoint, way.seen) for checkpoint in way.checkpoints):
            return []
        return [swing for swing in self._showing(way.checkpoints[-1], way.seen) if self._comparable(way, swing)]

    def bodies(self, way: Way, swing: int) -> Bodies:
        """The bodies of one swing at the way's checkpoints."""
        return {checkpoint: self._body(checkpoint, way.seen, swing) for checkpoint in way.checkpoints}

    def apart(self, checkpoint: Checkpoint, swing: int) -> WristApart | None:
        """The wrist by which the two pictures of a moment and swing are not of one moment; None where they are, or
        where there are not two that tell."""
        if not all(swing in self._sights.get((view, checkpoint), {}) for view in VIEWS):
            return None
        return wrist_apart(self._body(checkpoint, dict.fromkeys(VIEWS, ()), swing).higher)

    def lag(self, checkpoint: Checkpoint, swing: int) -> float | None:
        """By how many seconds the two pictures of a moment and swing are apart, as far as their films tell."""
        if checkpoint not in SHARP:
            return None
        taken = {key: swings[swing].seconds for key, swings in self._sights.items() if swing in swings}
        return lag({key: seconds for key, seconds in taken.items() if seconds is not None})

    def apart_u(self, checkpoint: Checkpoint, swing: int, fps: float | None, lag_ms: float) -> float:
        """Standard uncertainty, in seconds, because the two pictures of a moment and swing are not of one: by the clock
        that both films are on, otherwise by how long each takes between moments, otherwise `lag_ms`."""
        face_on, down = (self._sights.get((view, checkpoint), {}).get(swing) for view in VIEWS)
        if face_on and down and down.lag and face_on.seconds is not None and down.seconds is not None:
            return one_clock_u(down.seconds + down.lag.seconds - face_on.seconds, down.lag.by, fps)
        return lag_u(self.lag(checkpoint, swing), fps, lag_ms)

    def first_and_last(self, way: Way, swing: int) -> list[tuple[Sight, Sight]]:
        """The sights of the way's first and last checkpoint, a pair for each view."""
        first, last = (
            self._pick(checkpoint, way.seen, swing) for checkpoint in (way.checkpoints[0], way.checkpoints[-1])
        )
        return list(zip(first, last, strict=True))

    def lacks(self, way: Way) -> list[tuple[View, Checkpoint, tuple[Mark, ...]]]:
        """What a way still needs: view, checkpoint and marks; no marks where the whole still is not there."""
        lacking: list[tuple[View, Checkpoint, tuple[Mark, ...]]] = []
        for checkpoint in way.checkpoints:
            for view, marks in way.seen.items():
                there = self._sights.get((view, checkpoint), {}).values()
                absent = [tuple(mark for mark in marks if mark not in sight.marks) for sight in there]
                if not absent:
                    lacking.append((view, checkpoint, ()))
                elif fewest := min(absent, key=len):
                    lacking.append((view, checkpoint, fewest))
        return lacking

    def _showing(self, checkpoint: Checkpoint, seen: Seen) -> list[int]:
        """The swings of which every view shows all its marks at a checkpoint."""
        key = (checkpoint, tuple(seen.items()))
        if key not in self._shown:
            self._shown[key] = self._search(checkpoint, seen)
        return self._shown[key]

    def _search(self, checkpoint: Checkpoint, seen: Seen) -> list[int]:
        by_view = [
            {n for n, sight in self._sights.get((view, checkpoint), {}).items() if sight.marks.keys() >= set(marks)}
            for view, marks in seen.items()
        ]
        return sorted(set.intersection(*by_view))

    def _pick(self, checkpoint: Checkpoint, seen: Seen, swing: int) -> list[Sight]:
        """The sights, one for each view, of the swing itself or of the first that shows all marks."""
        showing = self._showing(checkpoint, seen)
        chosen = swing if swing in showing else showing[0]
        return [self._sights[view, checkpoint][chosen] for view in seen]

    def _comparable(self, way: Way, swing: int) -> bool:
        """Whether places may be compared between the stills: not where the pictures of a view differ in size."""
        pairs = self.first_and_last(way, swing)
        return not way.compares_places or all(first.size == last.size for first, last in pairs)

    def _body(self, checkpoint: Checkpoint, seen: Seen, swing: int) -> Body:
        picked = self._pick(checkpoint, seen, swing)
        key = tuple((sight.view, sight.checkpoint, sight.swing) for sight in picked)
        if key not in self._built:
            if len(picked) == 1:
                self._built[key] = body_from_one(picked[0])
            else:
                self._built[key] = body_from_two(picked[0], picked[1], self._feet(picked))
        return self._built[key]

    def _feet(self, picked: Sequence[Sight]) -> Feet:
        """The feet at setup, so that all moments have the same planes; where no setup shows them those of the moment
        itself, otherwise the place where the pictures' centres point."""
        if self._showing("setup", BOTH):
            picked = self._pick("setup", BOTH, picked[0].swing)
        return feet_of(picked[0], picked[1]) or Feet(0.0, 0.0)
