"""What a table of shots gives itself away by: signs that go against each other, a face that the device computed from
the ball, columns that do not agree within rounding. Facts alone; nothing is dropped for them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import atanh, fsum, hypot, sqrt

from reportgen.measuring.ball import off_start_line
from reportgen.records.shot_remarks import At, ShotRemark
from reportgen.records.shot_table import Shot, ShotTable

SHOTS_AT_LEAST = 8
"""Of fewer shots neither signs nor a computed face are told (own rule)."""
AGAINST = 2.33
"""From so many standard normal deviations below 0 (1 %, one-sided) a correlation says that a sign is wrong."""
FINEST = 0.1
"""Degrees: the coarsest step of a column that still tells a computed face. Twice a coarser one hides the scatter of a
face that was measured (own figure)."""
SPREAD = 3.0
"""So many times the bound of the residual must the start vary, or anything would explain it (own figure)."""
HIGHEST_SHOT_RATIO = 1.53
"""No single shot leaves the club faster than so many times the club: 1.50 from the mechanics of impact (see
measuring/speeds.py), and 0.03 for what two sensors get wrong."""

Steps = Mapping[str, Mapping[str, float]]
"""The steps of the last decimals of each file, by word."""


def curve_of(shot: Shot) -> float | None:
    """How far the ball landed from its start line, in m, + to the trail side. None where side, carry or start is not
    known."""
    if shot.side is None or shot.carry is None or shot.start_direction is None:
        return None
    return off_start_line(shot.side, shot.carry, shot.start_direction)


def face_to_path_of(shot: Shot) -> float | None:
    """Face angle − club path in degrees, + open to the path: as the table says it, or from the two."""
    if shot.face_to_path is not None:
        return shot.face_to_path
    return None if shot.face_angle is None or shot.club_path is None else shot.face_angle - shot.club_path


def sign_doubts(shots: Sequence[Shot], device: str | None) -> Iterator[ShotRemark]:
    """Pairs of columns of one device that go against each other: the ball starts to where the face looks, and curves to
    where its axis tilts and the face is open to the path (geometry of impact, for centred strikes)."""
    pairs = (
        (("start-direction", "face-angle"), [(shot.face_angle, shot.start_direction) for shot in shots]),
        (("spin-axis", "curve"), [(shot.spin_axis, curve_of(shot)) for shot in shots]),
        (("face-to-path", "curve"), [(face_to_path_of(shot), curve_of(shot)) for shot in shots]),
    )
    for words, numbers in pairs:
        both = [(one, other) for one, other in numbers if one is not None and other is not None]
        r = correlation(both) if len(both) >= SHOTS_AT_LEAST else None
        if r is not None and atanh(max(-0.999999, min(r, 0.999999))) * sqrt(len(both) - 3) < -AGAINST:
            yield ShotRemark(code="sign doubted", words=words, figures={"r": r, "shots": len(both)}, device=device)


def correlation(pairs: Sequence[tuple[float, float]]) -> float | None:
    """Pearson's correlation of pairs of numbers; None where one of the two never varies. Compared with 0 by Fisher's
    transformation, atanh(r) · √(n − 3), which is nearly standard normal (Fisher 1921; from memory)."""
    means = [fsum(pair[side] for pair in pairs) / len(pairs) for side in (0, 1)]
    xx = fsum((x - means[0]) ** 2 for x, _ in pairs)
    yy = fsum((y - means[1]) ** 2 for _, y in pairs)
    if not (xx > 0 and yy > 0):
        return None
    return min(1.0, fsum((x - means[0]) * (y - means[1]) for x, y in pairs) / sqrt(xx * yy))


def face_computed(shots: Sequence[Shot], steps: Steps) -> ShotRemark | None:
    """Whether the face angle of these shots was computed from start and path with fixed weights: then start = a · face
    + b · path holds in every shot to within twice the columns' last decimal, which no measured face does. Least squares
    without a constant. None where it was not, or where shots and decimals are too few to tell."""
    words = ("start-direction", "face-angle", "club-path")
    rows = [
        (shot.start_direction, shot.face_angle, shot.club_path, _step(shot, words, steps))
        for shot in shots
        if shot.start_direction is not None and shot.face_angle is not None and shot.club_path is not None
    ]
    if len(rows) < SHOTS_AT_LEAST:
        return None
    step = max(row[3] for row in rows)
    starts = [row[0] for row in rows]
    mean = fsum(starts) / len(starts)
    spread = sqrt(fsum((start - mean) ** 2 for start in starts) / (len(starts) - 1))
    weights = _weights([row[:3] for row in rows])
    if weights is None or step > FINEST * 1.001 or spread < SPREAD * 2 * step:
        return None
    residual = max(abs(start - weights[0] * face - weights[1] * path) for start, face, path, _ in rows)
    if residual > 2 * step:
        return None
    figures = {"face": weights[0], "path": weights[1], "residual": residual, "shots": len(rows)}
    return ShotRemark(code="face computed", words=words, figures=figures)


def _weights(rows: Sequence[tuple[float, float, float]]) -> tuple[float, float] | None:
    """a and b of start = a · face + b · path by least squares; None where face and path vary as one."""
    ff = fsum(face * face for _, face, _ in rows)
    pp = fsum(path * path for _, _, path in rows)
    fp = fsum(face * path for _, face, path in rows)
    sf = fsum(start * face for start, face, _ in rows)
    sp = fsum(start * path for start, _, path in rows)
    determinant = ff * pp - fp * fp
    if determinant <= 1e-9 * ff * pp:
        return None
    return (sf * pp - sp * fp) / determinant, (sp * ff - sf * fp) / determinant


def disagreements(tables: Iterable[ShotTable]) -> Iterator[ShotRemark]:
    """Columns that follow from each other and do not within rounding: units or columns are mixed up."""
    shots = [(shot, table.resolution) for table in tables for shot in table.shots]
    for code, words, off in (
        ("difference off", ("face-to-path", "face-angle", "club-path"), _difference_off),
        ("ratio off", ("speed-ratio", "ball-speed", "clubhead-speed"), _ratio_off),
        ("spins off", ("spin", "back-spin", "side-spin"), _spins_off),
    ):
        judged = []
        for shot, steps in shots:
            numbers = [number for word in words if (number := shot.number(word)) is not None]
            if len(numbers) == len(words):
                judged.append((shot, off(*numbers, *(steps.get(word, 0.0) / 2 for word in words))))
        if lines := [shot for shot, is_off in judged if is_off]:
            yield ShotRemark(code=code, words=words, figures={"shots": len(judged)}, at=at(lines))


def _difference_off(difference: float, face: float, path: float, *halves: float) -> bool:
    return abs(difference - (face - path)) > _ROUNDING * fsum(halves)


def _ratio_off(ratio: float, ball: float, club: float, of_ratio: float, of_ball: float, of_club: float) -> bool:
    return abs(ratio - ball / club) > _ROUNDING * (of_ratio + ball / club * (of_ball / ball + of_club / club))


def _spins_off(spin: float, back: float, side: float, *halves: float) -> bool:
    return abs(spin - hypot(back, side)) > _ROUNDING * fsum(halves)


_ROUNDING = 1.01
"""A hair above half a step for each column, for what a device rounds within."""


def too_high(shots: Iterable[Shot]) -> ShotRemark | None:
    """Shots whose ball is faster than any clubhead makes it."""
    high = [shot for shot in shots if (ratio := ratio_of(shot)) is not None and ratio > HIGHEST_SHOT_RATIO]
    if not high:
        return None
    return ShotRemark(
        code="ratio too high", words=("speed-ratio",), figures={"highest": HIGHEST_SHOT_RATIO}, at=at(high)
    )


def ratio_of(shot: Shot) -> float | None:
    """Ball speed over clubhead speed: as the table says it, or from the two."""
    if shot.speed_ratio is not None:
        return shot.speed_ratio
    return None if shot.ball_speed is None or shot.clubhead_speed is None else shot.ball_speed / shot.clubhead_speed


def at(shots: Iterable[Shot]) -> tuple[At, ...]:
    """The lines of shots."""
    return tuple(At(file=shot.file, line=shot.line) for shot in shots)


def _step(shot: Shot, words: Iterable[str], steps: Steps) -> float:
    return max(steps.get(shot.file, {}).get(word, 0.0) for word in words)
