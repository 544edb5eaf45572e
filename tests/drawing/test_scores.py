"""The scores of rounds over time."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportgen.drawing import scores
from reportgen.drawing.plate import Disc, Label
from reportgen.drawing.saving import to_figure
from reportgen.drawing.scores import scores_plate
from reportgen.drawing.style import INK, PAPER
from reportgen.records.aims import PlayedRound
from reportgen.records.report import Scores
from reportgen.records.told import ToldScores
from reportgen.saying.aims import told_scores

FIRST = date(2026, 4, 3)


def told(strokes: list[int], days: list[int] | None = None, competitions: tuple[int, ...] = ()) -> ToldScores:
    days = days or [7 * k for k in range(len(strokes))]
    rounds = [
        PlayedRound(date=FIRST + timedelta(days=day), score=score, competition=k in competitions)
        for k, (score, day) in enumerate(zip(strokes, days, strict=True))
    ]
    return told_scores(Scores(holes=18, rounds=tuple(rounds)))


def _discs(plate: Any) -> list[Disc]:
    return [part for part in plate.drawn if isinstance(part, Disc)]


def test_labels_are_the_fewest_and_the_most_strokes_the_last_score_and_some_dates() -> None:
    plate = scores_plate(told([96, 91, 98, 93]), small=False)
    assert [part.text for part in plate.drawn if isinstance(part, Label)] == [
        "91", "98", "93", "3 Apr", "10 Apr", "24 Apr",
    ]  # fmt: skip


def test_more_strokes_stand_higher() -> None:
    heights = [disc.centre[1] for disc in _discs(scores_plate(told([96, 91, 98]), small=False))]
    assert heights[1] < heights[0] < heights[2]


def test_dates_are_to_scale() -> None:
    first, second, third = (d.centre[0] for d in _discs(scores_plate(told([90, 90, 90], [0, 10, 40]), small=False)))
    assert (third - first) / (second - first) == pytest.approx(4)


def test_a_competition_is_filled_and_any_other_round_is_a_ring() -> None:
    ring, filled = _discs(scores_plate(told([96, 91], competitions=(1,)), small=False))
    assert (ring.look.fill, filled.look.fill) == (PAPER, INK)


def test_a_stroke_or_two_is_no_cliff() -> None:
    def apart(*strokes: int) -> float:
        first, second = (disc.centre[1] for disc in _discs(scores_plate(told([*strokes]), small=False)))
        return abs(first - second)

    assert apart(92, 90) < apart(101, 90) / 4


def test_months_without_a_round_are_dotted() -> None:
    def dotted(days: list[int]) -> int:
        artists = to_figure(scores_plate(told([96, 91, 93], days), small=False)).artists
        return sum(artist.get_linestyle() not in ("-", "solid") for artist in artists)

    assert dotted([0, 30, 60]) == 0
    assert dotted([0, 30, 200]) == 1


def test_the_picture_says_in_words_what_it_shows() -> None:
    drawn = scores(told([96, 91], competitions=(0,)))
    assert drawn.alt == told([96, 91], competitions=(0,)).says
    assert f"<title>{drawn.alt}</title>" in drawn.svg


@settings(max_examples=60)
@given(
    played=st.lists(st.tuples(st.integers(50, 270), st.integers(0, 900)), min_size=1, max_size=60),
    small=st.booleans(),
)
def test_no_label_leaves_the_chart_or_touches_another(assert_labels_stand_clear, played, small) -> None:
    days = sorted(day for _, day in played)
    assert_labels_stand_clear(scores_plate(told([score for score, _ in played], days), small=small))
