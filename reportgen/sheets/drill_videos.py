"""The video of a drill that is a file beside it."""

from pathlib import Path

from reportgen.records.content import Drill
from reportgen.records.video import is_address
from reportgen.sheets.files import leads_out

LARGEST_VIDEO = 30_000_000
"""Bytes: a browser opens a sealed file as a whole, and from disk a door waits for it no longer than four seconds."""

_HEAD_BYTES = 12
_MP4, _MP4_AT, _WEBM = b"ftyp", 4, b"\x1a\x45\xdf\xa3"
"""How files of the two kinds begin: the box `ftyp` after four bytes of length (ISO/IEC 14496-12, 4.3), and the header
of EBML (RFC 8794, 11.2.1). Both from memory."""


def video_beside(drill: Drill, file: Path) -> Path | None:
    """Where the video of the drill in `file` lies, if it has one that is no address."""
    return None if drill.video is None or is_address(drill.video) else file.parent / drill.video


def video_fault(video: Path) -> tuple[str, str] | None:
    """(what is wrong, how to mend it) of a video; None where it can be published."""
    if leads_out(video, video.parent):
        return "the video is a link out of the drill's folder", "Put the file itself beside the drill."
    try:
        if not video.is_file():
            return "the video is not there", "Put it beside the drill, or look at its name."
        if video.stat().st_size > LARGEST_VIDEO:
            return (
                f"the video is larger than {LARGEST_VIDEO // 10**6} MB",
                "Save it shorter or smaller, or give an address.",
            )
        with video.open("rb") as opened:
            head = opened.read(_HEAD_BYTES)
    except OSError as error:
        return f"the video cannot be read ({error.strerror})", "Look at its name and its rights."
    if head[_MP4_AT:].startswith(_MP4) if video.suffix == ".mp4" else head.startswith(_WEBM):
        return None
    return f"the file is no {video.suffix.removeprefix('.')} video", "Save it as MP4 (H.264) or WebM."
