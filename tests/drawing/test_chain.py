"""The chain from a cause to what can follow from it."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.drawing.chain import WIDEST, chain, chain_plate
from reportgen.drawing.saving import to_figure
from reportgen.drawing.style import COLOURS
from reportgen.records.words import MOMENTS, Verdict

shorts = st.text("abcdefghijklmnopqrstuvwxyzW ", min_size=1, max_size=26).map(str.strip).filter(bool)
ends = st.tuples(shorts, st.sampled_from(MOMENTS), st.sampled_from([*COLOURS]))


@pytest.fixture
def hip(finding, band) -> Any:
    return end(finding, band, "Trail hip load", "top", "below range")


def end(finding: Callable[..., Any], band: Callable[..., Any], short: str, checkpoint: str, verdict: Verdict) -> Any:
    return finding(short=short, name=f"{short} at {checkpoint}", checkpoint=checkpoint, band=band(), verdict=verdict)


def gids(plate: Any) -> list[str]:
    return [artist.get_gid() for artist in to_figure(plate).artists if artist.get_gid()]


def place_of(plate: Any, gid: str) -> tuple[float, float]:
    """The left and lower edge of a label."""
    vertices = next(a.get_path().vertices for a in to_figure(plate).artists if a.get_gid() == gid)
    return float(vertices[:, 0].min()), float(vertices[:, 1].min())


def test_a_cause_stands_left_of_its_effect_both_with_their_verdicts(hip, finding, band) -> None:
    plate = chain_plate(hip, [end(finding, band, "Pelvis open", "impact", "above range")])
    assert sorted(gids(plate)) == [
        "Impact", "Pelvis open", "Top", "Trail hip load", "above range", "below range",
    ]  # fmt: skip
    assert place_of(plate, "Trail hip load")[0] < place_of(plate, "Pelvis open")[0]
    assert plate.width <= WIDEST


def test_effects_stand_below_each_other(hip, finding, band) -> None:
    plate = chain_plate(
        hip, [end(finding, band, name, "impact", "above range") for name in ("Knee one", "Knee two", "Knee three")]
    )
    lefts, heights = zip(*(place_of(plate, name) for name in ("Knee one", "Knee two", "Knee three")), strict=True)
    assert max(lefts) - min(lefts) < 1
    assert list(heights) == sorted(heights, reverse=True)


def test_a_long_chain_becomes_a_column(finding, band) -> None:
    long = [
        end(finding, band, name, "impact", "above range")
        for name in ("Forward bend change here", "Lead knee bend gained")
    ]
    plate = chain_plate(long[0], long[1:])
    (_, cause), (_, effect) = place_of(plate, long[0].short), place_of(plate, long[1].short)
    assert effect < cause - 10
    assert plate.width <= WIDEST


def test_a_chain_without_an_effect_is_none(hip) -> None:
    with pytest.raises(ValueError, match="effect"):
        chain(hip, [])


def test_alternative_text_is_a_sentence(hip, finding, band) -> None:
    pelvis = end(finding, band, "Pelvis open", "impact", "above range")
    seat = end(finding, band, "Seat", "impact", "above range")
    assert chain(hip, [pelvis]).alt == (
        "Trail hip load at top, which is below your range, "
        "can lead to Pelvis open at impact, which is above your range."
    )
    assert chain(hip, [pelvis, seat]).alt.endswith(
        "Pelvis open at impact, which is above your range; Seat at impact, which is above your range."
    )


@given(cause=ends, effects=st.lists(ends, min_size=1, max_size=4))
def test_no_label_leaves_the_chain_or_touches_another(finding, band, assert_labels_stand_clear, cause, effects) -> None:
    plate = chain_plate(end(finding, band, *cause), [end(finding, band, *effect) for effect in effects])
    assert_labels_stand_clear(plate)
