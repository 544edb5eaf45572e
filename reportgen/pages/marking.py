"""The page on which points are set on stills: one file with everything inside, that asks nothing of any host."""

import hashlib
import re
from base64 import b64encode
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple, get_args

from reportgen.errors import ReportgenError
from reportgen.languages.conventions import decimal_sign
from reportgen.languages.speaking import say
from reportgen.measuring.formulas import measures
from reportgen.pages.faces import woff2
from reportgen.pages.media import media_type
from reportgen.pages.theme import DEFAULT, shipped_templates
from reportgen.records.academy import MarkingError
from reportgen.records.content import Metric
from reportgen.records.formulas import Difference
from reportgen.records.lesson import Still
from reportgen.records.units import convert
from reportgen.records.words import CHECKPOINTS, Mark, Side, View
from reportgen.saying.wording import mid_sentence, moment_name, slug_name, unit_mark, unit_name, view_name, way_taken
from reportgen.sheets.ball_shifts import smallest_shift
from reportgen.sheets.picture_files import picture_fault
from reportgen.sheets.shipped import shipped

GENERATOR = "reportgen mark"
"""What a marking page says of itself, by which it is known again."""

LARGEST_VIDEO = 60_000_000
"""Bytes above which a video does not travel inside the page."""

UNITS = ("m", "cm", "ft", "in", "yd", "mm")
"""In what lengths are typed, in the order of the lists that offer them."""

STYLES = ("style.css", "mark.css")
SCRIPTS = (
    "mark-words.js",
    "mark-measures.js",
    "mark-stands.js",
    "mark-state.js",
    "mark-sheet.js",
    "mark-lists.js",
    "mark-view.js",
    "mark-video.js",
    "mark.js",
    "mark-files.js",
)


def marking_page(
    pictures: Sequence[Path], video: Path | None, metrics: Mapping[str, Metric], followed: Sequence[str] = ()
) -> str:
    """The marking page as HTML in the language that is being spoken, with the pictures and the video inside.

    It asks for the points of the metrics that are `followed`, where stills give any of them, until all are wanted.
    A video above LARGEST_VIDEO stays outside, and the page asks to open it from disk. Raises ReportgenError where a
    picture is not a whole PNG or JPEG or the video is none, OSError where one cannot be read.
    """
    from_stills = {measure.metric for measure in measures(metrics)}
    given: dict[str, Any] = {
        "files": [_picture(file) for file in pictures],
        "ask": None,
        "followed": [metric for metric in followed if metric in from_stills],
    }
    if video is not None:
        given |= _with_video(video, given["files"])
    return _page(given, metrics)


class Unseen(NamedTuple):
    """A picture that is marked a second time: its moment, the points that are asked for, and the digest of its file, by
    which the marks are known again."""

    file: Path
    still: Still
    plays: Side
    digest: str


def second_look_page(pictures: Sequence[Unseen], marked_by: str | None, metrics: Mapping[str, Metric]) -> str:
    """The marking page for a second look: the pictures without the names of their files and without earlier marks.

    Raises as `marking_page` does.
    """
    files = []
    for number, one in enumerate(pictures, 1):
        asked = {
            "view": one.still.view,
            "checkpoint": one.still.checkpoint,
            "plays": one.plays,
            "asked": [mark for mark in get_args(Mark) if mark in one.still.marks],
            "picture": one.digest,
        }
        files.append({**_picture(one.file), "name": f"{number}{one.file.suffix.lower()}", "again": asked})
    return _page({"files": files, "ask": None, "again": {"marked_by": marked_by}}, metrics)


def _page(given: Mapping[str, Any], metrics: Mapping[str, Metric]) -> str:
    theme = shipped("themes") / DEFAULT
    style = _with_faces("".join((theme / name).read_text(encoding="utf-8") for name in STYLES))
    scripts = [(theme / name).read_text(encoding="utf-8") for name in SCRIPTS]
    moved_px = smallest_shift(MarkingError().click_px)
    every = {
        "again": None,
        "followed": [],
        "measures": measures_given(metrics),
        "moved_px": moved_px,
        **_names(),
        **given,
    }
    template = shipped_templates().get_template("mark.html")
    return template.render(
        policy=_policy(style, scripts), generator=GENERATOR, style=style, scripts=scripts, given=every
    )


