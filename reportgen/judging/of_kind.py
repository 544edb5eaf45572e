"""What of a library and of the lessons so far has a place in a lesson of one kind."""

from collections.abc import Sequence
from dataclasses import replace

from reportgen.judging.judgement import Earlier
from reportgen.records.words import LessonKind, fits_kind
from reportgen.sheets.library import Library


def of_kind(library: Library, kind: LessonKind) -> Library:
    """The library without the metrics and drills of other kinds: what is not in it cannot be measured or given."""
    metrics = {name: metric for name, metric in library.metrics.items() if fits_kind(metric.kinds, kind)}
    drills = {name: drill for name, drill in library.drills.items() if fits_kind(drill.kinds, kind)}
    return replace(library, metrics=metrics, drills=drills)


def same_kind(before: Sequence[Earlier], kind: LessonKind) -> list[Earlier]:
    """The earlier lessons of that kind. No other is held against it: what a player does on the course is not what they
    do on the range."""
    return [earlier for earlier in before if earlier.lesson.kind == kind]
