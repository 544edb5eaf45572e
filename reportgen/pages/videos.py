"""The videos of drills: where they stand in the library, and how pages lead there."""

from collections.abc import Mapping

from reportgen.records.content import Drill
from reportgen.sheets.library import Library


def with_video(drill: Drill, library: Library, at: str) -> Drill:
    """The drill with the address that leads to its video; `at` is the way from its page to the library's folder."""
    place = _place(drill.id, library)
    return drill if place is None else drill.model_copy(update={"video": f"{at}{place}"})


def video_files(library: Library) -> Mapping[str, bytes]:
    """The videos that lie beside drills: path inside the library's folder -> bytes. Each has a folder of its own, so
    that who opens a sealed one opens that alone. Raises OSError."""
    return {str(_place(name, library)): file.read_bytes() for name, file in library.videos.items()}


def _place(drill: str, library: Library) -> str | None:
    file = library.videos.get(drill)
    return None if file is None else f"{drill}/video{file.suffix}"
