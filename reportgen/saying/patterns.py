"""Tables of shots in words: where they landed, how they flew, where the face met them, and what earlier dates say.

No sentence has left or right: the trail side is away from the player, for both hands.
"""

from collections.abc import Iterable
from typing import Literal

from reportgen.languages.speaking import later, say, say_count
from reportgen.records.content import SignWords
from reportgen.records.findings import Interval
from reportgen.records.patterns import Flights, Mean, ShotsFound, ShotsOfDay, Struck
from reportgen.records.report import LessonReport
from reportgen.records.shot_findings import AlongAxis, MissSide, Pattern, PatternCourse, Question, TwoPatterns
from reportgen.records.told_shots import ToldShots
from reportgen.records.units import convert
from reportgen.records.words import Surface, UnitSystem
from reportgen.saying.shots import MANY
from reportgen.saying.wording import amount, club_name, day, limits, size

LengthUnit = Literal["m", "yd"]

_NAMES: dict[Surface | None, str] = {
    None: later("{club}, {shots}"),
    "mat": later("{club}, {shots} from a mat"),
    "turf": later("{club}, {shots} from turf"),
}
_DEGREES, _MILLIMETRES = 1, 0
"""Decimals."""
_SMALL = 5.0
"""Lengths of which none is so large have a decimal."""


def told_shots(found: ShotsFound, units: UnitSystem) -> ToldShots:
    """The shots of one club as their reader is told them."""
    unit: LengthUnit = "yd" if units == "imperial" else "m"
    now = found.now
    words = {
        "name": _name(found),
        "unit": unit,
        "landed_says": landed_says(now, unit),
        "flew_says": flew_says(now.flights, unit) if now.flights else (),
        "struck_says": struck_says(now.struck) if now.struck else (),
        "since": _since(found, unit),
    }
    return ToldShots(**{**dict(found), **words})


def told_with_shots(report: LessonReport) -> frozenset[str]:
    """The metrics whose mean stands among the shots of a lesson already, and that are neither followed nor held against
    a range."""
    found: set[str] = set()
    for finding in report.findings:
        of = finding.of_shots
        if of is None or not of.table or finding.band is not None or finding.metric in report.followed:
            continue
        same = (
            one for one in report.patterns if (one.club, one.surface, one.device) == (of.club, of.surface, of.device)
        )
        if any(finding.metric in _means_of(one.now) for one in same):
            found.add(finding.metric)
    return frozenset(found)


def _means_of(now: ShotsOfDay) -> set[str]:
    """What is said of one day on average, by the metrics that have it too."""
    found = {"carry", "side"} if now.pattern else {"carry"} if now.carry else set()
    found |= {"start-direction", "curve"} if now.flights else set()
    if now.struck:
        found |= {"strike-across", "strike-up"} if now.struck.up else {"strike-across"}
    return found


def landed_says(of: ShotsOfDay, unit: LengthUnit) -> tuple[str, ...]:
    """Centre, spread, mishits and miss side of one day."""
    if of.carry is not None:
        return (
            _carried(of.carry, unit),
            say("The table has no column for the side, so we do not know where they landed."),
        )
    if of.pattern is None:
        return (say("We do not know from this table where these shots landed."),)
    said = [
        _carried(of.pattern.carry, unit),
        _sideways(of.pattern, unit),
        *_scatter(of.pattern, unit),
        *_short(of.pattern),
    ]
    return (*said, *([_missed(of.misses)] if of.misses else []))


def flew_says(of: Flights, unit: LengthUnit) -> tuple[str, ...]:
    """Where shots start and to which side they curve, on average."""
    start, curve = of.start, of.curve
    wide = Mean(mean=convert(curve.mean, "m", unit), interval=_converted(curve.interval, "m", unit), shots=curve.shots)
    return (
        _one_of(_STARTS, start, "deg", _DEGREES),
        _one_of(_CURVES, wide, unit, _decimals(*wide.interval)),
    )


def struck_says(of: Struck) -> tuple[str, ...]:
    """Where the face met the ball, on average."""
    across = _one_of(_ACROSS, of.across, "mm", _MILLIMETRES)
    return (across, _one_of(_UP, of.up, "mm", _MILLIMETRES)) if of.up else (across,)


