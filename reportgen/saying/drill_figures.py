"""What a figure of a drill shows, in sentences made from the same data as the drawing, and the line below it."""

from collections.abc import Iterator, Mapping

from reportgen.languages.speaking import later, say
from reportgen.posing.poses import BASES, setting_of
from reportgen.records.content import Drill
from reportgen.records.drill_figures import (
    Base,
    DrillFigure,
    FigureFoot,
    FigureMove,
    FigureThing,
    HandsAt,
    Held,
    Part,
    Seen,
    Side,
    Thing,
    Way,
)
from reportgen.records.told_practice import ToldFigure
from reportgen.saying.wording import listed
from reportgen.sheets.drill_figures import lines_of

_SEEN: Mapping[Seen, str] = {
    "face-on": later("Seen face-on."),
    "down-the-line": later("Seen down the line."),
    "above": later("Seen from above."),
}
_POSES: Mapping[Base, str] = {
    "address": later("The player is in the set-up."),
    "upright": later("The player stands nearly upright."),
    "sitting": later("The player sits tall."),
    "chip": later("The player is set up for a chip."),
    "putt": later("The player is set up for a putt."),
    "knee-back": later("The hands have swung back to knee height."),
    "hip-back": later("The hands have swung back to hip height."),
    "chest-back": later("The hands have swung back to chest height."),
    "top": later("The player is at the top of the backswing."),
    "impact": later("The player is where the club meets the ball."),
    "knee-through": later("The hands have swung through to knee height."),
    "hip-through": later("The hands have swung through to hip height."),
    "chest-through": later("The hands have swung through to chest height."),
    "finish": later("The player is in the finish."),
}
_BOTH: Mapping[HandsAt, str] = {
    "together": later("The empty hands are together."),
    "shoulder": later("The arms are crossed, with a hand on each shoulder."),
    "chest": later("Both hands are on the chest."),
    "hip": later("A hand is on each hip."),
    "belt": later("A hand is at each side of the belt."),
    "thigh": later("A hand is on each thigh."),
    "knee": later("A hand is on each knee."),
    "crease": later("A hand is in the crease of each hip."),
    "hanging": later("The arms hang down."),
    "neck": later("Both hands are behind the neck."),
    "waist": later("Both hands are behind the waist."),
    "toss": later("Both arms swing straight."),
}
_LEAD: Mapping[HandsAt, str] = {
    "club": later("The lead hand holds the club."),
    "together": later("The lead hand is out in front."),
    "shoulder": later("The lead hand is on the trail shoulder."),
    "chest": later("The lead hand is on the chest."),
    "hip": later("The lead hand is on the lead hip."),
    "belt": later("The lead hand is at the belt."),
    "thigh": later("The lead hand is on the lead thigh."),
    "knee": later("The lead hand is on the lead knee."),
    "crease": later("The lead hand is in the crease of the lead hip."),
    "hanging": later("The lead arm hangs down."),
    "neck": later("The lead hand is behind the neck."),
    "waist": later("The lead hand is behind the waist."),
    "toss": later("The lead arm swings straight."),
}
_TRAIL: Mapping[HandsAt, str] = {
    "club": later("The trail hand holds the club."),
    "together": later("The trail hand is out in front."),
    "shoulder": later("The trail hand is on the lead shoulder."),
    "chest": later("The trail hand is on the chest."),
    "hip": later("The trail hand is on the trail hip."),
    "belt": later("The trail hand is at the belt."),
    "thigh": later("The trail hand is on the trail thigh."),
    "knee": later("The trail hand is on the trail knee."),
    "crease": later("The trail hand is in the crease of the trail hip."),
    "hanging": later("The trail arm hangs down."),
    "neck": later("The trail hand is behind the neck."),
    "waist": later("The trail hand is behind the waist."),
    "toss": later("The trail arm swings straight."),
}
_HELD: Mapping[Held, str] = {
    "iron": later("The player holds an iron."),
    "wedge": later("The player holds a wedge."),
    "putter": later("The player holds a putter."),
    "towel": later("The player holds a rolled towel."),
    "stick": later("The player holds a stick."),
}
_UPRIGHT: Mapping[tuple[Thing, Side], str] = {
    ("wall", "ahead"): later("a wall in front"),
    ("wall", "behind"): later("a wall behind"),
    ("wall", "lead"): later("a wall on the lead side"),
    ("wall", "trail"): later("a wall on the trail side"),
    ("mirror", "ahead"): later("a mirror in front"),
    ("mirror", "behind"): later("a mirror behind"),
    ("mirror", "lead"): later("a mirror on the lead side"),
    ("mirror", "trail"): later("a mirror on the trail side"),
    ("chair", "ahead"): later("a chair in front"),
    ("chair", "behind"): later("a chair behind"),
    ("chair", "lead"): later("a chair on the lead side"),
    ("chair", "trail"): later("a chair on the trail side"),
}
_THINGS: Mapping[Thing, str] = {
    "ball": later("a ball"),
    "tee": later("a tee"),
    "coin": later("a coin"),
    "hole": later("the hole"),
    "towel": later("a towel on the ground"),
    "stick": later("a stick on the ground"),
    "line": later("a line on the ground"),
    "scales": later("scales under a foot"),
    "mark": later("a paper mark"),
}
_PARTS: Mapping[Part, str] = {
    "head": later("the head"),
    "chest": later("the chest"),
    "belt": later("the belt"),
    "seat": later("the seat"),
    "hands": later("the hands"),
    "club": later("the clubhead"),
    "lead-shoulder": later("the lead shoulder"),
    "lead-hip": later("the lead hip"),
    "lead-pocket": later("the lead back pocket"),
    "lead-thigh": later("the lead thigh"),
    "lead-knee": later("the lead knee"),
    "lead-heel": later("the lead heel"),
    "lead-foot": later("the lead foot"),
    "lead-toes": later("the lead toes"),
    "trail-shoulder": later("the trail shoulder"),
    "trail-hip": later("the trail hip"),
    "trail-pocket": later("the trail back pocket"),
    "trail-thigh": later("the trail thigh"),
    "trail-knee": later("the trail knee"),
    "trail-heel": later("the trail heel"),
    "trail-foot": later("the trail foot"),
    "trail-toes": later("the trail toes"),
}
_WAYS: Mapping[Way, str] = {
    "target": later("An arrow points from {part} towards the target."),
    "away": later("An arrow points from {part} away from the target."),
    "ball": later("An arrow points from {part} towards the ball."),
    "back": later("An arrow points from {part} straight back."),
    "up": later("An arrow points up from {part}."),
    "down": later("An arrow points down from {part}."),
}
_TURNED = 12
"""Degrees from which a turn or a lean is told."""
_LIFTED = 1
_OUT = 28
"""Degrees from which a foot is told to be turned out."""
_SHIFTED = 5
"""Centimetres from which it is told that the body has moved."""


