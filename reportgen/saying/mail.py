"""What is different between a lesson as its mail told it and as it is judged now, in one line for the reader."""

from collections.abc import Iterable

from reportgen.languages.speaking import later, say, say_count, speaking
from reportgen.records.as_mailed import AsMailed, MailedValue
from reportgen.records.units import convert, convertible
from reportgen.saying.readers import Reader, library_for
from reportgen.saying.wording import amount, apart, listed, sign_beside, slug_name, verdict_name
from reportgen.sheets.library import Library

NAMED = 3
"""So many values are named; the others are counted."""

_PARTS = {
    "heading": later("the heading"),
    "priorities": later("what to work on"),
    "drills": later("the drills"),
    "tests": later("the tests of the drills"),
    "week": later("the week of practice"),
    "cautions": later("the cautions"),
    "pictures": later("the pictures"),
    "setup": later("the set-up"),
    "shots": later("the shots"),
    "notes": later("the notes"),
    "next lesson": later("when you meet next"),
}
"""The parts of a report besides its values, as the line names them."""


def what_changed(before: AsMailed | None, now: AsMailed, library: Library, reader: Reader) -> str | None:
    """`Side bend at impact is now 31°, in range (it was 29°, too close to call).`; None where a reader sees no change.

    A stop that came or went is said first, then values; changes of plan, cautions and notes are named in general. Of a
    mail of which nothing is known any more (None) it says that much.
    """
    with speaking(reader.language):
        if before is None:
            return say("The whole lesson was written again.")
        return _line(before, now, library_for(reader, library))


def _line(before: AsMailed, now: AsMailed, library: Library) -> str | None:
    said = _values(before, now, library)
    different = [
        say(name)
        for part, name in _PARTS.items()
        if part in now.parts and before.parts.get(part, now.parts[part]) != now.parts[part]
    ]
    if before.stopped != now.stopped:
        stopped, lifted = say("please stop for now, and read the caution first"), say("the stop is taken back")
        said.insert(0, stopped if now.stopped else lifted)
    elif different:
        said.append(say("{parts} changed", parts=listed(different)))
    if not said:
        return None
    line = apart(said)
    return f"{line[0].upper()}{line[1:]}."


def _values(before: AsMailed, now: AsMailed, library: Library) -> list[str]:
    said = list(_changes(before, now, library))
    rest = len(said) - NAMED
    if rest <= 0:
        return said
    return [*said[:NAMED], say_count("{count} more value changed", "{count} more values changed", rest)]


def _changes(before: AsMailed, now: AsMailed, library: Library) -> Iterable[str]:
    def name(metric: str) -> str:
        return library.metrics[metric].name if metric in library.metrics else slug_name(metric)

    for metric, value in now.values.items():
        if metric in before.values:
            then, words = before.values[metric], _words(metric, value, library)
            same = then.verdict == value.verdict and then.value is None
            if not same and (earlier := _words(metric, then, library)) != words:
                yield say("{metric} is now {now} (it was {before})", metric=name(metric), now=words, before=earlier)
    for metric, value in now.values.items():
        if metric not in before.values:
            yield say("{metric} is new: {now}", metric=name(metric), now=_words(metric, value, library))
    for metric in before.values:
        if metric not in now.values:
            yield say("{metric} is taken out", metric=name(metric))


def _words(name: str, mailed: MailedValue, library: Library) -> str:
    """A value with its verdict, as its reader is told it."""
    metric = library.metrics.get(name)
    said = ""
    if mailed.value is not None and metric and mailed.unit and convertible(mailed.unit, metric.unit):
        said = amount(
            convert(mailed.value, mailed.unit, metric.unit), metric.unit, metric.decimals, sign_beside(metric)
        )
    return f"{said}, {verdict_name(mailed.verdict)}" if said else verdict_name(mailed.verdict)
