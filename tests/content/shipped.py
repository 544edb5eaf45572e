"""The shipped drills and safety rules, read once for their tests."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from reportgen.records.conditions import Condition
from reportgen.records.content import Drill
from reportgen.records.safety import SafetyFile, SafetyRule
from tests.each import for_each, for_each_of

CONTENT = Path(__file__).parents[2] / "content"
DRILL_FILES = sorted((CONTENT / "drills").glob("*.md"))
SAFETY_FILES = sorted((CONTENT / "safety").glob("*.yaml"))


def _judged_sides() -> list[tuple[str, str]]:
    """Each side of each metric on which some band judges."""
    files = [yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((CONTENT / "bands").glob("*.yaml"))]
    return [
        (file["metric"], when)
        for file in files
        for when, limit in (("below", "low"), ("above", "high"))
        if any(limit in band and not band.get("context") for band in file["bands"])
    ]


PRIORITIES = _judged_sides()

COMMON = [
    ("pelvis-closed-top", "below"),
    ("thorax-closed-top", "above"),
    ("separation-top", "above"),
    ("trail-knee-kept", "below"),
    ("seat-forward-impact", "above"),
    ("lead-hip-rise", "below"),
    ("pelvis-open-impact", "below"),
    ("pelvis-open-impact", "above"),
    ("trail-heel-lift-impact", "above"),
    ("side-bend-impact", "above"),
    ("posture-change-impact", "below"),
    ("lead-pressure-impact", "below"),
    ("tempo-ratio", "below"),
]
"""What instructors meet most; for these the plan needs something to rotate."""


def split_front_matter(text: str) -> tuple[dict[str, Any], str]:
    """The front matter and the Markdown below it."""
    _, front, body = text.split("---\n", 2)
    return yaml.safe_load(front), body


def split_sections(body: str) -> dict[str, str]:
    parts = re.split(r"^## (.+)$", body, flags=re.MULTILINE)[1:]
    return {heading: text.strip() for heading, text in zip(parts[::2], parts[1::2], strict=True)}


def load_drill(path: Path) -> Drill:
    front, body = split_front_matter(path.read_text(encoding="utf-8"))
    return Drill.model_validate({**front, "sections": split_sections(body)})


def load_rules() -> list[SafetyRule]:
    files = [SafetyFile.model_validate(yaml.safe_load(path.read_text(encoding="utf-8"))) for path in SAFETY_FILES]
    return [rule for file in files for rule in file.rules]


DRILLS = [load_drill(path) for path in DRILL_FILES]
RULES = load_rules()

each_file = for_each("path", [(path.stem, path) for path in DRILL_FILES])
each_drill = for_each("drill", [(drill.id, drill) for drill in DRILLS])
each_rule = for_each("rule", [(rule.id, rule) for rule in RULES])
each_priority = for_each_of({f"{metric} {when}": {"metric": metric, "when": when} for metric, when in PRIORITIES})
each_common = for_each_of({f"{metric} {when}": {"metric": metric, "when": when} for metric, when in COMMON})


def serving(metric: str, when: str) -> list[Drill]:
    return [drill for drill in DRILLS if any(s.metric == metric and s.when == when for s in drill.serves)]


def conditions(condition: Condition) -> Iterator[Condition]:
    """A condition and all within it."""
    yield condition
    for one in condition.inner:
        yield from conditions(one)
