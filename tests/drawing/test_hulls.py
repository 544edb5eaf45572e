"""The outline of discs is that of a general-purpose hull of points on their rims."""

from math import cos, hypot, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from reportgen.drawing.hulls import Arc, outline

DISCS = st.lists(
    st.tuples(st.floats(-50, 50), st.floats(-50, 50), st.floats(0.5, 20)), min_size=1, max_size=5, unique=True
)


def along(arcs: list[Arc]) -> list[tuple[float, float]]:
    """Places close to each other on an outline."""
    places = []
    for arc in arcs:
        first, last = arc.turns
        for step in range(61):
            angle = radians(first + (last - first) * step / 60)
            places.append((arc.centre[0] + arc.radius * cos(angle), arc.centre[1] + arc.radius * sin(angle)))
    return places


def area(places: list[tuple[float, float]]) -> float:
    pairs = zip(places, [*places[1:], places[0]], strict=True)
    return sum(x * v - u * y for (x, y), (u, v) in pairs) / 2


@given(DISCS)
def test_it_holds_as_much_as_the_hull_of_their_rims(discs: list[tuple[float, float, float]]) -> None:
    turns = np.linspace(0, 2 * pi, 720, endpoint=False)
    rims = np.array([(x + r * np.cos(a), y + r * np.sin(a)) for x, y, r in discs for a in turns])
    assert area(along(outline(discs))) == pytest.approx(ConvexHull(rims).volume, rel=2e-3)


@given(DISCS)
def test_it_runs_from_the_end_of_each_arc_to_the_start_of_the_next_without_a_corner(
    discs: list[tuple[float, float, float]],
) -> None:
    for arc, then in zip(arcs := outline(discs), [*arcs[1:], arcs[0]], strict=True):
        assert arc.turns[1] % 360 == pytest.approx(then.turns[0] % 360, abs=1e-6) or abs(
            abs(arc.turns[1] - then.turns[0]) % 360
        ) == pytest.approx(0, abs=1e-6)
        assert hypot(arc.start[0] - arc.centre[0], arc.start[1] - arc.centre[1]) == pytest.approx(arc.radius)


def test_a_disc_within_another_leaves_a_circle() -> None:
    assert {arc.centre for arc in outline([(0, 0, 10), (2, 1, 3)])} == {(0, 0)}
