"""One page of each kind of the demo, and what the tests do with pages in a browser."""

from pathlib import Path

from tests.site.chromium import Chromium
from tests.site.published import ROOT, Site

KINDS = (
    "home", "lesson", "lesson with shots", "progress", "drills", "drill", "safety", "stopped home", "stopped lesson",
    "library", "library drill", "desk", "guide", "guide fields",
)  # fmt: skip
NPM = ROOT / ".venv" / "npm" / "node_modules"


def page_of(site: Site, kind: str) -> Path:
    """The file of a kind of page."""
    student, stopped = site.areas["duarte-pemberlow"], site.areas["bettina-halloran"]
    library, desk = site.folder / "upload" / "library", site.folder / "desk"
    return {
        "home": student / "index.html",
        "lesson": student / "2026-11-19" / "index.html",
        "lesson with shots": site.areas["rosalind-okevre"] / "2026-11-17" / "index.html",
        "progress": student / "progress.html",
        "drills": student / "drills" / "index.html",
        "drill": student / "drills" / "chest-looks-at-the-ball.html",
        "safety": student / "safety.html",
        "stopped home": stopped / "index.html",
        "stopped lesson": stopped / "2026-11-18" / "index.html",
        "library": library / "index.html",
        "library drill": library / "chair-behind-the-seat.html",
        "desk": desk / "index.html",
        "guide": desk / "guide" / "index.html",
        "guide fields": desk / "guide" / "fields.html",
    }[kind]


def show(chromium: Chromium, address: str, width: int, *, dark: bool = False, zoom: float = 1) -> None:
    """The page at `width` pixels of the window, enlarged `zoom` times, with its faces and all details open."""
    chromium.driver.execute_cdp_cmd(
        "Emulation.setEmulatedMedia",
        {"features": [{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}]},
    )
    size = {"width": round(width / zoom), "height": round(800 / zoom), "deviceScaleFactor": zoom, "mobile": False}
    chromium.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    chromium.get(address)
    chromium.wait("document.fonts.ready.then(arguments[0])")


def open_details(chromium: Chromium) -> None:
    """All that is folded away, unfolded."""
    chromium.run("document.querySelectorAll('details').forEach(one => { one.open = true })")
