"""A lesson whose films were read once, at a desk that most tests share; each finds it as it was."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.desk.conftest import opened
from tests.desk.films.lessons import DOWN, FACE_ON, FOCUS, WHO, Begun, begun, beside
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


def copied(academy: Path, to: Path) -> Path:
    shutil.copytree(academy, to)
    shutil.copytree(beside(academy), beside(to))
    return to


@pytest.fixture(scope="session")
def _open(_read: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Begun]:
    academy = copied(_read, tmp_path_factory.mktemp("shared") / "academy")
    desk = opened(academy)
    yield Begun(desk, sheets(academy, WHO)[-1].stem)
    desk.end()


@pytest.fixture
def lesson(_open: Begun, _read: Path) -> Begun:
    """The lesson as it was when its two films had been read."""
    if _open.folder.is_dir():
        for folder in _open.folder.iterdir():
            _open.post(f"films/{folder.name}/remove")
    theirs = _open.sheet.parents[1]
    shutil.rmtree(theirs)
    shutil.copytree(_read / "students" / WHO, theirs)
    shutil.copytree(beside(_read), beside(_open.desk.academy), dirs_exist_ok=True)
    return _open


@pytest.fixture
def academy(_read: Path, tmp_path: Path) -> Path:
    """An academy of a test's own."""
    return copied(_read, tmp_path / "academy")