def _name(found: ShotsFound) -> str:
    """`7-iron, 14 shots from a mat (own radar)`."""
    shots = say_count("{count} shot", "{count} shots", count=found.now.shots)
    name = say(_NAMES[found.surface], club=club_name(found.club), shots=shots)
    return say("{shots} ({device})", shots=name, device=found.device) if found.device else name


def _carried(of: AlongAxis | Mean, unit: LengthUnit) -> str:
    carry = _length(of.mean, unit)
    if of.interval is None:
        return say("Carry {carry}.", carry=carry)
    low, high = (max(0.0, end) for end in _converted(of.interval, "m", unit))
    return say("Carry {carry} on average ({range}).", carry=carry, range=limits(low, high, unit, 0))


def _sideways(of: Pattern, unit: LengthUnit) -> str:
    mean = convert(of.side.mean, "m", unit)
    if of.side.interval is None:
        return say("It landed {side}.", side=_on_side(mean, unit, _decimals(mean)))
    ends = _converted(of.side.interval, "m", unit)
    return _one_of(_LANDED, Mean(mean=mean, interval=ends, shots=of.shots), unit, _decimals(*ends))


def _scatter(of: Pattern, unit: LengthUnit) -> Iterable[str]:
    """The spread, and the one that a few wild shots hardly move."""
    if of.side.spread is None or of.carry.spread is None:
        return
    side, carry = (_length(axis.spread.sd, unit) for axis in (of.side, of.carry) if axis.spread)
    yield say("Spread: {side} sideways and {carry} in carry.", side=side, carry=carry)
    if of.side.robust_spread is not None and of.carry.robust_spread is not None:
        side, carry = (_length(spread, unit) for spread in (of.side.robust_spread, of.carry.robust_spread))
        yield say("With wild shots counted less: {side} sideways and {carry} in carry.", side=side, carry=carry)


def _short(of: Pattern) -> Iterable[str]:
    if of.mishits:
        yield say_count(
            "{count} of {of} fell far short and is counted in every figure.",
            "{count} of {of} fell far short and are counted in every figure.",
            count=of.mishits,
            of=of.shots,
        )


def _missed(of: MissSide) -> str:
    counts = {"trail": of.trail, "lead": of.lead}
    if of.side == "trail":
        return say("You miss on the trail side: {trail} landed there and {lead} on the lead side.", **counts)
    if of.side == "lead":
        return say("You miss on the lead side: {lead} landed there and {trail} on the trail side.", **counts)
    return say("No clear miss side: {trail} landed on the trail side and {lead} on the lead side.", **counts)


_LANDED = (
    later("On average they landed {amount} on the trail side ({range})."),
    later("On average they landed {amount} on the lead side ({range})."),
    later("On average they landed on the target line, as far as we can tell ({range})."),
)
_STARTS = (
    later("They start {amount} to the trail side on average ({range}): a push."),
    later("They start {amount} to the lead side on average ({range}): a pull."),
    later("On average they start on the target line, as far as we can tell ({range})."),
)
_CURVES = (
    later("In the air they curve {amount} to the trail side ({range}): a fade."),
    later("In the air they curve {amount} to the lead side ({range}): a draw."),
    later("In the air they curve to neither side on average, as far as we can tell ({range})."),
)
_ACROSS = (
    later("On average the ball met the face {amount} towards the toe ({range})."),
    later("On average the ball met the face {amount} towards the heel ({range})."),
    later("On average the ball met the middle of the face, as far as we can tell ({range})."),
)
_UP = (
    later("It met the face {amount} high ({range})."),
    later("It met the face {amount} low ({range})."),
    later("It met the face neither high nor low, as far as we can tell ({range})."),
)
"""What is said of a mean above 0, below 0, and of one that can be either."""


def _one_of(messages: tuple[str, str, str], of: Mean, unit: str, decimals: int) -> str:
    low, high = of.interval
    above, below, either = messages
    words = _face_words(messages) or _sides()
    if low <= 0 <= high:
        return say(either, range=limits(low, high, unit, decimals, words))
    low, high = sorted((abs(low), abs(high)))
    span = limits(low, high, unit, decimals)
    return say(above if of.mean > 0 else below, amount=size(of.mean, unit, decimals), range=span)


