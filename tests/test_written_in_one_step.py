"""A file is written in one step: the old one or the new one stands there, and nothing is left beside."""

import stat
from pathlib import Path

import pytest

from reportgen.rights import FILE, PUBLISHED_FILE, begun, replacing, write_atomically


@pytest.mark.parametrize("on_disk", [False, True])
def test_the_new_file_takes_the_place_of_the_old_one(tmp_path: Path, on_disk: bool) -> None:
    place = tmp_path / "note.json"
    place.write_bytes(b"a longer old one")
    write_atomically(place, b"new", on_disk=on_disk)
    assert {file.name: file.read_bytes() for file in tmp_path.iterdir()} == {"note.json": b"new"}


def test_whoever_reads_meanwhile_has_the_old_one(tmp_path: Path) -> None:
    place = tmp_path / "note.json"
    place.write_bytes(b"old")
    with replacing(place) as stream:
        stream.write(b"new")
        stream.flush()
        assert place.read_bytes() == b"old"
    assert place.read_bytes() == b"new"


def test_what_cannot_take_its_place_leaves_nothing_beside(tmp_path: Path) -> None:
    place = tmp_path / "note.json"
    (place / "somebody else's").mkdir(parents=True)
    with pytest.raises(OSError, match=r"note\.json"):
        write_atomically(place, b"new")
    assert list(tmp_path.iterdir()) == [place]


def test_what_a_killed_run_has_left_beside_does_no_harm(tmp_path: Path) -> None:
    place = tmp_path / "note.json"
    begun(place).write_bytes(b"half of a longer one")
    write_atomically(place, b"new")
    assert {file.name: file.read_bytes() for file in tmp_path.iterdir()} == {"note.json": b"new"}


@pytest.mark.parametrize(("rights", "mode"), [(FILE, 0o600), (PUBLISHED_FILE, 0o644)])
def test_others_can_read_what_is_published_and_nothing_else(tmp_path: Path, rights: int, mode: int) -> None:
    place = tmp_path / "page.html"
    write_atomically(place, b"page", rights)
    assert stat.S_IMODE(place.stat().st_mode) == mode
