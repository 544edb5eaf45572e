"""An academy with two metrics and a range of its own, and marked stills of one lesson that give them."""

from pathlib import Path

import numpy as np
import yaml
from PIL import Image

from reportgen.records.stills import Still
from tests.judging.academies import ADULT, ID, write_academy
from tests.measuring import figures, pinhole

STANCE = """\
id: stance-width-setup
name: Stance width at set-up
short: Stance width
checkpoint: setup
unit: cm
explain: How far apart the heels are, along the line to the target.
taken: On stills, by marking both heels at set-up, face-on.
stills: {distance: {from: trail-heel, to: lead-heel, toward: target}}
uncertainty: {by-eye: 6, one-view: 3, two-views: 2, source: "common practice, no source"}
above: {means: The feet are far apart., work_on: Bring your feet closer, because: The hips then turn more freely.}
source: common practice, no source
"""
HANDS = """\
id: hands-height-top
name: Hands above the shoulders at the top
short: Hands height
checkpoint: top
unit: cm
sign: {plus: above, minus: below}
explain: How high the hands are at the top, counted from the shoulders.
taken: On stills, by marking both wrists and both shoulders at the top.
stills: {distance: {from: mid-shoulder, to: mid-wrist, toward: up}}
uncertainty: {by-eye: 10, one-view: 6, two-views: 4, source: "common practice, no source"}
source: common practice, no source
"""
BAND = """\
metric: stance-width-setup
unit: cm
bands:
  - id: our-stance
    for: our players
    low: 20
    high: 30
    basis: instructor
    limits: what we have found to work
    source: our own lessons
"""
METRICS = {"metrics/stance-width-setup.yaml": STANCE, "metrics/hands-height-top.yaml": HANDS}
OWN = {**METRICS, "bands/stance-width-setup.yaml": BAND}
DAY = "2026-03-05"
LEAVE = f"{ADULT}\npictures: {{given_by: Ines Invented, given_on: 2025-01-01}}"
FIGURE = figures.bodies(1, np.random.default_rng(5))
VIEWS = (
    pinhole.View("face-on", 4.0, 1.1, pixels_per_metre=400.0),
    pinhole.View("down-the-line", 4.5, 1.1, 0.3, pixels_per_metre=400.0),
)


def true_stance() -> float:
    """The width of the stance of the one who is drawn, cm."""
    return float(100 * (FIGURE["setup"]["lead-heel"] - FIGURE["setup"]["trail-heel"])[0, 0])


def true_hands() -> float:
    """The height of the hands over the shoulders, cm."""
    top = FIGURE["top"]
    hands, shoulders = ((top[f"lead-{joint}"] + top[f"trail-{joint}"])[0, 2] / 2 for joint in ("wrist", "shoulder"))
    return float(100 * (hands - shoulders))


def marked(*views: pinhole.View, without: tuple[str, ...] = ()) -> list[Still]:
    """The stills of one swing, exactly marked."""
    taken = pinhole.stills(FIGURE, 0, views or VIEWS, np.random.default_rng(0))
    kept = [{name: place for name, place in still.marks.items() if name not in without} for still in taken]
    return [still.model_copy(update={"marks": marks}) for still, marks in zip(taken, kept, strict=True)]


def write(root: Path, stills: list[Still], content: dict[str, str] = OWN, student: str = LEAVE) -> Path:
    """The academy with these files of its own, and a lesson with these stills."""
    lines = yaml.safe_dump({"stills": [_as_written(still) for still in stills]}, sort_keys=False)
    write_academy(root, {DAY: str(lines)}, student)
    for name, text in content.items():
        (root / name).parent.mkdir(exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    pictures = root / "students" / ID / "stills"
    pictures.mkdir(exist_ok=True)
    for still in stills:
        Image.new("1", (pinhole.WIDTH, pinhole.HEIGHT), 1).save(pictures / still.file)
    return root


def _as_written(still: Still) -> dict[str, object]:
    assert still.scale is not None
    assert still.camera is not None
    return {
        "file": f"../stills/{still.file}",
        "view": still.view,
        "checkpoint": still.checkpoint,
        "scale": {"from": list(still.scale.from_), "to": list(still.scale.to), "length": "1.00 m"},
        "camera": {"distance": f"{still.camera.distance.value:.2f} m"},
        "marks": {name: list(place) for name, place in still.marks.items()},
    }