def _face_words(messages: tuple[str, str, str]) -> SignWords | None:
    if messages is _ACROSS:
        return SignWords(plus=say("towards the toe"), minus=say("towards the heel"))
    return SignWords(plus=say("high"), minus=say("low")) if messages is _UP else None


def _sides() -> SignWords:
    return SignWords(plus=say("on the trail side"), minus=say("on the lead side"))


def _on_side(value: float, unit: str, decimals: int) -> str:
    """`4 m on the trail side`."""
    return amount(value, unit, decimals, _sides())


def _length(metres: float, unit: LengthUnit) -> str:
    shown = convert(metres, "m", unit)
    return size(shown, unit, _decimals(shown))


def _decimals(*lengths: float) -> int:
    return 1 if all(abs(length) < _SMALL for length in lengths) else 0


def _converted(interval: Interval, unit: str, to: str) -> Interval:
    low, high = interval
    return convert(low, unit, to), convert(high, unit, to)


def _since(found: ShotsFound, unit: LengthUnit) -> str | None:
    """What earlier dates say: of three or more where these show a change, of the last one otherwise."""
    changed = " ".join(_changed(found.course, unit)) if found.course else ""
    if changed or found.against is None or found.before is None:
        return changed or None
    return " ".join(_two(found.against, day(found.before.on)))


def _two(two: TwoPatterns, then: str) -> Iterable[str]:
    centre = say("The centre is clearly not where it was on {day}.", day=then)
    spread = say("The spread is clearly not what it was on {day}.", day=then)
    differ = [said for said, of in ((centre, two.centre), (spread, two.spread)) if of.verdict != _FEW]
    yield from differ
    if differ:
        yield say("Two days are not enough to know whether it lasts.")
        return
    yield say("These are too few shots to say whether centre or spread differ from {day}.", day=then)
    yield _would_take(two.centre, two.spread)


_FEW = "not enough shots to say"


def _would_take(centre: Question, spread: Question) -> str:
    """How many shots it would take, for both questions or for the one that a lesson can answer."""
    of_centre, of_spread = (of.shots if of.shots is not None and of.shots <= MANY else None for of in (centre, spread))
    if of_centre is not None and of_spread is not None:
        return say(
            "To settle it, we need {centre} shots each time for the centre and {spread} for the spread.",
            centre=of_centre,
            spread=of_spread,
        )
    if of_centre is not None:
        return say(
            "To settle it, we need {shots} shots each time for the centre, and far more for the spread.",
            shots=of_centre,
        )
    if of_spread is not None:
        return say(
            "To settle it, we need {shots} shots each time for the spread, and far more for the centre.",
            shots=of_spread,
        )
    return say("To settle it, we need far more shots than a lesson has.")


def _changed(course: PatternCourse, unit: LengthUnit) -> Iterable[str]:
    side, carry, spread = course.side, course.carry, course.spread
    if side.verdict == "has changed":
        where = {"amount": _length(side.by, unit), "day": day(side.since), "dates": side.dates}
        if side.by > 0:
            yield say("Over {dates} dates since {day} the centre has moved {amount} to the trail side.", **where)
        else:
            yield say("Over {dates} dates since {day} the centre has moved {amount} to the lead side.", **where)
    if carry.verdict == "has changed":
        far = {"amount": _length(carry.by, unit), "day": day(carry.since), "dates": carry.dates}
        if carry.by > 0:
            yield say("Over {dates} dates since {day} the carry has become {amount} longer.", **far)
        else:
            yield say("Over {dates} dates since {day} the carry has become {amount} shorter.", **far)
    if spread.verdict == "has changed":
        wide = {"percent": round(100 * abs(spread.by)), "day": day(spread.since), "dates": spread.dates}
        if spread.by > 0:
            yield say("Over {dates} dates since {day} the spread has become {percent} % larger.", **wide)
        else:
            yield say("Over {dates} dates since {day} the spread has become {percent} % smaller.", **wide)
