"""Stills as phones take them: read upright with their time, whatever their name, or refused in words."""

from datetime import datetime, timedelta, timezone
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from reportgen.films.needs import FilmError
from reportgen.films.stills import as_jpeg, still_picture

TAKEN = datetime(2026, 5, 4, 10, 20, 30, 250_000, timezone(timedelta(hours=2)))
UPRIGHT = np.array([["blue", "red"], ["white", "green"]])
COLOURS = {"red": (255, 0, 0), "green": (0, 255, 0), "blue": (0, 0, 255), "white": (255, 255, 255)}
HEIC = Path(__file__).parent / "turned.heic"
"""Made with libheif's own encoder from four coloured fields, 96 × 48; then an `irot` property was written into it
(ISO/IEC 23008-12, 6.5.10): the picture is turned clockwise by a quarter when it is shown."""
ORIENTATIONS = range(1, 9)


def fields(pixels: np.ndarray) -> np.ndarray:
    """The colours of the four quarters of a picture."""
    height, width = pixels.shape[:2]
    names = []
    for y in (height // 4, height * 3 // 4):
        for x in (width // 4, width * 3 // 4):
            names.append(min(COLOURS, key=lambda name: np.abs(pixels[y, x] - np.array(COLOURS[name], int)).sum()))
    return np.array(names).reshape(2, 2)


def painted(names: np.ndarray, height: int = 64, width: int = 32) -> np.ndarray:
    quarters = np.array([[COLOURS[name] for name in row] for row in names], np.uint8)
    return quarters.repeat(height // 2, axis=0).repeat(width // 2, axis=1)


def lying(upright: np.ndarray, orientation: int) -> np.ndarray:
    """How a picture is stored that the note of `orientation` turns upright (Exif 2.32, 4.6.4 A, tag 274)."""
    ways = {
        1: upright, 2: upright[:, ::-1], 3: upright[::-1, ::-1], 4: upright[::-1],
        5: upright.swapaxes(0, 1), 6: np.rot90(upright, 1), 7: upright[::-1, ::-1].swapaxes(0, 1),
        8: np.rot90(upright, -1),
    }  # fmt: skip
    return np.ascontiguousarray(ways[orientation])


@pytest.mark.parametrize("orientation", ORIENTATIONS)
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_picture_is_read_as_it_was_held(kind: str, orientation: int, tmp_path: Path) -> None:
    notes = Image.Exif()
    notes[274] = orientation
    file = tmp_path / "picture"
    Image.fromarray(lying(painted(UPRIGHT), orientation)).save(file, kind, exif=notes)
    pixels, taken = still_picture(file)
    assert pixels.shape == (64, 32, 3)
    assert (fields(pixels) == UPRIGHT).all()
    assert taken is None


def test_a_heic_is_read_upright_with_its_time() -> None:
    pixels, taken = still_picture(HEIC)
    assert pixels.shape == (96, 48, 3)
    assert (fields(pixels) == UPRIGHT).all()
    assert taken == TAKEN


def test_a_still_is_kept_as_a_jpeg_with_its_time_and_no_other_note(tmp_path: Path) -> None:
    file = tmp_path / "still.jpg"
    file.write_bytes(as_jpeg(painted(UPRIGHT), TAKEN))
    pixels, taken = still_picture(file)
    assert (fields(pixels) == UPRIGHT).all()
    assert taken == TAKEN
    with Image.open(file) as picture:
        assert set(picture.getexif()) == {0x8769}  # the folder of its time; no place (0x8825), no maker


def test_a_jpeg_without_a_time_has_none(tmp_path: Path) -> None:
    (tmp_path / "still.jpg").write_bytes(as_jpeg(painted(UPRIGHT)))
    assert still_picture(tmp_path / "still.jpg").taken is None


def test_a_large_picture_is_brought_to_size(tmp_path: Path) -> None:
    (tmp_path / "still.jpg").write_bytes(as_jpeg(painted(UPRIGHT, 1000, 500)))
    assert still_picture(tmp_path / "still.jpg", longest=200).pixels.shape == (200, 100, 3)


BAD = {
    "empty.jpg": (b"", "empty"),
    "letter.heic": (b"Dear Anna, here is the picture.", "not a picture"),
    "cut.heic": (HEIC.read_bytes()[:600], "broken or cut short"),
    "cut.jpg": (
        as_jpeg(np.random.default_rng(1).integers(0, 255, (64, 64, 3)).astype(np.uint8))[:2000],
        "broken or cut",
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_whole_picture_is_refused_in_words(name: str, tmp_path: Path) -> None:
    data, words = BAD[name]
    (tmp_path / name).write_bytes(data)
    with pytest.raises(FilmError, match=words) as refusal:
        still_picture(tmp_path / name)
    assert str(refusal.value).startswith(f"{name}: ")


@pytest.mark.parametrize("seed", range(8))
def test_a_garbled_heic_is_read_or_refused_and_ends_nothing(seed: int, tmp_path: Path) -> None:
    rng = np.random.default_rng(seed)
    data = bytearray(HEIC.read_bytes())
    for at in rng.integers(0, len(data), 6):
        data[at] = rng.integers(0, 256)
    (tmp_path / "garbled.heic").write_bytes(bytes(data))
    assert outcome(tmp_path / "garbled.heic").startswith(("read", "garbled.heic: "))


def outcome(file: Path) -> str:
    """What becomes of a picture: "read", or the words that refuse it."""
    try:
        still_picture(file)
    except FilmError as refusal:
        return str(refusal)
    return "read"
