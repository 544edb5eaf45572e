"""The strip of one finding."""

from collections.abc import Callable
from typing import Any, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reportgen.drawing import strip
from reportgen.drawing.saving import to_figure
from reportgen.drawing.strip import BAND_SHARE, LEFT, RIGHT, stretches, strip_plate
from reportgen.drawing.style import OUT, RANGE
from reportgen.records.findings import BandUsed, Finding
from reportgen.records.words import Verdict

amounts = st.floats(-200, 400).map(lambda x: round(x, 1))


def _texts(plate: Any) -> list[str]:
    return [artist.get_gid() for artist in to_figure(plate).artists if artist.get_gid()]


def _fills(plate: Any) -> list[str]:
    from matplotlib.colors import to_hex

    return [to_hex(a.get_facecolor()) for a in to_figure(plate).artists if a.get_facecolor()[3] > 0]


def _band_width(found: Finding) -> float:
    part = next(p for p in stretches(found) if p.low <= found.band.low and found.band.high <= p.high)
    return part.at(found.band.high) - part.at(found.band.low)


def test_value_and_limits_are_labelled_and_the_mark_is_that_of_the_verdict(finding, band) -> None:
    assert _texts(strip_plate(finding(62, band=band(35, 55)))) == ["35°", "55°", "above range", "62° open"]


@pytest.mark.parametrize(("low", "high", "label"), [(None, 55, "55°"), (35, None, "35°")])
def test_a_one_sided_band_has_one_limit(finding, band, low, high, label) -> None:
    assert _texts(strip_plate(finding(62, band=band(low, high)))) == [label, "above range", "62° open"]


@pytest.mark.parametrize(("low", "high", "end"), [(None, 55, LEFT), (35, None, RIGHT)])
def test_an_open_band_runs_to_the_end_of_the_strip(finding, band, low, high, end) -> None:
    bars = [a.get_path().get_extents() for a in to_figure(strip_plate(finding(62, band=band(low, high)))).artists]
    bars = [box for box in bars if box.height == pytest.approx(12.8)]
    assert any(end in (pytest.approx(box.x0), pytest.approx(box.x1)) for box in bars)


def test_without_a_band_nothing_is_pale_green(finding) -> None:
    plate = strip_plate(finding(62, alone=65))
    assert RANGE not in _fills(plate)
    assert _texts(plate) == ["not judged", "62° open"]


def test_a_band_for_comparison_is_not_filled(finding, band) -> None:
    assert RANGE in _fills(strip_plate(finding(62, band=band())))
    assert RANGE not in _fills(strip_plate(finding(62, band=band(context=True), verdict="not judged")))


def test_limits_on_the_other_side_of_zero_carry_their_word(finding, band) -> None:
    assert _texts(strip_plate(finding(3, band=band(-5, 10), verdict="in range")))[:2] == ["5° closed", "10°"]


def test_a_value_near_the_band_needs_no_break(finding, band) -> None:
    assert len(stretches(finding(62, band=band(35, 55)))) == 1


@pytest.mark.parametrize("value", [200, -90])
def test_a_value_far_away_stands_behind_a_break_at_the_same_scale(finding, band, value) -> None:
    first, second = stretches(finding(value, band=band(35, 55)))
    per_point = [(part.high - part.low) / (part.right - part.left) for part in (first, second)]
    assert per_point[0] == pytest.approx(per_point[1])
    assert first.high < second.low


def test_an_interval_longer_than_the_strip_ends_in_arrow_heads(finding, band) -> None:
    def heads(u: float) -> int:
        return _fills(strip_plate(finding(62, u, band=band(35, 55)))).count(OUT)

    assert heads(60) == heads(4) + 2


def test_last_time_in_the_same_place_is_a_ring_round_the_mark(finding, band) -> None:
    artists = to_figure(strip_plate(finding(62, band=band(), alone=62))).artists
    ring, mark = artists[-3], artists[-2]
    assert mark.get_gid() == "above range"
    assert ring.get_path().get_extents().width > mark.get_path().get_extents().width + 3


@settings(deadline=None)
@given(value=amounts, u=st.floats(0.01, 100), alone=st.none() | amounts, low=amounts, size=st.floats(0.5, 100))
def test_the_band_never_shrinks_below_its_share(finding, band, value, u, alone, low, size) -> None:
    found = finding(value, u, band=band(low, low + size), alone=alone)
    assert _band_width(found) >= BAND_SHARE * (RIGHT - LEFT) - 0.01


@settings(deadline=None)
@given(
    value=amounts, u=st.floats(0.01, 100), alone=st.none() | amounts, low=st.none() | amounts,
    size=st.none() | st.floats(0.5, 100), context=st.booleans(), verdict=st.sampled_from(get_args(Verdict)),
    unit=st.sampled_from([("deg", 0), ("deg", 1), ("cm", 1), ("km/h", 1), ("1", 2)]), words=st.booleans(),
)  # fmt: skip
def test_no_label_leaves_the_strip_or_touches_another(
    finding: Callable[..., Finding], band: Callable[..., BandUsed], assert_labels_stand_clear,
    value, u, alone, low, size, context, verdict, unit, words,
) -> None:  # fmt: skip
    high = None if size is None else (low or 0.0) + size
    changed = {"verdict": verdict, "unit": unit[0], "decimals": unit[1], **({} if words else {"sign": None})}
    found = finding(value, u, alone=alone, band=band(low, high, context=context), **changed)
    assert_labels_stand_clear(strip_plate(found))


def test_alternative_text_says_all_that_the_picture_shows(finding, band) -> None:
    assert strip(finding(62, 4, band=band(35, 55), alone=65)).alt == (
        "Pelvis open: 62° open, above your range of 35° to 55° open. "
        "The true value lies from 54° to 70° open, 19 times in 20. This time alone 65° open."
    )


def test_alternative_text_without_a_range_says_so(finding) -> None:
    assert strip(finding(62)).alt.startswith("Pelvis open: 62° open, no range to compare with. ")
