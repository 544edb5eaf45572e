"""Films made by rule with ffmpeg, tiny ones: each picture has its number in it, in eight black or white blocks."""

import io
import subprocess
from pathlib import Path
from typing import NamedTuple

import numpy as np

WIDTH, HEIGHT, BITS, BLOCK = 128, 96, 8, 16
MATRICES = {
    0: (1, 0, 0, 1), 90: (0, 1, -1, 0), 180: (-1, 0, 0, -1), 270: (0, -1, 1, 0),
}  # fmt: skip
"""a, b, c, d of the display matrix for a film that was held turned; degrees clockwise to turn it upright
(ISO/IEC 14496-12, 8.3.2)."""


class Made(NamedTuple):
    """How a film is made; `uneven` lets every third picture come late. HEVC has open groups, as phones pack it."""

    codec: str = "libx264"
    depth: int = 8
    rate: float = 30
    turned: int = 0
    pictures: int = 20
    uneven: bool = False
    sound: bool = False
    mirrored: bool = False

    @property
    def times(self) -> list[float]:
        """When each picture is, in seconds."""
        late = [0.3 / self.rate if self.uneven and number % 3 == 2 else 0.0 for number in range(self.pictures)]
        return [number / self.rate + after for number, after in enumerate(late)]


def upright(number: int) -> np.ndarray:
    """The picture of a number: blocks of its bits along the top, the lowest on the left; below it is red on the left,
    blue on the right."""
    picture = np.zeros((HEIGHT, WIDTH, 3), np.uint8)
    picture[HEIGHT // 2 :, : WIDTH // 2], picture[HEIGHT // 2 :, WIDTH // 2 :] = (220, 0, 0), (0, 0, 220)
    for bit in range(BITS):
        picture[: HEIGHT // 2, bit * BLOCK : (bit + 1) * BLOCK] = 255 if number >> bit & 1 else 0
    return picture


def number_in(picture: np.ndarray) -> int:
    """The number that a picture of any size shows; -1 where it does not lie upright."""
    height, width = picture.shape[:2]
    left, right = picture[height * 3 // 4, width // 4].astype(int), picture[height * 3 // 4, width * 3 // 4].astype(int)
    if not (left[0] > 150 > left[2] and right[2] > 150 > right[0] and (width > height) == (WIDTH > HEIGHT)):
        return -1
    middles = ((np.arange(BITS) + 0.5) * width / BITS).astype(int)
    return sum(1 << bit for bit in range(BITS) if picture[height // 4, middles[bit]].mean() > 127)


def make(file: Path, made: Made, *options: str) -> Path:
    """The film in `file`; `options` go to ffmpeg before it."""
    pictures = [upright(number % 256) for number in range(made.pictures)]
    stored = [np.rot90(one, made.turned // 90) for one in pictures]  # np.rot90 turns the other way
    if made.mirrored:
        stored = [one[:, ::-1] for one in stored]
    height, width = stored[0].shape[:2]
    late = r"+0.3*eq(mod(N\,3)\,2)" if made.uneven else ""
    groups = "keyint=8:min-keyint=8:bframes=3:log-level=none:pools=1:frame-threads=1"
    run(
        *("-f", "rawvideo", "-pix_fmt", "rgb24", "-s", f"{width}x{height}", "-r", str(made.rate), "-i", "-"),
        *(("-f", "lavfi", "-i", "sine=frequency=500:sample_rate=48000") if made.sound else ()),
        *(
            "-vf",
            f"settb=1/90000,setpts=(N{late})/{made.rate}/TB",
            "-fps_mode",
            "passthrough",
            "-enc_time_base",
            "1:90000",
        ),
        *("-video_track_timescale", "90000", "-c:v", made.codec, "-preset", "ultrafast", "-threads", "1"),
        *("-pix_fmt", "yuv420p" if made.depth == 8 else "yuv420p10le", "-crf", "18"),
        *(("-x265-params", groups, "-tag:v", "hvc1") if made.codec == "libx265" else ("-g", "8", "-bf", "2")),
        *(("-c:a", "aac", "-shortest") if made.sound else ()),
        *options,
        str(file),
        given=b"".join(np.ascontiguousarray(one).tobytes() for one in stored),
    )
    a, b, c, d = MATRICES[made.turned]
    turn(file, (-a, -b, c, d) if made.mirrored else (a, b, c, d))
    return file


def run(*arguments: str, given: bytes | None = None) -> None:
    """Runs ffmpeg, quietly; its complaint is raised."""
    done = subprocess.run(["ffmpeg", "-v", "error", "-y", *arguments], input=given, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()


def turn(file: Path, matrix: tuple[int, int, int, int]) -> None:
    """Writes a display matrix into the header of a film's first track."""
    data = bytearray(file.read_bytes())
    at = data.index(b"tkhd") - 4 + 48
    a, b, c, d = (value * 0x10000 for value in matrix)
    nine = (a, b, 0, c, d, 0, 0, 0, 0x40000000)
    out = io.BytesIO(b"".join(value.to_bytes(4, "big", signed=True) for value in nine)).getvalue()
    data[at : at + 36] = out
    file.write_bytes(bytes(data))