def is_marking_page(file: Path) -> bool:
    """Whether a file is a page that `marking_page` made. Raises OSError."""
    with file.open("rb") as opened:
        return f'<meta name="generator" content="{GENERATOR}">'.encode() in opened.read(4096)


def _with_faces(style: str) -> str:
    """The style with its faces inside."""
    return re.sub(
        r"url\(faces/([a-z-]+)\.woff2\)",
        lambda face: f"url(data:font/woff2;base64,{b64encode(woff2(face[1])).decode()})",
        style,
    )


def _policy(style: str, scripts: Sequence[str]) -> str:
    """A Content-Security-Policy that runs the page's own scripts and nothing else, and lets nothing be loaded."""
    own = " ".join(map(_hash, scripts))
    return (
        f"default-src 'none'; script-src {own}; style-src {_hash(style)}; font-src data:; img-src data: blob:; "
        "media-src data: blob:; base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    return f"'sha256-{b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _names() -> dict[str, Any]:
    """How points, checkpoints, views and units are called, and what stands before the decimals."""
    return {
        "points": {point: slug_name(point) for point in get_args(Mark)},
        "checkpoints": {checkpoint: mid_sentence(moment_name(checkpoint)) for checkpoint in CHECKPOINTS},
        "views": {view: view_name(view) for view in get_args(View)},
        "units": [(unit, unit_name(unit)) for unit in UNITS],
        "one_picture": way_taken("still", 1),
        "decimal": decimal_sign(),
    }


def measures_given(metrics: Mapping[str, Metric]) -> list[dict[str, Any]]:
    """Every metric that stills or the video give: its words, its formula, and what each way of measuring it must
    see."""
    found = [
        {
            **_words_of(metrics[measure.metric]),
            "formula": _formula(metrics[measure.metric], metrics),
            "factor": convert(1.0, measure.unit, metrics[measure.metric].unit),
            "ways": [
                {"seen": way.seen, "checkpoints": way.checkpoints, "compares_places": way.compares_places}
                for way in measure.ways
            ],
        }
        for measure in measures(metrics)
    ]
    return found + [_words_of(metrics[name]) for name in ("tempo-ratio",) if name in metrics]


def _words_of(metric: Metric) -> dict[str, Any]:
    return {
        "metric": metric.id,
        "name": metric.name,
        "mark": unit_mark(metric.unit),
        "decimals": metric.decimals,
        "plus": metric.sign.plus if metric.sign else None,
        "minus": metric.sign.minus if metric.sign else None,
    }


def _formula(metric: Metric, metrics: Mapping[str, Metric]) -> dict[str, Any]:
    """A formula as the page reads it: with its moment, and the formulas of a difference in the place of their names."""
    if metric.stills is None:
        return {}
    measurand = metric.stills.measurand
    if isinstance(measurand, Difference):
        return {"difference": [_formula(metrics[name], metrics) for name in (measurand.of, measurand.less)]}
    return {metric.stills.kind: measurand.model_dump(by_alias=True, exclude_none=True), "at": metric.checkpoint}


def _picture(file: Path) -> dict[str, str]:
    if fault := picture_fault(file):
        raise ReportgenError(f"{file}: {fault[0]}. {fault[1]}")
    return _packed(file, media_type(file.name) or "image/png")


def _with_video(file: Path, files: list[dict[str, str]]) -> dict[str, Any]:
    kind = media_type(file.name) or ""
    if not kind.startswith("video/"):
        raise ReportgenError(f"{file}: the file is not a video. Give an MP4 (H.264) or WebM file.")
    if file.stat().st_size > LARGEST_VIDEO:
        says = say("{name} is too large to travel inside this page. Open it from this device.", name=file.name)
        return {"ask": says}
    return {"files": [*files, _packed(file, kind)]}


def _packed(file: Path, kind: str) -> dict[str, str]:
    return {"name": file.name, "type": kind, "data": b64encode(file.read_bytes()).decode()}
