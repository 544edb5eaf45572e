"""SVG and PNG: the same bytes each time, small, with the picture in words."""

import io
import re
import subprocess
import sys
from collections.abc import Callable
from itertools import combinations
from typing import get_args
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from reportgen.drawing import Drawing, from_above, progress, strip, strip_png
from reportgen.drawing.plate import Align, Plate
from reportgen.drawing.saving import to_png, to_svg
from reportgen.records.findings import BandUsed, Finding
from reportgen.records.report import Series
from reportgen.records.words import Verdict

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(params=["strip", "progress", "small progress", "from above"])
def draw(request, finding, series, band, turns) -> Callable[[], Drawing]:
    return {
        "strip": lambda: strip(finding(band=band(), alone=65)),
        "progress": lambda: progress(series([79, 70, 62], band=band())),
        "small progress": lambda: progress(series([79, 70, 62], band=band()), small=True),
        "from above": lambda: from_above(turns(44, 88, 62, 28), "right"),
    }[request.param]


def test_the_same_records_give_the_same_bytes(draw: Callable[[], Drawing]) -> None:
    assert draw() == draw()


def test_a_fresh_process_gives_the_same_bytes(finding: Callable[..., Finding], band: Callable[..., BandUsed]) -> None:
    found = finding(band=band(), alone=65)
    code = (
        "import sys; from reportgen.drawing import strip; from reportgen.records.told import ToldFinding\n"
        "sys.stdout.buffer.write(strip(ToldFinding.model_validate_json(sys.stdin.read())).svg.encode())"
    )
    told = subprocess.run(
        [sys.executable, "-c", code],
        input=found.model_dump_json(by_alias=True).encode(),
        capture_output=True,
        check=True,
    )
    assert told.stdout.decode() == strip(found).svg


def test_other_records_give_another_picture(finding: Callable[..., Finding], band: Callable[..., BandUsed]) -> None:
    assert strip(finding(62, band=band())).svg != strip(finding(61, band=band())).svg


def test_the_first_thing_in_the_svg_is_its_alternative_text(draw: Callable[[], Drawing]) -> None:
    drawing = draw()
    root = ElementTree.fromstring(drawing.svg)
    assert root.get("role") == "img"
    assert root[0].tag == f"{SVG}title"
    assert root[0].text == drawing.alt


def test_a_name_with_markup_in_it_stays_text(finding: Callable[..., Finding]) -> None:
    drawing = strip(finding(name="Hips <b> & back"))
    assert ElementTree.fromstring(drawing.svg)[0].text.startswith("Hips <b> & back: ")


def test_size_in_points_stands_in_the_svg(draw: Callable[[], Drawing]) -> None:
    drawing = draw()
    root = ElementTree.fromstring(drawing.svg)
    assert root.get("width") == f"{drawing.width_pt:g}pt"
    assert root.get("viewBox") == f"0 0 {drawing.width_pt:g} {drawing.height_pt:g}"


def test_two_pictures_on_one_page_share_no_ids_and_no_inline_style(draw: Callable[[], Drawing]) -> None:
    assert not re.search(r"\b(id|style|href|class)=|<style|url\(", draw().svg)


def test_every_path_starts_on_the_picture(draw: Callable[[], Drawing]) -> None:
    drawing = draw()
    for path in ElementTree.fromstring(drawing.svg).iter(f"{SVG}path"):
        x, y = map(float, re.match(r"M(-?[\d.]+) (-?[\d.]+)", path.get("d")).groups())
        assert 0 <= x <= drawing.width_pt
        assert 0 <= y <= drawing.height_pt


def test_labels_are_text_that_a_reader_finds(draw: Callable[[], Drawing]) -> None:
    said = [text.text for text in ElementTree.fromstring(draw().svg).iter(f"{SVG}text")]
    assert any("°" in (text or "") for text in said)


def test_a_label_with_markup_in_it_stays_text() -> None:
    plate = Plate.blank(90, 20)
    plate.label((2, 5), "A <b> & c", 9)
    (text,) = ElementTree.fromstring(to_svg(plate, "x")).iter(f"{SVG}text")
    assert text.text == "A <b> & c"


@pytest.mark.parametrize(("x", "align", "place"), [
    (1, "right", ("0.5", None)), (89, "left", ("89.5", "end")),
    (1, "center", ("0.5", None)), (45, "center", ("45", "middle")),
])  # fmt: skip
def test_a_label_that_would_leave_the_plate_stands_at_its_edge(x: float, align: Align, place: tuple[str, str]) -> None:
    plate = Plate.blank(90, 20)
    plate.label((x, 5), "in range", 9, align=align)
    (text,) = ElementTree.fromstring(to_svg(plate, "x")).iter(f"{SVG}text")
    assert (text.get("x"), text.get("text-anchor")) == place


def test_a_strip_is_small(finding: Callable[..., Finding], band: Callable[..., BandUsed]) -> None:
    assert len(strip(finding(band=band(), alone=65)).svg) < 4_000


def test_the_figure_of_a_lesson_can_also_be_a_png(
    finding: Callable[..., Finding], band: Callable[..., BandUsed]
) -> None:
    found = finding(band=band(), alone=65)
    image = Image.open(io.BytesIO(strip_png(found)))
    assert image.size == (453, 84)
    assert image.getpixel((1, 1))[:3] == (0xFF, 0xFD, 0xF8)
    assert strip_png(found) == strip_png(found)


def test_svg_and_png_of_one_plate_do_not_disturb_each_other(
    finding: Callable[..., Finding], band: Callable[..., BandUsed]
) -> None:
    from reportgen.drawing.strip import strip_plate

    plate = strip_plate(finding(band=band()))
    first = to_svg(plate, "x")
    to_png(plate)
    assert to_svg(plate, "x") == first


def _grey_mark(verdict: Verdict) -> np.ndarray:
    plate = Plate.blank(12, 12)
    plate.mark(6, 6, verdict)
    return np.asarray(Image.open(io.BytesIO(to_png(plate, 4))).convert("L"), dtype=float)


@pytest.mark.parametrize(("one", "other"), list(combinations(get_args(Verdict), 2)))
def test_marks_differ_in_grey_print_by_their_shape(one: Verdict, other: Verdict) -> None:
    dark_one, dark_other = _grey_mark(one) < 170, _grey_mark(other) < 170
    assert (dark_one ^ dark_other).sum() > 0.25 * min(dark_one.sum(), dark_other.sum())


def test_only_too_close_to_call_is_open() -> None:
    light = {verdict for verdict in get_args(Verdict) if _grey_mark(verdict)[24, 24] > 200}
    assert light == {"too close to call"}


def test_series_needs_no_pyplot(series: Callable[..., Series]) -> None:
    progress(series([62]))
    assert "matplotlib.pyplot" not in sys.modules
