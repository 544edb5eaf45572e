"""The files that lie beside drills: a video, and pictures in the place of drawn figures."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from reportgen.records.content import Drill
from reportgen.sheets.drill_figures import figure_problems, pictures_beside
from reportgen.sheets.drill_videos import video_beside, video_fault
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet


class Beside(NamedTuple):
    """By the id of a drill its video, and its pictures by the number of the figure."""

    videos: dict[str, Path]
    pictures: dict[str, Mapping[int, Path]]


def find_beside(sheet: Sheet[Drill], file: Path, beside: Beside, *, own: bool) -> Iterator[Problem]:
    """Notes what lies beside the drill in `file` in the place of what an earlier drill of its id has, and tells what is
    wrong with it and, where the drill is the academy's `own`, with its figures; those that are shipped are sound."""
    drill = sheet.record
    beside.videos.pop(drill.id, None)
    beside.pictures[drill.id] = pictures_beside(drill, file)
    if own:
        yield from figure_problems(sheet, beside.pictures[drill.id])
    if (video := video_beside(drill, file)) is not None:
        beside.videos[drill.id] = video
        if (fault := video_fault(video)) is not None:
            yield sheet.problem(("video",), *fault)
