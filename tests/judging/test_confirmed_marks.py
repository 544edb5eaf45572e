"""Points that were proposed and confirmed beside points set by hand, in second looks drawn as marking is declared."""

import numpy as np
import pytest

from reportgen.judging.confirmed_marks import confirmed_marks
from tests.judging.test_second_looks import MARKS, PX_PER_M, looks

CONFIRMED = MARKS[::2]


def of_both_kinds(seed: int, lean: float = 0.0, scatter: float = 0.0):
    """Two looks of three lessons. In the first, every other landmark was confirmed: all its points of a lesson off by
    the same `lean`, and each by a `scatter` of its own, root mean squares in millimetres."""
    random = np.random.default_rng(seed)
    first, second = looks(random, [None]), looks(random, [None])
    shared = {(f"l{lesson}", mark): random.normal(0, lean, 2) for lesson in range(3) for mark in CONFIRMED}
    found = []
    for look in first:
        drawn = {mark: shared[look.lesson, mark] + random.normal(0, scatter, 2) for mark in CONFIRMED}
        moved = {mark: tuple(look.points[mark] + off * PX_PER_M / 1000) for mark, off in drawn.items()}
        how = {mark: "confirmed" if mark in CONFIRMED else "hand" for mark in MARKS}
        found.append(look._replace(occasion="", points=look.points | moved, how=how))
    return confirmed_marks([*found, *(look._replace(occasion="1") for look in second)])


def test_points_that_lean_are_found_to_lean():
    found = [of_both_kinds(seed, lean=20.0) for seed in range(12)]
    assert np.mean([one.lean.more for one in found]) > 0.8
    assert np.mean([one.scatter.more for one in found]) < 0.2


def test_points_that_scatter_are_found_to_scatter():
    found = [of_both_kinds(seed, scatter=16.0) for seed in range(12)]
    assert np.mean([one.scatter.more for one in found]) > 0.8
    assert np.mean([one.lean.more for one in found]) < 0.2


def test_where_nothing_is_different_little_is_found():
    """One in 20 by the level that is asked for; 24 academies show no more than 15 of 100."""
    found = [of_both_kinds(seed) for seed in range(100, 124)]
    assert np.mean([one.scatter.more for one in found]) <= 0.15
    assert np.mean([one.lean.more for one in found]) <= 0.15


def test_the_root_mean_squares_are_those_that_were_drawn():
    """Of a difference of two looks: what was added of the confirmed ones, beside what both kinds have."""
    found = [of_both_kinds(seed, lean=20.0, scatter=16.0) for seed in range(12)]
    squares = {part: np.mean([[b.confirmed**2, b.hand**2] for b in (getattr(one, part) for one in found)], axis=0)
               for part in ("scatter", "lean")}  # fmt: skip
    assert np.sqrt(np.subtract(*squares["scatter"])) == pytest.approx(16.0, rel=0.15)
    assert np.sqrt(np.subtract(*squares["lean"])) == pytest.approx(20.0, rel=0.15)


def test_points_that_do_not_say_how_they_came_about_count_in_neither():
    random = np.random.default_rng(3)
    found = confirmed_marks(looks(random, [None, None]))
    assert (found.confirmed, found.hand, found.scatter) == (0, 0, None)


def test_the_first_look_is_held_against_the_same_markers_later_one():
    random = np.random.default_rng(4)
    first, other, own = (looks(random, [who])[0] for who in (None, "Ada", None))
    how = dict.fromkeys(MARKS, "confirmed")
    seen = [first._replace(occasion="", how=how), own._replace(occasion="1"), other._replace(occasion="2")]
    assert confirmed_marks(seen).confirmed == len(MARKS)
    few = [seen[0], own._replace(occasion="1", points={"neck": (1.0, 1.0)}), seen[2]]
    assert confirmed_marks(few).confirmed == 1
