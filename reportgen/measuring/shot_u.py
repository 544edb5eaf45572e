"""How sure one number of one shot is."""

from collections.abc import Callable, Mapping
from math import hypot
from operator import attrgetter

from reportgen.records.academy import ShotError
from reportgen.records.shot_table import Shot


def shot_u(word: str, shot: Shot, errors: ShotError, own: Mapping[str, float]) -> float | None:
    """The standard uncertainty of what a shot has for a word, in the word's unit: that of the column (`own`), or the
    academy's `errors`. None where the shot has no such number, or where neither gives a figure (speeds and their ratio
    have those of their metrics).

    Of a face to path it is that of face and path, independent of each other; of the side a share of the carry, since
    what a device measures is a direction.
    """
    value = shot.number(word)
    if value is None:
        return None
    if word in own:
        return own[word]
    if word == "side":
        return None if shot.carry is None else errors.side_percent / 100 * shot.carry
    if word == "face-to-path":
        return hypot(own.get("face-angle", errors.face_deg), own.get("club-path", errors.path_deg))
    return device_u(word, value, errors)


def device_u(word: str, value: float, errors: ShotError) -> float | None:
    """The standard uncertainty that the academy's `errors` give one number of a word, or of the loft to path, in its
    unit, where nothing else of the shot is known; None where they give none."""
    if word == "face-to-path":
        return hypot(errors.face_deg, errors.path_deg)
    if word == "loft-to-path":
        return hypot(errors.loft_deg, errors.attack_deg)
    if word in _PERCENT:
        return _PERCENT[word](errors) / 100 * abs(value)
    return _FIXED[word](errors) if word in _FIXED else None


_FIXED: Mapping[str, Callable[[ShotError], float]] = {
    "start-direction": attrgetter("start_deg"),
    "launch-angle": attrgetter("launch_deg"),
    "face-angle": attrgetter("face_deg"),
    "club-path": attrgetter("path_deg"),
    "attack-angle": attrgetter("attack_deg"),
    "dynamic-loft": attrgetter("loft_deg"),
    "swing-plane": attrgetter("plane_deg"),
    "spin-axis": attrgetter("axis_deg"),
    "strike-across": attrgetter("strike_mm"),
    "strike-up": attrgetter("strike_mm"),
}
_PERCENT: Mapping[str, Callable[[ShotError], float]] = {
    "spin": attrgetter("spin_percent"),
    "back-spin": attrgetter("spin_percent"),
    "carry": attrgetter("carry_percent"),
    "height": attrgetter("height_percent"),
}
