"""Progress of one metric over the lessons."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportgen.drawing import progress
from reportgen.drawing.plate import Disc
from reportgen.drawing.progress import progress_plate
from reportgen.drawing.saving import to_figure
from reportgen.records.findings import BandUsed
from reportgen.records.report import Series

amounts = st.floats(-200, 400).map(lambda x: round(x, 1))


def _texts(plate: Any) -> list[str]:
    return [artist.get_gid() for artist in to_figure(plate).artists if artist.get_gid()]


def _ring_centres(plate: Any) -> list[float]:
    """Of single lessons, but for the last; the mark of where the player is has a verdict."""
    return [part.centre[0] for part in plate.drawn if isinstance(part, Disc) and part.verdict is None][:-1]


def test_labels_are_limits_some_dates_today_and_the_range(series, band) -> None:
    assert _texts(progress_plate(series([79, 76, 62], band=band()), small=False)) == [
        "35°", "55°", "above range", "8 Jan", "15 Jan", "22 Jan", "62° open", "your range",
    ]  # fmt: skip


@pytest.mark.parametrize(("lessons", "named"), [(4, "15 Jan"), (6, "22 Jan"), (10, "5 Feb"), (12, "12 Feb")])
def test_of_two_dates_as_far_from_the_middle_the_earlier_is_named(series, lessons: int, named: str) -> None:
    texts = _texts(progress_plate(series([60.0] * lessons), small=False))
    assert [text for text in texts if text[-3:] in {"Jan", "Feb", "Mar"}][1] == named


def test_forty_lessons_carry_three_dates(series, band) -> None:
    texts = _texts(progress_plate(series([60.0 - k for k in range(40)], band=band()), small=False))
    assert [text for text in texts if text[-3:] in {"Jan", "May", "Oct"}] == ["8 Jan", "21 May", "8 Oct"]


def test_dates_of_several_years_carry_the_year(series) -> None:
    texts = _texts(progress_plate(series([79, 62], [0, 400]), small=False))
    assert texts[1:3] == ["8 Jan 2026", "12 Feb 2027"]


def test_dates_are_to_scale(series) -> None:
    first, second, third = _ring_centres(progress_plate(series([70, 70, 70, 70], [0, 10, 40, 100]), small=False))
    assert (third - first) / (second - first) == pytest.approx(4)


def test_two_lessons_on_one_day_stand_apart(series) -> None:
    _, second, third = _ring_centres(progress_plate(series([70, 68, 66, 64], [0, 30, 30, 60]), small=False))
    assert third - second >= 5


def test_a_band_for_comparison_is_not_called_the_range(series, band) -> None:
    assert _texts(progress_plate(series([62], band=band(context=True)), small=False))[-1] == "for comparison"


def test_months_without_a_lesson_are_dotted(series) -> None:
    def dotted(days: list[int]) -> int:
        artists = to_figure(progress_plate(series([70, 68, 66], days), small=False)).artists
        return sum(artist.get_linestyle() not in ("-", "solid") for artist in artists)

    assert dotted([0, 30, 60]) == 0
    assert dotted([0, 30, 200]) == 1


@settings(max_examples=60, deadline=None)
@given(
    lessons=st.lists(st.tuples(amounts, st.integers(0, 900)), min_size=1, max_size=40), u=st.floats(0.01, 60),
    low=st.none() | amounts, size=st.none() | st.floats(0.5, 100), small=st.booleans(), words=st.booleans(),
)  # fmt: skip
def test_no_label_leaves_the_chart_or_touches_another(
    series: Callable[..., Series], band: Callable[..., BandUsed], assert_labels_stand_clear,
    lessons, u, low, size, small, words,
) -> None:  # fmt: skip
    high = None if size is None else (low or 0.0) + size
    found = series(
        [value for value, _ in lessons], sorted(day for _, day in lessons), u=u, band=band(low, high),
        **({} if words else {"sign": None, "unit": "cm", "decimals": 1}),
    )  # fmt: skip
    assert_labels_stand_clear(progress_plate(found, small=small))


def test_alternative_text_tells_the_story(series, band) -> None:
    assert progress(series([79, 70, 62], band=band())).alt == (
        "Pelvis open at impact, 3 lessons from 8 January 2026 to 22 January 2026: first 79° open, "
        "now 62° open, above your range of 35° to 55° open. It has come down by 17°."
    )


def noted(of: Series, lessons: set[int]) -> Series:
    points = tuple(point.model_copy(update={"noted": k in lessons}) for k, point in enumerate(of.points))
    return of.model_copy(update={"points": points})


def _squares(plate: Any) -> list[float]:
    """The middles of the marks of notes: the only boxes of that size."""
    boxes = [a.get_path().vertices for a in to_figure(plate).artists if len(a.get_path().vertices) == 5]
    return [float(box[:, 0].mean()) for box in boxes if 2 < box[:, 0].max() - box[:, 0].min() < 3]


def test_lessons_with_notes_are_marked_below_and_the_mark_is_explained_once(series, band) -> None:
    of = series([79, 76, 70, 62], band=band())
    plain, marked = (progress_plate(each, small=False) for each in (of, noted(of, {0, 2})))
    assert _squares(plain) == []
    assert "notes" not in _texts(plain)
    assert _texts(marked).count("notes") == 1
    first, _, third = _ring_centres(marked)
    assert _squares(marked)[:2] == pytest.approx([first, third], abs=0.6)
    assert len(_squares(marked)) == 3


def test_the_alternative_text_counts_the_lessons_with_notes(series, band) -> None:
    assert progress(noted(series([79, 70, 62], band=band()), {1, 2})).alt.endswith(" Lessons with notes: 2 of 3.")


@settings(max_examples=40, deadline=None)
@given(
    lessons=st.lists(st.tuples(amounts, st.integers(0, 900)), min_size=1, max_size=40), u=st.floats(0.01, 60),
    low=st.none() | amounts, small=st.booleans(), marks=st.sets(st.integers(0, 39)),
)  # fmt: skip
def test_with_notes_no_label_leaves_the_chart_or_touches_another(
    series: Callable[..., Series],
    band: Callable[..., BandUsed],
    assert_labels_stand_clear,
    lessons,
    u,
    low,
    small,
    marks,
) -> None:
    days = sorted(day for _, day in lessons)
    of = series([value for value, _ in lessons], days, u=u, band=band(low, (low or 0) + 20))
    assert_labels_stand_clear(progress_plate(noted(of, marks), small=small))
