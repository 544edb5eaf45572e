"""Shots and strokes for the tests of pictures."""

from typing import Any

from reportgen.records.report import Shot, Stroke


def make_shot(size: tuple[int, int], **changed: Any) -> Shot:
    """A shot of a picture of this size, without scale and strokes."""
    fields: dict[str, Any] = {"px_per_m": None, "centre": None, "strokes": (), "caption": "Impact", "alt": "Impact."}
    return Shot(file="students/a/stills/impact.png", size=size, **{**fields, **changed})


def make_stroke(*points: tuple[float, float], kind: str = "hips", **changed: Any) -> Stroke:
    """A line through points."""
    return Stroke.model_validate({"kind": kind, "points": points, **changed})
