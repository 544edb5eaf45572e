"""Pictures come onto a lesson as phones make them, and leave behind what they say of places."""

import re
from io import BytesIO
from pathlib import Path

import pytest
import yaml
from PIL import Image

from tests.desk.conftest import Browser, OpenDesk
from tests.publishing.small import PETRA, contents, reportgen, sheets

CHOSEN = "#pictures [type=file]"


@pytest.fixture
def begun(desk: OpenDesk, browser: Browser) -> Path:
    """The sheet of a lesson of Petra's that was begun; its page is open."""
    browser.driver.get(desk.home)
    browser.find(f"[data-begin='{PETRA}']").click()
    browser.until("document.getElementById('form')")
    return sheets(desk.academy, PETRA)[-1]


def phone_picture(file: Path, size: tuple[int, int] = (300, 400), colour: str = "#4060a0") -> Path:
    """A picture as a phone makes it, lying on its side, with the place and the maker noted in it."""
    notes = Image.Exif()
    notes[0x0112] = 6  # lies on its side (EXIF 2.3, tag 274)
    notes[0x010F] = "A maker"
    notes.get_ifd(0x8825).update({1: "N", 2: (51.0, 30.0, 0.0), 3: "E", 4: (0.0, 7.0, 0.0)})
    Image.new("RGB", size[::-1], colour).save(file, exif=notes)
    return file


def taken(browser: Browser, count: int) -> None:
    browser.until(f"document.querySelectorAll('#pictures .taken li').length === {count}")


def test_a_picture_whose_name_says_all_is_kept_at_once(browser: Browser, begun: Path, tmp_path: Path) -> None:
    browser.find(CHOSEN).send_keys(str(phone_picture(tmp_path / "IMPACT-FO.jpg")))
    taken(browser, 1)
    (row,) = yaml.safe_load(begun.read_text(encoding="utf-8"))["stills"]
    name = f"{begun.stem[:10]}-impact-fo.jpg"
    assert row == {"file": f"../stills/{name}", "view": "face-on", "checkpoint": "impact"}
    assert not [line for line in reportgen("check", begun.parents[3]).output.splitlines() if "stills" in line]


def test_the_page_asks_what_a_picture_shows(browser: Browser, begun: Path, tmp_path: Path) -> None:
    browser.find(CHOSEN).send_keys(str(phone_picture(tmp_path / "IMG_0412.webp")))
    browser.until("document.querySelector('#pictures .coming select')")
    assert "stills" not in yaml.safe_load(begun.read_text(encoding="utf-8"))
    browser.find("#pictures [name=view] option[value=down-the-line]").click()
    browser.find("#pictures [name=checkpoint] option[value=top]").click()
    taken(browser, 1)
    (row,) = yaml.safe_load(begun.read_text(encoding="utf-8"))["stills"]
    assert (row["view"], row["checkpoint"]) == ("down-the-line", "top")


@pytest.mark.parametrize("suffix", ["jpg", "png", "webp"])
def test_what_is_kept_is_an_upright_jpeg_without_notes(
    browser: Browser, begun: Path, tmp_path: Path, suffix: str
) -> None:
    browser.find(CHOSEN).send_keys(str(phone_picture(tmp_path / f"setup-dtl.{suffix}")))
    taken(browser, 1)
    (row,) = yaml.safe_load(begun.read_text(encoding="utf-8"))["stills"]
    data = (begun.parent / row["file"]).read_bytes()
    with Image.open(BytesIO(data)) as kept:
        assert (kept.format, kept.size) == ("JPEG", (300, 400))
        assert not kept.getexif()
    assert b"A maker" not in data


def test_a_second_picture_of_a_moment_leaves_the_first_as_it_is(browser: Browser, begun: Path, tmp_path: Path) -> None:
    browser.find(CHOSEN).send_keys(str(phone_picture(tmp_path / "top-fo.jpg")))
    taken(browser, 1)
    (first,) = (begun.parents[1] / "stills").glob("*-top-fo.jpg")
    before = first.read_bytes()
    browser.find(CHOSEN).send_keys(str(phone_picture(tmp_path / "again-top-fo.jpg", colour="#a06040")))
    taken(browser, 2)
    assert first.read_bytes() == before
    assert len({row["file"] for row in yaml.safe_load(begun.read_text(encoding="utf-8"))["stills"]}) == 2


@pytest.mark.parametrize("data", [b"", b"no picture", b"\xff\xd8\xff\xe0 cut short"])
def test_what_is_no_picture_is_told_and_kept_nowhere(
    desk: OpenDesk, browser: Browser, begun: Path, tmp_path: Path, data: bytes
) -> None:
    before = contents(desk.academy)
    file = tmp_path / "impact-fo.jpg"
    file.write_bytes(data)
    browser.find(CHOSEN).send_keys(str(file))
    browser.until("document.querySelector('#pictures .coming .says')?.innerText.includes('Save it')")
    assert contents(desk.academy) == before


def test_a_picture_that_is_taken_out_leaves_its_row(browser: Browser, begun: Path, tmp_path: Path) -> None:
    browser.find(CHOSEN).send_keys(str(phone_picture(tmp_path / "impact-fo.jpg")))
    taken(browser, 1)
    browser.find("#pictures .taken .leave").click()
    taken(browser, 0)
    assert "stills" not in yaml.safe_load(begun.read_text(encoding="utf-8"))


def test_the_first_mark_on_a_new_picture_makes_readable_lines(browser: Browser, begun: Path, tmp_path: Path) -> None:
    browser.find(CHOSEN).send_keys(str(phone_picture(tmp_path / "impact-fo.jpg")))
    taken(browser, 1)
    browser.find("#pictures .taken a").click()
    browser.until("document.getElementById('which').innerText && document.querySelector('#values li')")
    browser.until("document.getElementById('picture').dataset.proposals === 'seen'")
    browser.find("#points [data-name=lead-ankle] button").click()
    browser.find("#picture").send_keys("\ue007")
    browser.until("document.getElementById('saved').innerText === 'Saved'")
    text = begun.read_text(encoding="utf-8")
    assert re.search(r"(?m)^    marks:\n      lead-ankle: \{at: \[150, 200\], by: hand\}$", text)


def test_a_picture_may_be_larger_than_a_change_and_not_without_bounds(desk: OpenDesk, begun: Path) -> None:
    path = f"lesson/{PETRA}/{begun.stem}/picture?view=face-on&checkpoint=top"
    assert desk.ask("POST", path, "x" * 400_000)[0] == 422
    assert desk.ask("POST", path, Content_Length=str(1 << 30))[0] == 413
    assert desk.ask("POST", f"lesson/{PETRA}/{begun.stem}/picture?view=above&checkpoint=top", "x")[0] == 400
