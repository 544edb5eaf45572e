"""What two looks at the same pictures tell: looks drawn as the program declares marking to be. All seeds are fixed."""

import numpy as np
import pytest

from reportgen.judging.second_looks import Look, marking_figures
from reportgen.measuring.blur import COMMON

MARKS = (
    "lead-hip", "trail-hip", "lead-knee", "trail-knee", "lead-ankle", "trail-ankle", "lead-shoulder", "trail-shoulder",
    "neck", "lead-heel", "trail-heel", "head",
)  # fmt: skip
PX_PER_M = 500.0
CLICK_PX = 3.0


def shared(random, sd, lessons, checkpoints):
    """Millimetres of each lesson, checkpoint, mark and axis, half of the variance alike at all checkpoints."""
    common = random.normal(0, sd * COMMON**0.5, (lessons, 1, len(MARKS), 2))
    return common + random.normal(0, sd * (1 - COMMON) ** 0.5, (lessons, checkpoints, len(MARKS), 2))


def looks(random, who, habit=10.0, visit=5.0, still=4.0, lessons=3, checkpoints=4):
    """Looks at twelve pictures, one after another, by these markers."""
    shape = (lessons, checkpoints, len(MARKS), 2)
    habits = {marker: shared(random, habit, lessons, checkpoints) for marker in sorted(set(who), key=str)}
    found = []
    for number, marker in enumerate(who):
        click = random.normal(0, CLICK_PX * 1000 / PX_PER_M, shape)
        off = habits[marker] + shared(random, visit, lessons, checkpoints) + random.normal(0, still, shape) + click
        for lesson, checkpoint in np.ndindex(lessons, checkpoints):
            places = 300 + off[lesson, checkpoint] * PX_PER_M / 1000
            points = {mark: tuple(place) for mark, place in zip(MARKS, places, strict=True)}
            found.append(Look(f"l{lesson}", f"l{lesson}-{checkpoint}", str(number), marker, PX_PER_M, points))
    return found


def figures(of, visit_mm=5.0):
    return marking_figures(of, CLICK_PX, visit_mm)


def root_mean_square(found):
    return np.mean([one.sd**2 for one in found]) ** 0.5


@pytest.fixture(scope="module")
def of_three_looks():
    """The figures of 60 academies, of two looks by the instructor and one by somebody else."""
    random = np.random.default_rng(2)
    return [figures(looks(random, [None, None, "Ada"])) for _ in range(60)]


@pytest.mark.parametrize(("name", "true"), [("still", 4), ("visit", 5), ("habit", 10)])
def test_three_looks_give_still_visit_and_habit_back(of_three_looks, name, true):
    assert root_mean_square([getattr(one, name) for one in of_three_looks]) == pytest.approx(true, rel=0.15)


@pytest.mark.parametrize(("name", "true"), [("still", 4), ("visit", 5), ("habit", 10)])
def test_the_intervals_hold_the_true_figures_19_times_in_20(of_three_looks, name, true):
    """Over 400 academies they hold 95 to 98 of 100; 60 can tell 95 from below 88."""
    intervals = [getattr(one, name) for one in of_three_looks]
    assert np.mean([one.low <= true <= one.high for one in intervals]) >= 0.88


def test_one_marker_alone_says_nothing_of_habit():
    found = figures(looks(np.random.default_rng(3), [None, None]))
    assert found.habit is None
    assert found.visit is not None
    assert found.pairs == (12, 0)


def test_two_markers_alone_say_habit_with_the_visit_that_was_given():
    once = looks(np.random.default_rng(4), [None, "Ada"])
    small, large = figures(once, visit_mm=2).habit, figures(once, visit_mm=8).habit
    assert figures(once).visit is None
    assert small.sd**2 - large.sd**2 == pytest.approx(8**2 - 2**2)


def test_one_look_says_nothing():
    assert figures(looks(np.random.default_rng(5), [None])) == (None, None, None, None, (0, 0))


def test_a_single_picture_of_each_lesson_says_nothing():
    assert figures(looks(np.random.default_rng(6), [None, None], checkpoints=1)).still is None


def test_a_hand_surer_than_a_click_leaves_nothing_for_the_still():
    """Marks that differ by 1 pixel each: 2 mm, of which a click of 3 pixels would already make 6."""
    random, shape = np.random.default_rng(7), (3, 4, len(MARKS), 2)
    first = looks(random, [None], habit=0, visit=0, still=0)
    off = random.normal(0, 1.0, shape).reshape(12, len(MARKS), 2)
    true = [dict.fromkeys(MARKS, (300.0, 300.0))] * 12
    one = [look._replace(points=points) for look, points in zip(first, true, strict=True)]
    two = [
        look._replace(
            occasion="1", points={mark: tuple(300 + place) for mark, place in zip(MARKS, places, strict=True)}
        )
        for look, places in zip(first, off, strict=True)
    ]
    found = figures([*one, *two])
    assert found.still.sd == 0
    assert found.clicks.sd == pytest.approx(2**-0.5, rel=0.15)


def test_the_latest_two_looks_of_a_marker_count():
    random = np.random.default_rng(8)
    three = looks(random, [None, None, None])
    assert figures(three) == figures([look for look in three if look.occasion != "0"])
