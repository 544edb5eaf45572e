"""Making the frames of a lesson from films as phones take them: 1080 x 1920 pixels, 240 pictures a second.

    python -m tests.bench.frames FOLDER [--seconds S]

FOLDER has the two films and the truth of tests/films, or others like them: *.mp4 face-on and down-the-line beside one
*.json. They are scaled, blended up to 240 pictures a second and given the noise of a small sensor, packed at 40 Mbit/s
in groups of half a second; with --seconds the first picture stands still so long before them, as a phone films somebody
who gets ready. Timed is `packed` alone: the films were read before, when their moments were looked for.
"""

import argparse
import sys
import tempfile
from pathlib import Path
from time import process_time

from reportgen.films.packing import packed
from reportgen.films.swings import read_swing
from reportgen.records.words import View
from tests.films.made import run

BOTH_S, LESSON_BYTES = 6.0, 1_500_000
"""Bars: seconds of one core for both films of a lesson, and bytes of its page with two swings."""
VIEWS: dict[View, tuple[str, ...]] = {"face-on": ("fo", "face-on"), "down-the-line": ("dtl", "down-the-line")}


def as_a_phone(film: Path, to: Path, before: float) -> Path:
    """The film as large and as quick as phones take it."""
    still = f",tpad=start_mode=clone:start_duration={before}" if before else ""
    shown = f"scale=1080:1920:flags=bicubic,framerate=fps=240{still},noise=alls=6:allf=t"
    packing = ("-c:v", "libx264", "-preset", "veryfast", "-b:v", "40M", "-g", "120", "-pix_fmt", "yuv420p")
    run("-i", str(film), "-an", "-vf", shown, *packing, str(to))
    return to


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.frames")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seconds", type=float, default=0.0, help="of standing still before the swing")
    parser.add_argument("--plays", choices=("right", "left"), default="right")
    asked = parser.parse_args()
    seconds = weight = 0.0
    with tempfile.TemporaryDirectory() as work:
        for view, names in VIEWS.items():
            film = next(file for file in sorted(asked.folder.glob("*.mp4")) if file.stem.endswith(names))
            large = as_a_phone(film, Path(work) / f"{view}.mp4", asked.seconds)
            swing = read_swing(large, view, asked.plays)
            begun = process_time()
            made = packed(large, view, swing, swing.moments, view)
            took = process_time() - begun
            seconds, weight = seconds + took, weight + len(made.data)
            told = f"{len(swing.track.numbers)} pictures, {len(made.record.times)} frames of {made.record.frame}"
            sys.stdout.write(f"{view}: {told}, {took:.2f} s of a processor, {len(made.data) / 1000:.0f} kB\n")
    sys.stdout.write(f"both: {seconds:.2f} s (bar {BOTH_S:.0f}); twice both, as a page with two dates shows them: ")
    sys.stdout.write(f"{2 * weight / 1e6:.2f} MB (bar {LESSON_BYTES / 1e6:.1f})\n")


if __name__ == "__main__":
    main()
