"""Where a drill can be seen: an address of the web, or a file beside it."""

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

_ADDRESS = re.compile(r"""https?://[^\s/?#@\\"'<>`]+(?:[/?#][^\s\\"'<>`]*)?""")
_VIDEO_FILE = re.compile(r"[^\W_][\w .()-]*\.(?:mp4|webm)")


def is_address(written: str) -> bool:
    """Whether a text leads to a place of the web, http or https, by whole address."""
    return _ADDRESS.fullmatch(written) is not None


def _read_video(written: Any) -> Any:
    if not isinstance(written, str) or is_address(written.strip()) or _VIDEO_FILE.fullmatch(written.strip()):
        return written
    mend = "Write https://... in full, or the name of an MP4 or WebM file beside the drill, as coin.mp4."
    raise ValueError("is neither an address nor a video beside the drill", mend)


Video = Annotated[
    str,
    BeforeValidator(_read_video, json_schema_input_type=str),
    Field(max_length=300, description="an address, as https://example.org/coin, or a file, as coin.mp4"),
]
