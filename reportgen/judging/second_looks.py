"""What a second look at the same pictures tells of marking: still, visit and habit.

Two looks at one picture differ by what they do not share. One marker's two looks share the habit, so their difference
has still and visit in it; those of two markers have the habits of both too. Points of one landmark in one lesson share
what is of the day and of the person, as far as the landmark has it alike at all checkpoints (`COMMON`); what a still
has of its own does not hang together. So an analysis of variance of the differences, in groups of a lesson, a landmark
and an axis, tells them apart.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType
from typing import NamedTuple

from reportgen.judging.components import Analysis, Components, Deviation, analysis, deviation
from reportgen.measuring.blur import COMMON
from reportgen.records.base import Pixel
from reportgen.records.words import Mark

GROUPS_AT_LEAST = 12
"""Landmarks and axes that two looks must have in two pictures of a lesson, for anything to be said (own figure)."""


class Look(NamedTuple):
    """The points of a picture as `marker` set them (None: the instructor) at the `occasion`: looks are told apart and
    ordered by it. `lesson` is that of one player; `px_per_m` is the scale of the picture; `how` says of points how they
    came about, `hand` or `confirmed`, where that is known."""

    lesson: str
    picture: str
    occasion: str
    marker: str | None
    px_per_m: float
    points: Mapping[Mark, Pixel]
    how: Mapping[Mark, str] = MappingProxyType({})


class MarkingFigures(NamedTuple):
    """Standard deviations of one mark along one axis, in millimetres, None where the looks do not tell.

    `still` is besides a click of `click_px` pixels, `clicks` what a click would be, in pixels, if nothing else made a
    still. `visit` is of one marker's two looks; with `visit_known` False it stands as it was given, and `habit` is
    worked out with it. `pairs` counts the pictures that one marker saw twice, and those that two markers saw.
    """

    still: Deviation | None
    clicks: Deviation | None
    visit: Deviation | None
    habit: Deviation | None
    pairs: tuple[int, int]


def marking_figures(looks: Sequence[Look], click_px: float, visit_mm: float) -> MarkingFigures:
    """The figures of all looks. `visit_mm` counts in `habit` where nobody has looked at a picture twice."""
    same, others = list(_of_one_marker(looks)), list(_of_two_markers(looks))
    once, between = analysed(same), analysed(others)
    best, pairs = (once, same) if once else (between, others)
    pictures = len({a.picture for a, _ in same}), len({a.picture for a, _ in others})
    if best is None:
        return MarkingFigures(None, None, None, None, pictures)
    mm_a_pixel = _mean_square([1000 / a.px_per_m for a, b in pairs for _ in a.points.keys() & b.points.keys()])
    click = click_px**2 * mm_a_pixel

    def still(of: Sequence[Components]) -> float:
        return _half(of[0].within) - (1 - COMMON) / COMMON * max(0.0, _half(of[0].between)) - click

    def visit(of: Sequence[Components]) -> float:
        return _half(of[0].between) / COMMON

    def habit(of: Sequence[Components]) -> float:
        return _half(of[0].between) / COMMON - (max(0.0, visit(of[1:])) if once else visit_mm**2)

    return MarkingFigures(
        still=deviation(still, [best]),
        clicks=deviation(lambda of: (still(of) + click) / mm_a_pixel, [best]),
        visit=deviation(visit, [once]) if once else None,
        habit=deviation(habit, [between, *([once] if once else [])]) if between else None,
        pairs=pictures,
    )


def _half(of_a_difference: float) -> float:
    """A difference of two looks has the variance of both."""
    return of_a_difference / 2


def _mean_square(values: Sequence[float]) -> float:
    return sum(value**2 for value in values) / len(values)


def _of_one_marker(looks: Sequence[Look]) -> Iterator[tuple[Look, Look]]:
    """The two latest looks of each marker at each picture."""
    seen: dict[tuple[str, str | None], list[Look]] = defaultdict(list)
    for look in sorted(looks, key=lambda look: look.occasion):
        seen[look.picture, look.marker].append(look)
    for found in seen.values():
        yield from list(pairwise(found))[-1:]


def _of_two_markers(looks: Sequence[Look]) -> Iterator[tuple[Look, Look]]:
    """The latest looks at each picture of the two markers who saw it last, always in the same order."""
    latest: dict[str, dict[str | None, Look]] = defaultdict(dict)
    for look in sorted(looks, key=lambda look: look.occasion):
        latest[look.picture].pop(look.marker, None)
        latest[look.picture][look.marker] = look
    for found in latest.values():
        if len(found) > 1:
            one, other = sorted(list(found.values())[-2:], key=lambda look: look.marker or "")
            yield one, other


def analysed(pairs: Sequence[tuple[Look, Look]]) -> Analysis | None:
    """The analysis of the differences in millimetres; None where too few hang together."""
    groups: dict[tuple[str, str | None, Mark, int], list[float]] = defaultdict(list)
    for one, other in pairs:
        for mark in one.points.keys() & other.points.keys():
            for axis in (0, 1):
                apart = (other.points[mark][axis] - one.points[mark][axis]) * 1000 / one.px_per_m
                groups[one.lesson, other.marker, mark, axis].append(apart)
    if sum(len(group) > 1 for group in groups.values()) < GROUPS_AT_LEAST:
        return None
    return analysis([groups[key] for key in sorted(groups, key=str)])
