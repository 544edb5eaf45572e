"""The shots that a lesson is about, and what club and ball did in them on average."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import fsum
from operator import attrgetter

from reportgen.judging.shot_doubts import curve_of, face_to_path_of, ratio_of, sign_doubts
from reportgen.judging.shot_groups import Group, by_device, by_spin_source, groups_of
from reportgen.measuring.ball import ARC, Figure, curve, loft_to_path, loft_to_path_at, low_point, low_point_at
from reportgen.measuring.shot_u import shot_u
from reportgen.records.academy import ShotError
from reportgen.records.shot_table import Shot, ShotTable

LEAST = 5
"""Of fewer shots no average is told (own figure)."""


@dataclass(frozen=True)
class MainShots:
    """The shots of one club, ground and device, all shots of that device, the steps of the last decimals of the files,
    and how sure numbers are: by the academy's `errors`, and by file where a table's map says it (`own`)."""

    group: Group
    of_device: tuple[Shot, ...]
    steps: Mapping[str, Mapping[str, float]]
    errors: ShotError
    own: Mapping[str, Mapping[str, float]]

    @cached_property
    def doubted(self) -> frozenset[str]:
        """Words whose side is in doubt, since columns of the device go against each other. Of an axis that goes against
        the curve the axis is doubted: the curve comes from places of landing."""
        found: set[str] = set()
        for doubt in sign_doubts(self.of_device, None):
            found |= {"spin-axis"} if "spin-axis" in doubt.words else set(doubt.words)
        return frozenset(found | {"face-to-path"} if "face-angle" in found else found)

    def numbers(self, word: str) -> list[float]:
        """What the shots have for a word of a table, or for one that follows from it (`FOLLOWS`); of spins those that
        were measured."""
        shots: Sequence[Shot] = self.group.shots
        if word == "spin":
            spins = by_spin_source(shots)
            shots = spins.get("measured", ()) or spins.get(None, ())
        of_shot = _FOLLOWS.get(word, attrgetter(word.replace("-", "_")))
        return [value for shot in shots if (value := of_shot(shot)) is not None]

    def mean(self, word: str) -> float | None:
        """The mean of these numbers; None where there is none."""
        found = self.numbers(word)
        return fsum(found) / len(found) if found else None

    def average(self, word: str) -> Figure:
        """The mean, and the device's standard uncertainty of one such shot: that of the least sure table. It is 0 where
        neither the table nor the academy gives a figure."""
        if word in _DERIVED:
            return Figure(self.mean(word) or 0.0, _DERIVED[word](self).u)
        mean = {word: self.mean(word), "carry": self.mean("carry")}
        words = {name.replace("-", "_"): value for name, value in mean.items()}
        like = self.group.shots[0].model_copy(update=words)
        own = {shot.file: self.own.get(shot.file, {}) for shot in self.group.shots}
        u = max(shot_u(word, like, self.errors, of_file) or 0.0 for of_file in own.values())
        return Figure(mean[word] or 0.0, u)


def main_shots(tables: Sequence[ShotTable], club: str, errors: ShotError) -> MainShots | None:
    """The main shots of a lesson: those with its `club`, or else the most; None where it has no table."""
    groups = groups_of(tables)
    group = max(groups, key=lambda one: (one.club == club, len(one.shots)), default=None)
    if group is None:
        return None
    steps, own = {table.file: table.resolution for table in tables}, {table.file: table.u for table in tables}
    return MainShots(group, by_device(groups)[group.device], steps, errors, own)


FLATTEST = 20.0
"""Degrees: a swing plane that is less steep is a slip of the device (own figure; a driver's is 45 to 50, read
second-hand)."""


def _loft_to_path_of(shot: Shot) -> float | None:
    open_to_path = face_to_path_of(shot)
    if shot.attack_angle is None or shot.dynamic_loft is None or open_to_path is None:
        return None
    return loft_to_path_at(shot.attack_angle, shot.dynamic_loft, open_to_path)


def _low_point_of(shot: Shot) -> float | None:
    """In cm. None too where the plane is so flat that the arc has no low point near the ball."""
    if shot.attack_angle is None or shot.swing_plane is None or shot.swing_plane < FLATTEST:
        return None
    return 100 * low_point_at(shot.attack_angle, shot.swing_plane, ARC.value)


_FOLLOWS: Mapping[str, Callable[[Shot], float | None]] = {
    "face-to-path": face_to_path_of,
    "curve": curve_of,
    "speed-ratio": ratio_of,
    "loft-to-path": _loft_to_path_of,
    "low-point": _low_point_of,
}


def _curve_of_mean(of: MainShots) -> Figure:
    return curve(of.average("side"), of.average("carry"), of.average("start-direction"))


def _loft_to_path_of_mean(of: MainShots) -> Figure:
    attack, loft, open_to_path = map(of.average, ("attack-angle", "dynamic-loft", "face-to-path"))
    return loft_to_path(attack, loft, open_to_path, Figure(0.0, 0.0))


def _low_point_of_mean(of: MainShots) -> Figure:
    found = low_point(of.average("attack-angle"), of.average("swing-plane"))
    return Figure(100 * found.value, 100 * found.u)


_DERIVED: Mapping[str, Callable[[MainShots], Figure]] = {
    "curve": _curve_of_mean,
    "loft-to-path": _loft_to_path_of_mean,
    "low-point": _low_point_of_mean,
}
