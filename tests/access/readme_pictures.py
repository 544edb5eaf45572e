"""The two pictures of README.md: a lesson sheet, and the page it makes.

`python -m tests.access.readme_pictures SITE` makes them anew in examples/ from a published demo.
"""

import base64
import io
import sys
import tempfile
from html import escape
from pathlib import Path

from PIL import Image

from tests.access.kinds import show
from tests.site.chromium import Chromium
from tests.site.published import ACADEMY, ROOT, Page, Site

STUDENT, LESSON = "callum-weirbridge", "2026-09-04"
PAGE, SHEET = (1000, 840), (980, 470)
"""Width and height of what is shown of each."""
COLOURS = 64
LOOK = (
    "body { margin: 0; background: #fffdf8; color: #22302f } "
    "p { font: 14px sans-serif; color: #5a6866; margin: 24px 32px } "
    "pre { font: 13.5px/1.6 monospace; margin: 0 32px; white-space: pre-wrap }"
)


def taken(chromium: Chromium, address: str, width: int, height: int) -> Image.Image:
    """The top of a page."""
    chromium.driver.execute_cdp_cmd("Emulation.setScrollbarsHidden", {"hidden": True})
    show(chromium, address, width)
    size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
    chromium.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    shot = chromium.driver.execute_cdp_cmd("Page.captureScreenshot", {"format": "png"})
    with Image.open(io.BytesIO(base64.b64decode(shot["data"]))) as whole:
        return whole.convert("RGB").quantize(COLOURS, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)


def main() -> None:
    """Make both pictures anew."""
    folder = Path(sys.argv[1]).resolve()
    site = Site(folder, tuple(Page(path) for path in sorted(folder.rglob("*.html"))))
    sheet = ACADEMY / "students" / STUDENT / "lessons" / f"{LESSON}.yaml"
    with tempfile.TemporaryDirectory() as scratch:
        page = Path(scratch) / "sheet.html"
        told = sheet.relative_to(ACADEMY)
        text = escape(sheet.read_text(encoding="utf-8"))
        page.write_text(f"<meta charset=utf-8><style>{LOOK}</style><p>{told}</p><pre>{text}</pre>", encoding="utf-8")
        chromium = Chromium(Path(scratch) / "profile")
        try:
            taken(chromium, page.as_uri(), *SHEET).save(ROOT / "examples" / "sheet.png", optimize=True)
            made = site.areas[STUDENT] / LESSON / "index.html"
            taken(chromium, made.as_uri(), *PAGE).save(ROOT / "examples" / "page.png", optimize=True)
        finally:
            chromium.quit()


if __name__ == "__main__":
    main()
