"""Callum's lessons with their pictures, and the page of their marks. One desk is open for all tests of a session."""

import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from reportgen.films.reading import pictures
from reportgen.films.stills import as_jpeg
from tests.desk.conftest import Browser, OpenDesk, opened
from tests.desk.marking.page import CALLUM, FILMED_SHEET, FOCUS, MOMENTS, Marking, filmed_sheet_of, sheet_of
from tests.publishing.small import ROOT, link_only, small_academy

FILM = ROOT / "tests" / "films"


@pytest.fixture(scope="session")
def kept_academy(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[Path, bytes]]:
    """Callum with two lessons; that of the pictures has two metrics in focus. Every file of his but the pictures."""
    academy = link_only(small_academy(tmp_path_factory.mktemp("marking") / "academy", CALLUM))
    with sheet_of(academy).open("a", encoding="utf-8") as sheet:
        sheet.write(f"follow: [{', '.join(FOCUS)}]\n")
    take_from_film(academy)
    return academy, {file: file.read_bytes() for file in (academy / "students").rglob("*.yaml")}


def take_from_film(academy: Path) -> None:
    """Pictures of a rendered swing, mirrored to Callum's hand, and one of nobody, among his."""
    told = json.loads((FILM / "swing.json").read_text(encoding="utf-8"))["films"]["face-on"]
    numbers = {told["frame"][moment]: moment for moment in MOMENTS}
    for picture in pictures(FILM / told["file"], only=numbers):
        save(academy, numbers[picture.number], picture.pixels[:, ::-1])
    save(academy, "nobody", np.full((854, 480, 3), (90, 120, 70), np.uint8))


def save(academy: Path, name: str, pixels: np.ndarray) -> None:
    file = academy / "students" / CALLUM / "stills" / f"film-{name}.jpg"
    file.write_bytes(as_jpeg(np.ascontiguousarray(pixels)))


@pytest.fixture
def academy(kept_academy: tuple[Path, dict[Path, bytes]]) -> Path:
    """The same with every file as it was in the beginning."""
    academy, files = kept_academy
    for file in {*(academy / "students").rglob("*.yaml"), *academy.glob("rounds/*")} - files.keys():
        file.unlink()
    for file, data in files.items():
        if not file.is_file() or file.read_bytes() != data:
            file.write_bytes(data)
    return academy


@pytest.fixture
def filmed(academy: Path) -> Path:
    """The same with a draft of pictures of the rendered swing, on which nothing is marked."""
    filmed_sheet_of(academy).write_text(FILMED_SHEET, encoding="utf-8")
    return academy


@pytest.fixture(scope="session")
def desk(kept_academy: tuple[Path, dict[Path, bytes]]) -> Iterator[OpenDesk]:
    desk = opened(kept_academy[0])
    yield desk
    desk.end()


@pytest.fixture
def page(browser: Browser) -> Marking:
    return Marking(browser.driver)
