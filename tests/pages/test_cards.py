"""The drills as cards: four to a page on either paper, with what one needs on the practice ground."""

import subprocess
from math import ceil
from pathlib import Path

import pikepdf
import pytest

from reportgen.pages.cards import cards_pdf
from reportgen.records.academy import Academy
from reportgen.records.content import Drill
from reportgen.sheets.academy_folder import Home
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped

ACADEMY = Academy.model_validate(
    {"name": "Lanternfold", "instructor": {"name": "Ilda"}, "secret": "nine slow herons count the tide"}
)


@pytest.fixture(scope="module")
def drills(tmp_path_factory: pytest.TempPathFactory) -> list[Drill]:
    library, problems = load_library(shipped("content"), tmp_path_factory.mktemp("none"))
    assert problems == []
    return sorted(library.drills.values(), key=lambda drill: drill.title)[:10]


@pytest.mark.parametrize(("paper", "width"), [("A4", 595), ("Letter", 612)])
def test_four_to_a_page(drills: list[Drill], tmp_path: Path, paper: str, width: int) -> None:
    file = tmp_path / "cards.pdf"
    file.write_bytes(cards_pdf(drills, Home(tmp_path, ACADEMY.model_copy(update={"paper": paper}))))
    with pikepdf.open(file) as pdf:
        assert len(pdf.pages) == ceil(len(drills) / 4)
        assert int(pdf.pages[0].mediabox[2]) == width
    text = subprocess.run(["pdftotext", str(file), "-"], check=True, capture_output=True, text=True).stdout
    first = " ".join(text.split("\f")[0].split())
    for drill in drills[:4]:
        assert drill.title in first
        assert str(drill.dose) in first
        assert drill.feel.split()[0] in first


def test_a_drill_that_is_too_long_loses_its_set_up_and_no_step(drills: list[Drill], tmp_path: Path) -> None:
    long = "One more sentence that makes this drill far too long for a card. " * 16
    drill = drills[0].model_copy(update={"sections": {"Set-up": long, "Steps": f"1. {long}\n2. The last step."}})
    file = tmp_path / "cards.pdf"
    file.write_bytes(cards_pdf([drill, *drills[1:4]], Home(tmp_path, ACADEMY)))
    with pikepdf.open(file) as pdf:
        assert len(pdf.pages) == 1
    text = subprocess.run(["pdftotext", str(file), "-"], check=True, capture_output=True, text=True).stdout
    assert "The last step." in text
