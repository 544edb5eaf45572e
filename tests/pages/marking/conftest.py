"""Chromium on marking pages, and an academy to paste their lines into."""

import shutil
import subprocess
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from PIL import Image, ImageDraw
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

from reportgen.cli import main
from reportgen.records.lesson import Lesson, Still
from reportgen.sheets.reading import read_sheet
from tests.judging.academies import ID, write_academy
from tests.measuring import own_metrics
from tests.pages.marking.sheet_of_paper import Paper

DEMO = Path(__file__).parents[3] / "examples" / "academy"
STILLS = DEMO / "students" / "duarte-pemberlow" / "stills"
SHEET = "students/duarte-pemberlow/lessons/2026-11-19.yaml"
FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
FRAMES, RATE = 40, 25
BIT = 40
"""The frame number stands in the picture as blocks this wide, white for 1, the lowest bit at the left."""


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[webdriver.Chrome]:
    options = Options()
    options.binary_location = str(shutil.which("chromium"))
    for flag in (*FLAGS, f"--user-data-dir={tmp_path_factory.mktemp('browser')}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(str(shutil.which("chromedriver"))))
    driver.set_window_size(1280, 1000)
    yield driver
    driver.quit()


def written(to: Path, arguments: Sequence[Any]) -> Path:
    ended = CliRunner().invoke(main, ["mark", *map(str, arguments), "--to", str(to)])
    assert ended.exit_code == 0, ended.output
    return to


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Marking pages by what they hold: nothing, the face-on still of the top, the film, or a still of an academy that
    has metrics of its own; an empty German one; and the still of the top of somebody whose pelvis turn is followed."""
    folder = tmp_path_factory.mktemp("pages")
    own = own_metrics.write(folder / "academy", own_metrics.marked()) / "students" / ID / "stills"
    contents = {
        "empty": [],
        "top": [STILLS / "2026-11-19-top-fo.png"],
        "film": ["--video", film(folder)],
        "own": [own / "setup-face-on.png"],
        "german": ["--language", "de"],
        "followed": [followed(folder / "followed")],
    }
    return {name: written(folder / f"{name}.html", contents[name]) for name in contents}


def followed(root: Path) -> Path:
    """The still of the top in an academy whose student is followed in one metric."""
    folder = write_academy(root, {"2026-03-05": "follow: [pelvis-closed-top]"}) / "students" / ID / "stills"
    folder.mkdir()
    return Path(shutil.copy(STILLS / "2026-11-19-top-fo.png", folder))


@pytest.fixture
def paper(browser: webdriver.Chrome, pages: dict[str, Path]) -> Iterator[Paper]:
    """The marking page in the browser. Afterwards it has said nothing on the console, and asked nothing of anyone."""
    for log in ("browser", "performance"):
        browser.get_log(log)
    sheet = Paper(browser, pages)
    yield sheet
    sheet.leave()
    sheet.assert_kept_to_itself()


def fill_in(paper: Paper) -> None:
    """Open the six demo stills and set every point of the demo's sheet, each nudged into its place."""
    for still in demo_stills():
        paper.add_picture(STILLS / still.file.rsplit("/", 1)[1])
        assert still.scale is not None
        assert still.camera is not None
        places = {"scale-from": still.scale.from_, "scale-to": still.scale.to, **still.marks}
        fields = {"length": "1.00", "distance": f"{still.camera.distance.value:.2f}", "height": "1,10"}
        paper.run(
            """choose(page.stills.find((one) => arguments[0].endsWith(one.file)).id);
            for (const [name, [x, y]] of Object.entries(arguments[1])) {
              choosePoint(name, false); setPoint([x - 1, y - 1]); move(1, 1, false);
            }
            for (const [field, text] of Object.entries(arguments[2])) {
              by(field).value = text; by(field).dispatchEvent(new Event("input"));
            }""",
            still.file,
            places,
            fields,
        )


def demo_stills() -> Sequence[Still]:
    """The stills of the demo's sheet."""
    sheet, _ = read_sheet(DEMO / SHEET, SHEET, Lesson)
    assert sheet is not None
    return sheet.record.stills


def film(folder: Path) -> Path:
    """A film whose frames carry their number as blocks."""
    for number in range(FRAMES):
        frame = Image.new("RGB", (8 * BIT, 180), (40, 60, 50))
        pen = ImageDraw.Draw(frame)
        for bit in range(8):
            pen.rectangle((bit * BIT, 0, bit * BIT + BIT - 1, 60), fill="white" if number >> bit & 1 else "black")
        frame.save(folder / f"{number:03d}.png")
    to = folder / "swing.webm"
    frames = ["-framerate", str(RATE), "-i", str(folder / "%03d.png")]
    subprocess.run(["ffmpeg", "-v", "error", *frames, "-c:v", "libvpx", "-b:v", "1M", str(to)], check=True)
    return to


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """An academy with one student, their stills, and no lesson yet."""
    root = tmp_path / "academy"
    student = root / "students" / "duarte-pemberlow"
    (student / "lessons").mkdir(parents=True)
    shutil.copy(DEMO / "academy.yaml", root)
    shutil.copy(DEMO / "students" / "duarte-pemberlow" / "student.yaml", student)
    shutil.copytree(STILLS, student / "stills")
    return root