def told_figures(drill: Drill) -> tuple[ToldFigure, ...]:
    """The figures of a drill with what they show and the line below each, in the drill's own words."""
    return tuple(
        ToldFigure(
            figure=figure,
            heading=_heading(figure),
            says=_line(figure, drill),
            alt=figure.alt or of_figure(figure),
            wrong=figure.mistake is not None,
        )
        for figure in drill.figures
    )


def _heading(figure: DrillFigure) -> str:
    if figure.mistake is not None:
        return say("Not like this")
    return say("How it begins") if figure.step is None else say("Step {number}", number=figure.step)


def _line(figure: DrillFigure, drill: Drill) -> str | None:
    """The step or the mistake as the drill's text has it; None where a translation has fewer."""
    section, number = ("Steps", figure.step) if figure.mistake is None else ("Common mistakes", figure.mistake)
    lines = lines_of(drill.sections.get(section, ""))
    return lines[number - 1] if number is not None and number <= len(lines) else None


def of_figure(figure: DrillFigure) -> str:
    """The sentences for what is drawn."""
    told = [say(_SEEN[figure.seen]), say(_POSES[figure.pose]), *_hands(figure), *_body(figure), *_feet(figure)]
    if figure.things:
        things = dict.fromkeys(map(_thing, figure.things))
        told.append(say("Also drawn: {things}.", things=listed(list(things))))
    if figure.feel:
        ring = later("A dashed ring is round {parts}.") if figure.mistake else later("A ring is round {parts}.")
        told.append(say(ring, parts=listed([say(_PARTS[part]) for part in figure.feel])))
    told += [_move(move) for move in figure.moves]
    return " ".join(told)


