"""A lesson whose films were read once; each test has a copy of it."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.desk.conftest import OpenDesk, opened
from tests.desk.films.lessons import DOWN, FACE_ON, FOCUS, WHO, Begun, beside, begun
from tests.publishing.small import link_only, sheets, small_academy


@pytest.fixture(scope="session")
def _read(tmp_path_factory: pytest.TempPathFactory) -> Path:
    academy = link_only(small_academy(tmp_path_factory.mktemp("films") / "academy", WHO))
    desk = opened(academy)
    try:
        lesson = begun(desk)
        with lesson.sheet.open("a", encoding="utf-8") as sheet:
            sheet.write(f"follow: [{', '.join(FOCUS)}]\n")
        for film in (FACE_ON, DOWN):
            assert lesson.drop(film.name, film.read_bytes())[0] == 200
        lesson.moments()
    finally:
        desk.end()
    return academy


@pytest.fixture
def academy(_read: Path, tmp_path: Path) -> Path:
    academy = tmp_path / "academy"
    shutil.copytree(_read, academy)
    shutil.copytree(beside(_read), beside(academy))
    return academy


@pytest.fixture
def lesson(desk: OpenDesk) -> Iterator[Begun]:
    yield Begun(desk, sheets(desk.academy, WHO)[-1].stem)
