"""The swings of a lesson as its page steps through them and its recap prints them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from markupsafe import Markup

from reportgen.drawing.photos import Photo
from reportgen.drawing.swing_frames import PackedPicture, frame_lines, frame_photos, packed_picture
from reportgen.records.told import ToldLesson
from reportgen.records.told_swings import ToldSwing

RECAP_HIGH = 190
"""Pixels of a checkpoint in a recap's row, which is 15 to 23 mm high."""


@dataclass(frozen=True)
class SideOfSwing:
    """A swing ready to publish: its picture, the lines of each moment as SVG, and what the script steps by. `first`
    says whether it is seen as the page opens."""

    swing: ToldSwing
    picture: PackedPicture
    file: str
    lines: tuple[Markup, ...]
    data: Mapping[str, Any]
    first: bool


@dataclass(frozen=True)
class ShownPair:
    """Swings that are stepped through together, by their places among the shown ones, the leading one first."""

    name: str
    sides: tuple[int, ...]


@dataclass(frozen=True)
class ShownSwings:
    """All swings of a lesson's page, and which of them stand side by side; `opens_at` is the moment seen first."""

    sides: tuple[SideOfSwing, ...]
    pairs: tuple[ShownPair, ...]
    opens_at: str | None


def shown_swings(report: ToldLesson, root: Path) -> ShownSwings | None:
    """The swings that may be shown; None where there are none. `root` is the academy's folder. Raises
    BrokenPictureError, OSError."""
    swings = list(dict.fromkeys(swing for pair in report.swing_pairs for swing in pair.sides))
    if not swings:
        return None
    first = report.swing_pairs[0].sides
    sides = tuple(_side(swing, root, first=swing in first) for swing in swings)
    return ShownSwings(
        sides,
        tuple(ShownPair(pair.name, tuple(map(swings.index, pair.sides))) for pair in report.swing_pairs),
        report.swing_pairs[0].opens_at,
    )


def swing_files(shown: ShownSwings | None) -> dict[str, bytes]:
    """The published pictures of a lesson's swings: path below the lesson -> bytes. Each has a folder of its own, so
    that a sealed page does not wait for it."""
    return {side.file: side.picture.data for side in shown.sides} if shown else {}


def recap_frames(report: ToldLesson, root: Path) -> list[dict[str, Any]]:
    """The rows of a recap: of each swing of this lesson its caption and its checkpoints with their pictures. Raises
    BrokenPictureError, OSError."""
    swings = [seen.swing for seen in report.swings if seen.swing is not None]
    return [
        {
            "caption": swing.caption,
            "frames": [
                {"moment": moment, "photo": photo}
                for moment, photo in zip(swing.moments, _recap_photos(swing, root), strict=True)
            ],
        }
        for swing in swings
    ]


def _recap_photos(swing: ToldSwing, root: Path) -> tuple[Photo, ...]:
    return frame_photos(root / swing.file, swing, swing.moments, RECAP_HIGH)


def _side(swing: ToldSwing, root: Path, *, first: bool) -> SideOfSwing:
    source = root / swing.file
    written = source.stat()
    picture = _kept_picture(source, (written.st_mtime_ns, written.st_size))
    file = f"swing-{picture.file.partition('.')[0]}/{picture.file}"
    data = {
        "file": file,
        "columns": swing.columns,
        "size": swing.size,
        "sheet": (picture.width, picture.height),
        "times": swing.times,
        "parts": swing.parts,
        "steps": swing.steps,
    }
    lines = tuple(Markup(frame_lines(moment, swing.size)) for moment in swing.moments)  # noqa: S704  # escaped there
    return SideOfSwing(swing, picture, file, lines, data, first)


@lru_cache(maxsize=16)
def _kept_picture(source: Path, stamp: tuple[int, int]) -> PackedPicture:
    """The picture, kept: one swing stands in several lessons, and pages are made again while their sheet is written."""
    return packed_picture(source)
