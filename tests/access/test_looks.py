"""The main pages look as they were agreed to look: a change of look is a decision.

What was decided is kept with `python -m tests.access.looks SITE`, SITE being a published demo.
"""

import tempfile
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from tests.access.looks import FOLDER, LOOKS, TOLERANCE, apart, picture, side_by_side
from tests.site.chromium import Chromium
from tests.site.published import Site


@pytest.mark.parametrize("look", LOOKS)
def test_a_page_looks_as_agreed(chromium: Chromium, site: Site, look: str) -> None:
    actual = picture(chromium, site, look)
    with Image.open(FOLDER / f"{look}.png") as expected:
        differ = apart(expected, actual)
        if differ > TOLERANCE:
            both = Path(tempfile.gettempdir()) / f"look-{look}.png"
            side_by_side(expected, actual).save(both)
            pytest.fail(f"{differ:.1%} of {look} differs: expected and actual side by side in {both}")


def test_every_picture_kept_is_compared_and_small() -> None:
    assert sorted(file.stem for file in FOLDER.iterdir()) == sorted(LOOKS)
    assert max(file.stat().st_size for file in FOLDER.iterdir()) < 60_000


def test_a_moved_line_is_seen() -> None:
    with Image.open(FOLDER / "home.png") as kept:
        changed = kept.convert("RGB")
    moved = changed.crop((0, 0, changed.width, changed.height - 12))
    changed.paste(moved, (0, 12))
    with Image.open(FOLDER / "home.png") as kept:
        assert apart(kept, changed) > TOLERANCE


def test_a_missing_drawing_is_seen() -> None:
    with Image.open(FOLDER / "home.png") as kept:
        changed = kept.convert("RGB")
        ImageDraw.Draw(changed).rectangle((400, 100, 560, 300), fill="#fffdf8")
        assert apart(kept, changed) > TOLERANCE
