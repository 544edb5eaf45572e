"""Charts as ready PDF operators: what the page shows is what the SVG file shows, and readers are told the same."""

import subprocess
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
from PIL import Image
from weasyprint.images import SVGImage

from reportgen.drawing import chain, from_above, progress, strip
from reportgen.pages.charts import Chart
from reportgen.pages.pdf import printed
from reportgen.pages.printing import ToPrint
from reportgen.pages.theme import stylesheet
from reportgen.pages.vectors import image_cache
from reportgen.records.academy import Academy
from reportgen.sheets.academy_folder import load_shared
from tests.drawing.conftest import make_band, make_finding, make_series
from tests.judging.academies import write_academy

FINDINGS = {
    "a value out of its range": make_finding(62, band=make_band(), before=65),
    "an open range, which fades": make_finding(62, band=make_band(high=None)),
    "an interval beyond the strip": make_finding(62, 40, band=make_band()),
    "too close to call": make_finding(55, verdict="too close to call", band=make_band()),
    "no range": make_finding(62),
}


def _chart(name: str, drawing: Any) -> Chart:
    return Chart(f"{name}.svg", drawing, round(drawing.width_pt * 96 / 72), round(drawing.height_pt * 96 / 72))


@pytest.fixture(scope="module")
def charts() -> list[Chart]:
    turns = [
        make_finding(value, metric=metric, band=make_band())
        for metric, value in (("pelvis-closed-top", 44), ("thorax-closed-top", 88), ("pelvis-open-impact", 62))
    ]
    drawings = [strip(finding) for finding in FINDINGS.values()]
    drawings += [
        progress(make_series([79, 70, 62], [0, 30, 150], band=make_band())),
        progress(make_series([79, 70, 62], band=make_band(low=None)), small=True),
        from_above(tuple(turns), "right"),
        chain(turns[0], turns[1:]),
    ]
    return [_chart(f"chart-{number}", drawing) for number, drawing in enumerate(drawings)]


@pytest.fixture(scope="module")
def academy(tmp_path_factory: pytest.TempPathFactory) -> tuple[Academy, Path]:
    root = write_academy(tmp_path_factory.mktemp("vectors") / "academy", {})
    shared, _ = load_shared(root)
    assert shared.academy is not None
    return shared.academy, root


def _pdf(charts: list[Chart], academy: tuple[Academy, Path], to: Path, *, drawn: bool) -> Path:
    svg = {f"chart:{chart.file}": (chart.svg.encode(), "image/svg+xml") for chart in charts}
    paintings = {f"chart:{chart.file}": chart.painting for chart in charts} if drawn else {}
    images = "".join(
        f'<p><img src="chart:{c.file}" alt="{c.alt}" style="width: {60 + 7 * k}mm">' for k, c in enumerate(charts)
    )
    squeezed = f'<p><img style="width: 50mm; height: 9mm" src="chart:{charts[0].file}" alt="squeezed">'
    text = f'<!doctype html><html lang="en"><title>Charts</title><body>{images}{squeezed}</body></html>'
    made = printed(ToPrint(text, stylesheet("recap.css", *academy), svg, paintings))
    to.write_bytes(made.pdf or b"")
    return to


def _seen(pdf: Path) -> list[np.ndarray]:
    subprocess.run(["pdftoppm", "-r", "150", "-gray", pdf, pdf.with_suffix("")], check=True)
    pages = sorted(pdf.parent.glob(f"{pdf.stem}-*.pgm"))
    return [np.asarray(Image.open(page)).astype(int) for page in pages]


def test_the_page_looks_as_the_svg_files_do(charts: list[Chart], academy: tuple[Academy, Path], tmp_path: Path) -> None:
    drawn = _seen(_pdf(charts, academy, tmp_path / "drawn.pdf", drawn=True))
    read = _seen(_pdf(charts, academy, tmp_path / "read.pdf", drawn=False))
    assert len(drawn) == len(read)
    for ours, theirs in zip(drawn, read, strict=True):
        assert (ours < 128).sum() > 1000
        differing = np.abs(ours - theirs)
        # A place is rounded to a hundredth of a point in both ways, a curve's handles once more in ours: at the edge of
        # a letter that moves a grey or two.
        assert (differing > 48).sum() < 40
        assert differing.mean() < 0.01


def test_readers_who_do_not_see_are_told_the_same(
    charts: list[Chart], academy: tuple[Academy, Path], tmp_path: Path
) -> None:
    told = []
    for drawn in (True, False):
        with pikepdf.open(_pdf(charts, academy, tmp_path / f"{drawn}.pdf", drawn=drawn)) as pdf:
            told.append(
                [str(o["/Alt"]) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
            )
    assert told[0] == told[1]
    assert sorted(told[0]) == sorted([*(chart.alt for chart in charts), "squeezed"])


def test_charts_stay_drawings_and_become_no_pixels(
    charts: list[Chart], academy: tuple[Academy, Path], tmp_path: Path
) -> None:
    with pikepdf.open(_pdf(charts, academy, tmp_path / "drawn.pdf", drawn=True)) as pdf:
        images = [o for o in pdf.objects if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"]
    assert images == []


def test_an_engine_that_asks_pictures_for_something_else_reads_the_svg_files(
    charts: list[Chart], academy: tuple[Academy, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paintings = {chart.file: chart.painting for chart in charts}
    assert set(image_cache(paintings)) == set(paintings)

    def draw(self: Any, stream: Any, box: Any) -> None:
        """What a later version might ask for."""

    monkeypatch.setattr(SVGImage, "draw", draw)
    assert image_cache(paintings) == {}