def _move(move: FigureMove) -> str:
    return say(_WAYS[move.to], part=say(_PARTS[move.part]))


def _hands(figure: DrillFigure) -> Iterator[str]:
    setting = setting_of(figure)
    if (lead := setting.lead_hand) == (trail := setting.trail_hand):
        if lead in _BOTH and setting.holds != "towel":
            yield say(_BOTH[lead])
    else:
        yield say(_LEAD[lead])
        yield say(_TRAIL[trail])
    if setting.holds in _HELD:
        yield say(_HELD[setting.holds])


def _body(figure: DrillFigure) -> Iterator[str]:
    setting, base = setting_of(figure), BASES[figure.pose]
    if abs(setting.belt) >= _TURNED:
        yield (
            say("The belt is turned {degrees}° away from the target.", degrees=round(setting.belt))
            if setting.belt > 0
            else say("The belt is turned {degrees}° towards the target.", degrees=round(-setting.belt))
        )
    if abs(setting.chest) >= _TURNED:
        yield (
            say("The chest is turned {degrees}° away from the target.", degrees=round(setting.chest))
            if setting.chest > 0
            else say("The chest is turned {degrees}° towards the target.", degrees=round(-setting.chest))
        )
    if abs(setting.shift - base.shift) >= _SHIFTED:
        toward = setting.shift > base.shift
        yield (
            say("The body has moved towards the target.") if toward else say("The body has moved away from the target.")
        )
    if abs(setting.side_bend - base.side_bend) >= _TURNED:
        away = setting.side_bend > base.side_bend
        yield say("The chest leans away from the target.") if away else say("The chest leans towards the target.")
    for name, knee in (("lead", figure.lead_knee), ("trail", figure.trail_knee)):
        if isinstance(knee, float | int):
            says = (
                later("The lead knee is bent {degrees}°.")
                if name == "lead"
                else later("The trail knee is bent {degrees}°.")
            )
            yield say(says, degrees=round(knee))


def _feet(figure: DrillFigure) -> Iterator[str]:
    setting = setting_of(figure)
    if setting.lead_heel >= _LIFTED:
        yield say("The lead heel is off the ground.")
    if setting.trail_heel >= _LIFTED:
        yield say("The trail heel is off the ground.")
    yield from _foot(
        figure.lead_foot, later("The lead foot is turned out."), later("The lead toes are off the ground.")
    )
    yield from _foot(
        figure.trail_foot, later("The trail foot is turned out."), later("The trail toes are off the ground.")
    )


def _foot(foot: FigureFoot, turned: str, toes: str) -> Iterator[str]:
    if foot.out is not None and foot.out >= _OUT:
        yield say(turned)
    if foot.toes:
        yield say(toes)


def _thing(thing: FigureThing) -> str:
    if thing.what in ("wall", "mirror") and thing.side is not None:
        return say(_UPRIGHT[thing.what, thing.side])
    if thing.what == "chair":
        return say(_UPRIGHT["chair", _side_of(thing)])
    return say(_THINGS[thing.what])


def _side_of(chair: FigureThing) -> Side:
    """On which side of the player a chair is, by where it is furthest from the middle of the stance."""
    toward, ahead = chair.toward or 0.0, chair.ahead or 0.0
    if abs(toward) > abs(ahead):
        return "lead" if toward > 0 else "trail"
    return "ahead" if ahead > 0 else "behind"
