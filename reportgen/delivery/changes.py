"""What the journal keeps of a report whose mail went, so that a later one can say what changed."""

import json
from dataclasses import asdict
from hashlib import sha256
from typing import Any, get_args

from reportgen.records.as_mailed import AsMailed, MailedValue
from reportgen.records.patterns import ShotsOfDay
from reportgen.records.pictures import DrawnStill
from reportgen.records.practice_week import PracticeItem
from reportgen.records.report import LessonReport
from reportgen.records.words import Verdict


def as_mailed(report: LessonReport) -> AsMailed:
    """What is kept of a report."""
    digests = {
        name: sha256(json.dumps(part).encode()).hexdigest()[:16] for name, part in _read_by_a_person(report).items()
    }
    values = {f.metric: MailedValue(f.verdict, f.level.value, f.unit) for f in report.findings}
    return AsMailed(report.stopped, digests, values)


def _read_by_a_person(report: LessonReport) -> dict[str, object]:
    """What a reader sees of each part, as plain values: a later program may hold more in its records."""
    week = report.practice
    first = [[report.ball_first.kind, report.ball_first.count]] if report.ball_first else []
    days = [[day.day.isoformat(), [_part(item) for item in day.items]] for day in week.days] if week else []
    seen: dict[str, object] = {
        "heading": [report.date.isoformat(), report.club, report.focus],
        "priorities": [*first, *([p.metric, p.direction] for p in report.priorities)],
        "drills": [[d.drill, str(d.dose), d.note] for d in report.drills],
        "tests": [[t.drill, [[d.date.isoformat(), d.made, d.of] for d in t.days]] for t in report.tested],
        "week": week and [week.phase, days],
        "cautions": [c.rule for c in report.cautions],
        "pictures": [[p.view, p.checkpoint, p.withheld, _seen(p.still), _seen(p.beside)] for p in report.pictures],
        "setup": [[s.what, s.club, s.word, s.value, s.note] for s in report.setup],
        "shots": _shots(report),
        "notes": report.notes,
    }
    if report.next_lesson is not None:  # where it is not told of any more, a later lesson tells of its own
        seen["next lesson"] = [report.next_lesson.date.isoformat(), report.next_lesson.time, report.next_lesson.place]
    return seen


def _shots(report: LessonReport) -> list[object]:
    """Counts, strikes and tables of this lesson; what they are held against follows from other lessons."""
    counts = [[c.count, c.drill, c.club, c.sizes, c.when, c.run.made, c.run.of, c.note] for c in report.counts]
    strikes = [[s.club, s.places, s.when, s.note] for s in report.strikes]
    tables = [[p.club, p.surface, p.device, p.now.shots, _landed(p.now)] for p in report.patterns]
    return [counts, strikes, tables]


def _landed(day: ShotsOfDay) -> list[float] | None:
    """The centre in whole metres: a later program may reckon the rest otherwise."""
    return None if day.pattern is None else [round(day.pattern.side.mean), round(day.pattern.carry.mean)]


def _part(item: PracticeItem) -> list[object]:
    """A part of a day; where cautions made it a gentler one, its words are other ones."""
    usual = PracticeItem(**{**dict(item), "swing": "full", "driver": item.kind == "mixed"})
    gentler = [item.swing, item.driver] if item.kind in ("slow", "mixed") and item != usual else []
    return [item.kind, item.drill, item.balls or item.swings + item.strokes, str(item.dose), *gentler]


def _seen(still: DrawnStill | None) -> list[object] | None:
    return None if still is None else [still.file, still.caption, [stroke.metric for stroke in still.strokes]]


def written(kept: AsMailed) -> str:
    """What is kept, as JSON."""
    return json.dumps(asdict(kept), ensure_ascii=False, separators=(",", ":"))


def read_mailed(text: str) -> AsMailed | None:
    """What was kept, as it was written; None where there is nothing, or nothing that this program can read."""
    try:
        found: dict[str, Any] = json.loads(text)
        values = {metric: _read_value(value) for metric, value in found["values"].items()}
        first_edition = any("amount" in value for value in found["values"].values())
        parts = {} if first_edition else {str(name): str(digest) for name, digest in found["parts"].items()}
        kept = AsMailed(bool(found["stopped"]), parts, values)
    except (ValueError, TypeError, KeyError, AttributeError):
        return None
    return kept if all(value.verdict in get_args(Verdict) for value in values.values()) else None


def _read_value(found: dict[str, Any]) -> MailedValue:
    """A value; the first edition kept words of this lesson's own number, and called `not judged` `no range`."""
    if "amount" in found:
        return MailedValue("not judged" if found["verdict"] == "no range" else found["verdict"])
    value = found["value"]
    return MailedValue(found["verdict"], value if value is None else float(value), found["unit"])
