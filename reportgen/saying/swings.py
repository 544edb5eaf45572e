"""Swings to step through, in words: whose they are, what each frame shows, and which are held side by side."""

from collections.abc import Sequence

from reportgen.languages.speaking import later, say
from reportgen.records.pictures import DrawnSwing, SwingMoment, SwingSeen
from reportgen.records.report import Person
from reportgen.records.told_swings import (
    SwingPair,
    ToldStroke,
    ToldSwing,
    ToldSwingMoment,
    ToldSwingSeen,
    ToldSwingValue,
)
from reportgen.records.units import convert
from reportgen.records.words import CHECKPOINTS, Moment, View
from reportgen.saying.captions import VIEWS, WITHHELD, stroke_value, with_values
from reportgen.saying.wording import amount, day, mid_sentence, moment_name, sign_beside, verdict_name
from reportgen.sheets.library import Library

_NAMES: dict[View, str] = {"face-on": later("Face-on"), "down-the-line": later("Down the line")}


def told_swing(seen: SwingSeen, person: Person, library: Library) -> ToldSwingSeen:
    """A swing in words; `person` is whose lesson it is, `library` the reader's."""
    view = say(VIEWS[seen.view])
    when = say("On {day}", day=day(seen.beside_on)) if seen.beside_on else say("Learning alongside")
    words = {
        "swing": seen.swing and _swing(seen.swing, say("This time, {view}", view=view), person.first_name, library),
        "beside": seen.beside and _swing(seen.beside, f"{when}, {view}", when, library),
        "withheld_says": seen.withheld and say(WITHHELD[seen.withheld]),
    }
    return ToldSwingSeen(**{**dict(seen), **words})


def swing_pairs(swings: Sequence[ToldSwingSeen], opens_at: Moment | None = None) -> tuple[SwingPair, ...]:
    """What is stepped through together: each view with the swing beside it, then both views of the lesson; a view that
    has nothing beside it stands alone where it is the only one. They open at a checkpoint
    of theirs."""
    shown = [(seen, seen.swing) for seen in swings if seen.swing is not None]
    pairs = [
        SwingPair(name=say(_NAMES[seen.view]), sides=(swing, seen.beside))
        for seen, swing in shown
        if seen.beside is not None
    ]
    if len(shown) > 1:
        pairs.append(SwingPair(name=say("Both views"), sides=tuple(swing for _, swing in shown)))
    if not pairs:
        pairs = [SwingPair(name=say(_NAMES[seen.view]), sides=(swing,)) for seen, swing in shown]
    return tuple(
        pair.model_copy(update={"opens_at": opens_at})
        if opens_at in {moment.checkpoint for moment in pair.sides[0].moments}
        else pair
        for pair in pairs
    )


def _swing(swing: DrawnSwing, caption: str, whose: str, library: Library) -> ToldSwing:
    moments = tuple(_moment(moment, whose, library) for moment in swing.moments)
    words = {"caption": caption, "steps": _steps(swing), "moments": moments}
    return ToldSwing(**{**dict(swing), **words})


def _steps(swing: DrawnSwing) -> tuple[str, ...]:
    """Of each frame the checkpoint that it is, or those between which it lies."""
    at = {moment.frame: moment_name(moment.checkpoint) for moment in swing.moments}
    names = [moment_name(name) for name in CHECKPOINTS]
    return tuple(at.get(frame) or _between(part, names) for frame, part in enumerate(swing.parts))


def _between(part: float, names: Sequence[str]) -> str:
    if part < 0:
        return say("Before {moment}", moment=mid_sentence(names[0]))
    if part >= len(names) - 1:
        return say("After {moment}", moment=mid_sentence(names[-1]))
    last = min(int(part), len(names) - 2)
    return say("Between {moment} and {next}", moment=mid_sentence(names[last]), next=mid_sentence(names[last + 1]))


def _moment(moment: SwingMoment, whose: str, library: Library) -> ToldSwingMoment:
    name = moment_name(moment.checkpoint)
    values = tuple(
        ToldSwingValue(**dict(value), says=_value(value.metric, value.value, value.unit, library))
        for value in moment.values
    )
    words = {
        "name": name,
        "says": verdict_name(moment.verdict) if moment.verdict else "",
        "alt": with_values(f"{whose}: {mid_sentence(name)}.", [value.says for value in values]),
        "values": values,
        "strokes": tuple(ToldStroke(**dict(one), says=stroke_value(one, library)) for one in moment.strokes),
    }
    return ToldSwingMoment(**{**dict(moment), **words})


def _value(name: str, value: float, unit: str, library: Library) -> str:
    """`Hips open: 57°`."""
    metric = library.metrics[name]
    said = amount(convert(value, unit, metric.unit), metric.unit, metric.decimals, sign_beside(metric))
    return say("{name}: {value}", name=metric.short, value=said)
