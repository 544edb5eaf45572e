"""What a file is, by the ending of its name, as browsers are told.

The system is not asked: on Windows any program may have written there that scripts and styles are plain text, and a
browser then takes none of them.
"""

from mimetypes import MimeTypes

_BY_ENDING = MimeTypes()
for _ending, _kind in {
    ".3gp": "video/3gpp",
    ".ics": "text/calendar",
    ".js": "text/javascript",
    ".m4v": "video/x-m4v",
    ".webm": "video/webm",
    ".webp": "image/webp",
    ".woff2": "font/woff2",
}.items():
    _BY_ENDING.add_type(_kind, _ending)


def media_type(name: str) -> str | None:
    """The media type of a file of that name; None where its ending is not known."""
    return _BY_ENDING.guess_type(name)[0]
