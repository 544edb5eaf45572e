"""The view from above: how far hips and shoulders have turned, at the top and at impact."""

from math import cos, hypot, radians, sin

from reportgen.drawing.labels import short_amount
from reportgen.drawing.placing import spread
from reportgen.drawing.plate import Look, Plate, ring_part
from reportgen.drawing.saving import Drawing, to_drawing, to_png
from reportgen.drawing.style import COLOURS, EDGE, HAIR, INK, LINE, MUTED, NAME, PAPER, RANGE, RULE, SMALL
from reportgen.records.told import ToldFinding
from reportgen.records.words import Side
from reportgen.saying.charts import label_of, limits_of, of_plans

PLAN_WIDTH, HEIGHT = 162.0, 117.0
SHOULDERS, HIPS = 34.0, 26.0
"""Half the length of the two lines, in points."""
CENTRE: dict[Side, tuple[float, float]] = {"right": (40.0, 61.0), "left": (40.0, 42.0)}
"""The middle of the body in a plan; the turn is about it."""
BALL_TOWARD: dict[Side, int] = {"right": -1, "left": 1}
"""Down or up: with the target to the right, whoever plays right-handed has the ball below, as in a face-on picture."""
TO_BALL = 45.0
"""From the middle of the body to the target line, in points."""
LABELS_FROM = CENTRE["right"][0] + SHOULDERS + 12

Line = tuple[str, ToldFinding]
Plan = tuple[str, list[Line]]

_PLANS = (
    ("At the top", "pelvis-closed-top", "thorax-closed-top", 1),
    ("At impact", "pelvis-open-impact", "thorax-open-impact", -1),
)
"""Title, metric of the hips, metric of the shoulders, and the sign that makes both a turn of the lead side toward the
ball: closed is."""
_SIGNS = {metric: sign for _, hips, shoulders, sign in _PLANS for metric in (hips, shoulders)}


def from_above(findings: tuple[ToldFinding, ...], plays: Side, *, tall: bool = False) -> Drawing | None:
    """Hip line and shoulder line against the target line, 2.25 inch wide for each moment; None without any.

    The target is to the right, and the ball where it then is for somebody who `plays` right- or left-handed. The
    moments stand side by side, or below each other where `tall`.
    """
    plans = plans_of(findings)
    return to_drawing(from_above_plate(plans, plays, tall), of_plans(plans)) if plans else None


def from_above_png(findings: tuple[ToldFinding, ...], plays: Side) -> bytes | None:
    """The view from above as PNG; None where nothing of it was measured."""
    plans = plans_of(findings)
    return to_png(from_above_plate(plans, plays)) if plans else None


def plans_of(findings: tuple[ToldFinding, ...]) -> list[Plan]:
    """For each moment with a measured line its title and its lines, hips first."""
    by_metric = {finding.metric: finding for finding in findings}
    plans = []
    for title, hips, shoulders, _ in _PLANS:
        lines = [
            (name, by_metric[metric])
            for name, metric in (("hips", hips), ("shoulders", shoulders))
            if metric in by_metric
        ]
        if lines:
            plans.append((title, lines))
    return plans


def from_above_plate(plans: list[Plan], plays: Side, tall: bool = False) -> Plate:
    """The plans as drawn, side by side or below each other."""
    across, down = (1, len(plans)) if tall else (len(plans), 1)
    plate = Plate.blank(PLAN_WIDTH * across, HEIGHT * down)
    for k, (title, lines) in enumerate(plans):
        left, bottom = (0.0, HEIGHT * (down - 1 - k)) if tall else (PLAN_WIDTH * k, 0.0)
        _plan(plate, left, bottom, title, lines, plays)
    return plate


