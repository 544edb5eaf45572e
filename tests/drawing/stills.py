"""Stills and strokes for the tests of pictures."""

from typing import Any

from reportgen.records.told import ToldStill
from reportgen.records.told_swings import ToldStroke


def make_still(size: tuple[int, int], **changed: Any) -> ToldStill:
    """A still of this size, without scale and strokes."""
    fields: dict[str, Any] = {"px_per_m": None, "centre": None, "strokes": (), "caption": "Impact", "alt": "Impact."}
    return ToldStill(file="students/a/stills/impact.png", size=size, **{**fields, **changed})


def make_stroke(*points: tuple[float, float], kind: str = "line", **changed: Any) -> ToldStroke:
    """A line through points."""
    return ToldStroke.model_validate({"kind": kind, "points": points, **changed})
