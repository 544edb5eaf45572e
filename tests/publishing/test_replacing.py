"""Folders that change places: in one step where the system can, in two where it cannot."""

import errno
import os
from pathlib import Path

import pytest

from reportgen.publishing import replacing
from reportgen.publishing.replacing import remove, replace_folder, write_tree
from tests.publishing.small import contents


@pytest.fixture(params=["one step", "two steps"])
def _steps(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "two steps":
        monkeypatch.setattr(replacing, "_libc", lambda: None)


@pytest.mark.usefixtures("_steps")
def test_the_new_folder_stands_in_the_place_of_the_old_one(tmp_path: Path) -> None:
    write_tree(tmp_path / "place", {"index.html": b"old", "gone.html": b"old"})
    write_tree(tmp_path / "new", {"index.html": b"new", "deep/er.html": b"new"})
    replace_folder(tmp_path / "new", tmp_path / "place", tmp_path / "aside" / "old")
    assert contents(tmp_path / "place") == {"index.html": b"new", "deep/er.html": b"new"}
    assert not (tmp_path / "new").exists()
    assert not (tmp_path / "aside" / "old").exists()


@pytest.mark.usefixtures("_steps")
def test_a_folder_that_was_not_there_before(tmp_path: Path) -> None:
    write_tree(tmp_path / "new", {"index.html": b"new"})
    replace_folder(tmp_path / "new", tmp_path / "s" / "place", tmp_path / "old")
    assert contents(tmp_path / "s" / "place") == {"index.html": b"new"}


@pytest.mark.usefixtures("_steps")
def test_what_cannot_be_put_in_place_leaves_the_old_one(tmp_path: Path) -> None:
    write_tree(tmp_path / "place", {"index.html": b"old"})
    with pytest.raises(FileNotFoundError):
        replace_folder(tmp_path / "never-made", tmp_path / "place", tmp_path / "old")
    assert contents(tmp_path / "place") == {"index.html": b"old"}


def test_a_disk_that_cannot_exchange_gets_two_steps(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Without:
        """A C library on a disk that knows no exchange."""

        def renameat2(self, *_: object) -> int:
            replacing.ctypes.set_errno(errno.EINVAL)
            return -1

    monkeypatch.setattr(replacing, "_libc", Without)
    write_tree(tmp_path / "place", {"index.html": b"old"})
    write_tree(tmp_path / "new", {"index.html": b"new"})
    replace_folder(tmp_path / "new", tmp_path / "place", tmp_path / "old")
    assert contents(tmp_path / "place") == {"index.html": b"new"}


def test_readers_find_a_whole_folder_at_every_moment(tmp_path: Path) -> None:
    """A reader that looks as often as it can while two folders are exchanged again and again."""
    place, going = tmp_path / "place", tmp_path / "going"
    write_tree(place, {"a.html": b"0", "b.html": b"0"})
    going.touch()
    child = os.fork()
    if child == 0:
        for number in range(200):
            write_tree(tmp_path / "new", {name: str(number).encode() for name in ("a.html", "b.html")})
            replace_folder(tmp_path / "new", place, tmp_path / "old")
        going.unlink()
        os._exit(0)
    missing = 0
    while going.exists():
        missing += not place.is_dir()
    os.waitpid(child, 0)
    assert missing == 0
    assert contents(place) == {"a.html": b"199", "b.html": b"199"}


def test_a_folder_is_taken_away_in_one_step(tmp_path: Path) -> None:
    write_tree(tmp_path / "place", {"index.html": b"old"})
    remove(tmp_path / "place", tmp_path / "work" / "old")
    assert not (tmp_path / "place").exists()
    assert not (tmp_path / "work" / "old").exists()
