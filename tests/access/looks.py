"""Small pictures of the main pages, to compare a page with how it was agreed to look.

`python -m tests.access.looks SITE` makes the pictures in tests/access/looks/ anew from a published demo; the tests
write what differs as expected and actual side by side.
"""

import base64
import io
import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter

from tests.access.kinds import page_of, show
from tests.site.chromium import Chromium
from tests.site.published import Page, Site

FOLDER = Path(__file__).parent / "looks"
LOOKS = {
    "home": ("home", 1280, False),
    "home-dark": ("home", 1280, True),
    "home-phone": ("home", 360, False),
    "lesson": ("lesson", 1280, False),
    "progress": ("progress", 768, False),
    "drill": ("drill", 1280, False),
    "stopped": ("stopped home", 1280, False),
    "library": ("library", 1280, False),
}
"""File -> kind of page, width, dark."""
TALLEST, WIDE, COLOURS = 1500, 640, 48
TOLERANCE = 0.003
"""The share of pixels that may differ clearly: letters are painted a little differently by each version."""


def picture(chromium: Chromium, site: Site, look: str) -> Image.Image:
    """The top of a page as seen, at most 640 pixels wide, in few colours."""
    kind, width, dark = LOOKS[look]
    chromium.driver.execute_cdp_cmd("Emulation.setScrollbarsHidden", {"hidden": True})
    show(chromium, page_of(site, kind).as_uri(), width, dark=dark)
    height = min(TALLEST, chromium.run("return document.documentElement.scrollHeight"))
    size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
    chromium.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    taken = chromium.driver.execute_cdp_cmd("Page.captureScreenshot", {"format": "png"})
    chromium.driver.execute_cdp_cmd("Emulation.setScrollbarsHidden", {"hidden": False})
    with Image.open(io.BytesIO(base64.b64decode(taken["data"]))) as whole:
        scale = min(1, WIDE / width)
        small = whole.convert("RGB").resize((round(width * scale), round(height * scale)), Image.Resampling.LANCZOS)
    return small.quantize(COLOURS, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)


def apart(one: Image.Image, other: Image.Image) -> float:
    """The share of pixels that differ clearly once both are blurred a little; 1 where the sizes differ much."""
    if abs(one.height - other.height) > 4 or one.width != other.width:
        return 1.0
    height = min(one.height, other.height)
    soft = [
        np.asarray(p.convert("RGB").crop((0, 0, p.width, height)).filter(ImageFilter.GaussianBlur(1.5)), dtype=int)
        for p in (one, other)
    ]
    return float((np.abs(soft[0] - soft[1]).max(axis=2) > 24).mean())


def side_by_side(expected: Image.Image, actual: Image.Image) -> Image.Image:
    """Expected on the left, actual on the right."""
    both = Image.new("RGB", (expected.width + actual.width + 8, max(expected.height, actual.height)), "#888")
    both.paste(expected.convert("RGB"), (0, 0))
    both.paste(actual.convert("RGB"), (expected.width + 8, 0))
    return both


def main() -> None:
    """Make all pictures anew."""
    folder = Path(sys.argv[1])
    site = Site(folder, tuple(Page(path) for path in sorted(folder.rglob("*.html"))))
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as profile:
        chromium = Chromium(Path(profile))
        try:
            for look in LOOKS:
                picture(chromium, site, look).save(FOLDER / f"{look}.png", optimize=True)
        finally:
            chromium.quit()


if __name__ == "__main__":
    main()