def _plan(plate: Plate, left: float, bottom: float, title: str, lines: list[Line], plays: Side) -> None:
    x, y, up = left + CENTRE[plays][0], bottom + CENTRE[plays][1], BALL_TOWARD[plays]
    plate.label((left + 3, bottom + HEIGHT - 11), label_of(title), NAME, INK, weight="semibold")
    _ground(plate, x, y, left, up)
    for name, finding in lines:
        if name == "hips":
            _range(plate, x, y, finding, up)
    reaches = [_reach(name, finding, up) for name, finding in lines]
    for (name, finding), (dx, dy) in zip(lines, reaches, strict=True):
        ends = [(x - dx, y - dy), (x + dx, y + dy)]
        width = 5 if name == "hips" else LINE
        # The thin line has a rim of paper, so that it is still seen where it lies on the thick one.
        plate.line(ends, PAPER, width + 1.2)
        plate.line(ends, COLOURS[finding.verdict], width, cap="round")
    leads = [(x + dx, y + dy) for dx, dy in reaches]
    for (name, finding), lead in zip(lines, leads, strict=True):
        plate.rings([lead], 8.4 if name == "hips" else 5, PAPER, HAIR, fill=COLOURS[finding.verdict])
    line = y + up * TO_BALL
    low, high = (bottom, line - 4) if up > 0 else (line + 4, bottom + HEIGHT - 16)
    _labels(plate, leads, left + LABELS_FROM, low, high, lines)


def _reach(name: str, finding: ToldFinding, up: int) -> tuple[float, float]:
    """From the middle of the body to the lead end of the line."""
    angle = radians(_SIGNS[finding.metric] * finding.level.value)
    length = HIPS if name == "hips" else SHOULDERS
    return length * cos(angle), up * length * sin(angle)


def _ground(plate: Plate, x: float, y: float, left: float, up: int) -> None:
    """The target line with ball and arrow, and two feet with their toes toward it."""
    end, line = left + PLAN_WIDTH - 14, y + up * TO_BALL
    plate.line([(left + 4, line), (end - 3, line)], MUTED, HAIR)
    plate.arrow_head(end, line, MUTED, "right")
    plate.label((end, line + (4.5 if up > 0 else -10.5)), label_of("target"), SMALL, align="right")
    plate.rings([(x + 3, line)], 6, INK, LINE)
    foot(plate, x + 20, y - 3 * up, 18, up)
    foot(plate, x - 20, y - 3 * up, 4, up)


def foot(plate: Plate, x: float, y: float, turned_out: float, up: int) -> None:
    """The outline of a shoe with its toes toward the ball, turned toward the target by some degrees."""
    half = [(0, 15), (4.6, 15), (6.6, 8), (5.4, 1), (4.4, -4), (5.2, -13), (0, -13)]
    shoe = [*half, *((-px, py) for px, py in reversed(half[:-1]))]
    c, s = cos(radians(-turned_out)), sin(radians(-turned_out))
    plate.curve([(x + px * c - py * s, y + up * (px * s + py * c)) for px, py in shoe], RULE, HAIR)


def _range(plate: Plate, x: float, y: float, finding: ToldFinding, up: int) -> None:
    """The range of the hips as an arc beyond the end of their line; an open side runs on for 40 degrees."""
    band = finding.band
    limits = limits_of(finding)
    if band is None or not limits:
        return
    low = limits[0] if band.low is not None else limits[0] - 40
    high = limits[-1] if band.high is not None else limits[-1] + 40
    sign = up * _SIGNS[finding.metric]
    first, last = sorted((sign * low, sign * high))
    inner, outer = HIPS + 4.6, HIPS + 10.6
    look = Look(edge=EDGE, width=HAIR) if band.context else Look(fill=RANGE)
    plate.polygon(ring_part(x, y, inner, outer, first, last), look)
    for limit in limits:
        angle = radians(sign * limit)
        plate.line([(x + r * cos(angle), y + r * sin(angle)) for r in (inner, outer)], EDGE, LINE)


def _labels(
    plate: Plate, ends: list[tuple[float, float]], column: float, low: float, high: float, lines: list[Line]
) -> None:
    """Labels in a column beside the body, in the order of the ends that they name, each with a thin leader."""
    middles = spread([end[1] for end in ends], [26] * len(ends), low, high)
    for (name, finding), end, middle in zip(lines, ends, middles, strict=True):
        across, up = column - 3 - end[0], middle - end[1]
        share = 6 / hypot(across, up)
        plate.line([(end[0] + share * across, end[1] + share * up), (column - 3, middle)], RULE, HAIR)
        plate.mark(column + 3, middle + 4.6, finding.verdict, 0.8)
        colour = COLOURS[finding.verdict]
        said = short_amount(finding, finding.sign, finding.level.value, NAME, PLAN_WIDTH - LABELS_FROM - 10)
        plate.label((column + 9, middle + 1.8), said, NAME, colour, weight="semibold")
        plate.label((column + 9, middle - 9), label_of(name), SMALL)
