"""The guide's drawing of phones and sticks."""

from itertools import combinations

import pytest

from reportgen.drawing.letters import text_width
from reportgen.drawing.plate import Label, beginning
from reportgen.drawing.stand import stand, stand_plate
from reportgen.languages.catalogues import language_of
from reportgen.languages.speaking import speaking
from reportgen.sheets.shipped import shipped


@pytest.mark.parametrize("code", ["en", "de", "fr"])
def test_its_labels_stand_inside_and_clear_of_each_other(code: str) -> None:
    with speaking(language_of(code, shipped("content") / "languages")):
        plate = stand_plate()
    labels = [part for part in plate.drawn if isinstance(part, Label)]
    boxes = []
    for label in labels:
        left, width = beginning(label), text_width(label.text, label.size, label.weight)
        boxes.append((left, label.baseline - 2, left + width, label.baseline + 7))
    assert len(boxes) == 8
    assert all(left >= 0 and right <= plate.width for left, _, right, _ in boxes)
    assert all(low >= 0 and high <= plate.height for _, low, _, high in boxes)
    for (a, b, c, d), (e, f, g, h) in combinations(boxes, 2):
        assert c < e or g < a or d < f or h < b


def test_it_is_the_same_each_time_and_says_what_it_shows() -> None:
    assert stand() == stand()
    assert "The other lies square to it" in stand().alt
