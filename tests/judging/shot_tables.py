"""Shots drawn as a ball flies, for tests of what a table gives itself away by. Every number is invented."""

from collections.abc import Sequence
from math import radians, tan
from random import Random
from typing import Any

from reportgen.records.shot_table import Shot, ShotTable

FILE = "students/mara-l/shots.csv"
WEIGHT = 0.8
"""How much of the start is the face's; the rest is the path's."""


def drawn(
    n: int, seed: int, *, noise: float = 0.8, computed: bool = False, places: int = 1, **signs: float
) -> list[dict[str, Any]]:
    """`n` shots of one player. The face is measured with that much noise in degrees, or `computed` from start and path;
    numbers have so many decimals; `signs` turns columns over (`spin_axis=-1`, say)."""
    chance = Random(seed)
    shots = []
    for _ in range(n):
        path, face = chance.gauss(-3, 2), chance.gauss(1, 2.5)
        start = WEIGHT * face + (1 - WEIGHT) * path + chance.gauss(0, 0.3)
        axis = 2.5 * (face - path) + chance.gauss(0, 3)
        carry = chance.gauss(150, 8)
        seen = (start - (1 - WEIGHT) * path) / WEIGHT if computed else face + chance.gauss(0, noise)
        numbers = {
            "start_direction": start,
            "face_angle": seen,
            "club_path": path,
            "spin_axis": axis,
            "carry": carry,
            "side": carry * tan(radians(start)) + 0.0085 * carry * axis + chance.gauss(0, 3),
        }
        shots.append({name: round(signs.get(name, 1) * value, places) for name, value in numbers.items()})
    return shots


def table(shots: Sequence[dict[str, Any]], places: int = 1, file: str = FILE, **more: Any) -> ShotTable:
    """A table of these shots, from line 2 on; a shot is with a 7-iron where it does not say otherwise."""
    return ShotTable(
        file=file,
        shots=tuple(
            Shot(**{"file": file, "line": line, "club": "7-iron", **shot}) for line, shot in enumerate(shots, 2)
        ),
        resolution={name.replace("_", "-"): 10.0**-places for shot in shots for name in shot},
        **more,
    )
