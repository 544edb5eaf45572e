"""The shots that a lesson is about, and what club and ball did in them on average."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot, sqrt
from operator import attrgetter
from typing import NamedTuple

from reportgen.judging.shot_doubts import curve_of, face_to_path_of, ratio_of
from reportgen.judging.shot_groups import Group, by_spin_source, groups_of
from reportgen.measuring.ball import ARC, Figure, curve, loft_to_path, loft_to_path_at, low_point, low_point_at
from reportgen.measuring.shot_u import shot_u
from reportgen.measuring.typed import mean_and_sd
from reportgen.records.academy import ShotError
from reportgen.records.shot_remarks import ShotRemark
from reportgen.records.shot_table import UNIT_OF, Shot, ShotTable

LEAST = 5
"""Of fewer shots no average is told (own figure)."""


class Average(NamedTuple):
    """The mean of the `numbers` of a word, what they scatter by (`u_mean`, of the mean), and what the device gets wrong
    (`device`), which is alike in all shots and does not average out: standard uncertainties in the word's unit. The
    last is 0 where neither the table nor the academy gives a figure."""

    numbers: tuple[float, ...]
    mean: float
    u_mean: float
    device: float

    @property
    def u(self) -> float:
        """The standard uncertainty of the mean (JCGM 100:2008, 4.2.3)."""
        return hypot(self.u_mean, self.device)

    @property
    def of_device(self) -> Figure:
        """The mean, and what the device gets wrong."""
        return Figure(self.mean, self.device)


@dataclass(frozen=True)
class MainShots:
    """The shots of one club, ground and device, what is remarkable about the lesson's tables, and how sure numbers are:
    by the academy's `errors`, and by the maps of the shots' tables where these say it (`own`)."""

    group: Group
    remarks: tuple[ShotRemark, ...]
    errors: ShotError
    own: tuple[Mapping[str, float], ...]

    @cached_property
    def doubted(self) -> frozenset[str]:
        """Words whose side is in doubt, since columns of the device go against each other. Of an axis that goes against
        the curve the axis is doubted: the curve comes from places of landing."""
        found: set[str] = set()
        for remark in self.remarks:
            if remark.code == "sign doubted" and remark.device == self.group.device:
                found |= {"spin-axis"} if "spin-axis" in remark.words else set(remark.words)
        return frozenset(found | {"face-to-path"} if "face-angle" in found else found)

    @property
    def face_computed(self) -> bool:
        """Whether the device worked the face out from start and path, in all its shots or in these."""
        told = [remark for remark in self.remarks if remark.code == "face computed"]
        return any(
            remark.device == self.group.device
            and (remark.club is None or (remark.club, remark.surface) == (self.group.club, self.group.surface))
            for remark in told
        )

    @cached_property
    def averages(self) -> Mapping[str, Average]:
        """Of every word that is known of LEAST shots: those of a table, and those that follow from it (`FOLLOWS`); of
        spins those that were measured."""
        found: dict[str, Average] = {}
        for word in UNIT_OF:
            numbers = self._numbers(word)
            if len(numbers) >= LEAST:
                mean, sd = mean_and_sd(numbers)
                found[word] = Average(numbers, mean, sd / sqrt(len(numbers)), 0.0)
        means = {word.replace("-", "_"): one.mean for word, one in found.items() if word not in _DERIVED}
        like = self.group.shots[0].model_copy(update=means)
        for word in found:
            u = max(shot_u(word, like, self.errors, own) or 0.0 for own in self.own) if word not in _DERIVED else 0.0
            found[word] = found[word]._replace(device=u)
        for word, (needs, formula) in _DERIVED.items():
            if word in found and all(one in found for one in needs):
                found[word] = found[word]._replace(device=formula(*(found[one].of_device for one in needs)).u)
        return found

    def _numbers(self, word: str) -> tuple[float, ...]:
        shots: Sequence[Shot] = self.group.shots
        if word == "spin":
            spins = by_spin_source(shots)
            shots = spins.get("measured", ()) or spins.get(None, ())
        of_shot = _FOLLOWS.get(word, attrgetter(word.replace("-", "_")))
        return tuple([value for shot in shots if (value := of_shot(shot)) is not None])


def main_shots(
    tables: Sequence[ShotTable], club: str, errors: ShotError, remarks: Sequence[ShotRemark]
) -> MainShots | None:
    """The main shots of a lesson: those with its `club`, or else the most; None where it has no table."""
    group = max(groups_of(tables), key=lambda one: (one.club == club, len(one.shots)), default=None)
    if group is None:
        return None
    files = {shot.file for shot in group.shots}
    return MainShots(group, tuple(remarks), errors, tuple(table.u for table in tables if table.file in files))


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


def _loft_to_path(attack: Figure, loft: Figure, open_to_path: Figure) -> Figure:
    return loft_to_path(attack, loft, open_to_path, Figure(0.0, 0.0))


def _low_point(attack: Figure, plane: Figure) -> Figure:
    found = low_point(attack, plane)
    return Figure(100 * found.value, 100 * found.u)


_DERIVED: Mapping[str, tuple[tuple[str, ...], Callable[..., Figure]]] = {
    "curve": (("side", "carry", "start-direction"), curve),
    "loft-to-path": (("attack-angle", "dynamic-loft", "face-to-path"), _loft_to_path),
    "low-point": (("attack-angle", "swing-plane"), _low_point),
}
"""What follows from averages, by the words that it needs; how sure the mean is follows at these averages."""
