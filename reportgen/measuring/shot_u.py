"""How sure one number of one shot is."""

from collections.abc import Mapping
from math import hypot

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
    fixed = {
        "start-direction": errors.start_deg,
        "launch-angle": errors.launch_deg,
        "face-angle": errors.face_deg,
        "club-path": errors.path_deg,
        "face-to-path": hypot(own.get("face-angle", errors.face_deg), own.get("club-path", errors.path_deg)),
        "attack-angle": errors.attack_deg,
        "dynamic-loft": errors.loft_deg,
        "swing-plane": errors.plane_deg,
        "spin-axis": errors.axis_deg,
        "strike-across": errors.strike_mm,
        "strike-up": errors.strike_mm,
    }
    percent = {
        "spin": errors.spin_percent,
        "back-spin": errors.spin_percent,
        "carry": errors.carry_percent,
        "height": errors.height_percent,
    }
    if word in percent:
        return percent[word] / 100 * abs(value)
    return fixed.get(word)
