"""Labels that come too close move apart, as little as they can."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from reportgen.drawing.placing import spread


def test_labels_with_room_stay_where_they_are() -> None:
    assert spread([10, 50], [8, 8], 0, 100) == [10, 50]


def test_two_labels_at_one_place_part_by_equal_steps() -> None:
    assert spread([50, 50], [10, 10], 0, 100) == [45, 55]


def test_the_order_given_does_not_matter() -> None:
    assert spread([52, 50], [10, 10], 0, 100) == [56, 46]


def test_a_crowd_at_the_edge_moves_inward() -> None:
    assert spread([98, 99], [10, 10], 0, 100) == [85, 95]


@given(st.lists(st.tuples(st.floats(-50, 150), st.floats(1, 12)), min_size=1, max_size=8))
def test_labels_never_overlap_and_stay_within(labels: list[tuple[float, float]]) -> None:
    wanted, sizes = [w for w, _ in labels], [s for _, s in labels]
    placed = sorted(zip(spread(wanted, sizes, 0, 100), sizes, strict=True))
    assert placed[0][0] - placed[0][1] / 2 >= -1e-9
    assert placed[-1][0] + placed[-1][1] / 2 <= 100 + 1e-9
    for (first, size), (second, size2) in pairwise(placed):
        assert second - first >= (size + size2) / 2 - 1e-9
