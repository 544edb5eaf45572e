"""Pictures as they are unpacked: as little of them as their size on a page takes, and they look the same."""

import subprocess
import sys
import zlib
from io import BytesIO
from pathlib import Path
from struct import pack

import numpy as np
import pytest
from PIL import ExifTags, Image

from reportgen.drawing.photos import PX_PER_M, photo
from tests.drawing.stills import make_still
from tests.drawing.test_photos import LIE, centre_of_red, pixels, red_at

MOST_MIB = 340
"""What one picture may take in a process of its own: the rest of a publish has some 60 MiB more, and may have 400."""


def chunk(kind: bytes, data: bytes) -> bytes:
    return pack(">I", len(data)) + kind + data + pack(">I", zlib.crc32(kind + data))


def png(width: int, height: int, depth: int, colour: int, interlaced: int = 0) -> bytes:
    """A PNG whose rows are all the same (PNG 1.2, 11.2.2: colour 0 is grey, 3 a palette, 4 and 6 let light through)."""
    channels = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[colour]
    passes = [(0, 0, 1, 1)]
    if interlaced:
        passes = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)]
    packed = zlib.compressobj(1)
    data = b""
    for left, top, across, down in passes:
        row = bytes(1 + (len(range(left, width, across)) * channels * depth + 7) // 8)
        data += b"".join(packed.compress(row) for _ in range(top, height, down))
    palette = chunk(b"PLTE", bytes(768)) + chunk(b"tRNS", bytes(256)) if colour == 3 else b""
    heading = pack(">IIBBBBB", width, height, depth, colour, 0, 0, interlaced)
    body = chunk(b"IHDR", heading) + palette + chunk(b"IDAT", data + packed.flush()) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def jpeg(width: int, height: int, mode: str, **how: object) -> bytes:
    into = BytesIO()
    Image.new(mode, (width, height)).save(into, "JPEG", **how)
    return into.getvalue()


def on_its_side() -> Image.Exif:
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    return exif


LARGE = {
    "a PNG that lets light through, its rows interlaced": lambda: png(5000, 5000, 16, 6, 1),
    "a PNG with a palette that lets light through": lambda: png(5000, 5000, 8, 3),
    "a grey PNG of 16 bits": lambda: png(1250, 20000, 16, 0),
    "a JPEG of four colours": lambda: jpeg(8333, 6000, "CMYK"),
    "a JPEG saved in steps": lambda: jpeg(5000, 5000, "CMYK", progressive=True, subsampling=0),
    "a JPEG on its side": lambda: jpeg(8333, 6000, "RGB", exif=on_its_side()),
}
ALONE = """
import sys
from pathlib import Path
from reportgen.drawing.photos import photo
from reportgen.records.told import ToldStill
from reportgen.sheets.picture_files import picture_fault, picture_size
file = Path(sys.argv[1])
assert picture_fault(file) is None, picture_fault(file)
size = picture_size(file)
for scale, middle in ((None, None), (380.0, (size[0] / 2, size[1] / 2))):
    photo(file, ToldStill(file="", size=size, px_per_m=scale, centre=middle, strokes=(), caption="", alt=""))
"""
PEAK = """
for line in open("/proc/self/status"):
    if line.startswith("VmHWM"):  # the process's own: what getrusage tells begins with that of its parent
        print(int(line.split()[1]) // 1024)
"""


def peak_of(program: str, *arguments: Path) -> int:
    """The most memory, in MiB, that a program takes in a process of its own."""
    command = [sys.executable, "-c", program + PEAK, *map(str, arguments)]
    return int(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


@pytest.mark.parametrize("kind", LARGE)
def test_the_largest_pictures_do_not_fill_the_memory(kind: str, tmp_path: Path) -> None:
    file = tmp_path / "large"
    file.write_bytes(LARGE[kind]())
    assert peak_of(ALONE, file) < MOST_MIB


def test_the_memory_of_a_process_of_its_own_is_what_is_measured() -> None:
    assert peak_of("bytearray(500 << 20)") > MOST_MIB > peak_of("")


def test_a_photograph_that_is_read_smaller_looks_the_same(tmp_path: Path) -> None:
    rows, columns = np.mgrid[0:2400, 0:1800]
    waves = 120 + 60 * np.sin(rows / 40) + 50 * np.cos(columns / 25)
    seen = np.stack([waves, np.roll(waves, 300, axis=0), 255 - waves], axis=2)
    Image.fromarray(np.clip(seen, 0, 255).astype(np.uint8)).save(tmp_path / "a.jpg", quality=92)
    with Image.open(tmp_path / "a.jpg") as whole:
        wanted = np.asarray(whole.resize((900, 1200), Image.Resampling.LANCZOS)).astype(int)
    shown = pixels(photo(tmp_path / "a.jpg", make_still((1800, 2400))))
    assert np.abs(shown - wanted).mean() < 2.0


@pytest.mark.parametrize("lies", sorted(LIE))
def test_a_lying_photograph_is_cut_to_the_player(lies: int, tmp_path: Path) -> None:
    lying = red_at((1200, 2000), (300, 1500), half=30)
    for step in LIE[lies]:
        lying = lying.transpose(Image.Transpose[step])
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = lies
    lying.save(tmp_path / "a.jpg", quality=95, exif=exif)
    shown = photo(tmp_path / "a.jpg", make_still((1200, 2000), px_per_m=1000.0, centre=(340.0, 1400.0)))
    left, top = 0.0, 1400.0 - 980.0
    expected = ((300 - left) * PX_PER_M / 1000, (1500 - top) * PX_PER_M / 1000)
    assert centre_of_red(pixels(shown)) == pytest.approx(expected, abs=1)


def test_a_grey_picture_of_16_bits_keeps_its_greys(tmp_path: Path) -> None:
    """Its upper half all became white: a white picture, for those of most cameras."""
    greys = np.tile(np.linspace(0, 65535, 256).astype(np.uint16), (20, 1))
    Image.fromarray(greys).save(tmp_path / "a.png")
    shown = pixels(photo(tmp_path / "a.png", make_still((256, 20))))[10, :, 0]
    assert np.abs(shown - np.arange(256)).max() <= 6
