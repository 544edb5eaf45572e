"""What a drawing of shots says, in sentences and in short labels."""

from math import floor, log10

from reportgen.languages.speaking import later, say, say_count
from reportgen.records.patterns import ShotsOfDay
from reportgen.records.shots import FACE, FacePlace
from reportgen.records.told_shots import ToldShots, ToldStrike
from reportgen.records.units import convert
from reportgen.saying.patterns import LengthUnit, flew_says, landed_says, struck_says
from reportgen.saying.shots import places_said
from reportgen.saying.wording import amount, day, short_day

_LABELS = frozenset(
    (later("target"), later("trail side"), later("lead side"), later("heel"), later("toe"), later("now"))
)  # fmt: skip
_TICKS = 3
"""Carries that are written beside a drawing, about."""


def label_of(word: str) -> str:
    """A short label of a drawing of shots. Raises ValueError for a word that is none."""
    if word not in _LABELS:
        raise ValueError(f"no label of a drawing of shots is {word}")
    return say(word)


def day_label(shots: ToldShots, of: ShotsOfDay) -> str:
    """Which day it is: `now`, or the date."""
    return label_of("now") if of is shots.now else short_day(of.on)


def widened_label(times: int) -> str:
    """How many times as wide as long a drawing is."""
    return say("sideways × {times}", times=times)


def carry_labels(low: float, high: float, unit: LengthUnit) -> list[tuple[float, str]]:
    """Round carries between two, in m, with their words in the reader's unit."""
    first, last = convert(low, "m", unit), convert(high, "m", unit)
    rough = (last - first) / _TICKS
    power = 10.0 ** floor(log10(rough))
    step = next(power * nice for nice in (1, 2, 2.5, 5, 10) if power * nice >= rough)
    found, tick = [], step * (floor(first / step) + 1)
    while tick < last:
        found.append((convert(tick, unit, "m"), amount(tick, unit, 0 if step == round(step) else 1)))
        tick += step
    return found


def of_landed(shots: ToldShots, of: ShotsOfDay) -> str:
    """The sentences for the landing places of one day."""
    seen = say("{shots}, {day}: landing places from above, the target ahead.", shots=shots.name, day=day(of.on))
    line = (
        [say("Dashed line: about 8 of your next 10 shots land inside it.")]
        if of.pattern and of.pattern.next_shot
        else []
    )
    return " ".join([seen, *_drawn(len(of.landed), of), *line, *landed_says(of, shots.unit)])


def of_flights(shots: ToldShots, of: ShotsOfDay, times: int) -> str:
    """The sentences for the flights of one day."""
    seen = say("{shots}, {day}: flights from above, the target ahead.", shots=shots.name, day=day(of.on))
    wide = [say_count("Drawn as wide as it is.", "Drawn {count} times as wide as it is.", count=times)]
    flown = of.flights
    return " ".join(
        [seen, *(wide if times > 1 else []), *(flew_says(flown, shots.unit) if flown else ())],
    )


def of_struck(shots: ToldShots, of: ShotsOfDay) -> str:
    """The sentences for the places on the face of one day."""
    seen = say("{shots}, {day}: places on the face, seen from the front.", shots=shots.name, day=day(of.on))
    return " ".join([seen, *(struck_says(of.struck) if of.struck else ())])


def of_strike(strike: ToldStrike, places: dict[FacePlace, int]) -> str:
    """The sentence for counted strikes."""
    count = sum(places[place] for place in FACE)
    return say("Places on the face, seen from the front: of {of} shots {places}.", of=count, places=places_said(places))


def _drawn(drawn: int, of: ShotsOfDay) -> list[str]:
    whole = of.pattern.shots if of.pattern else 0
    return [say("{drawn} of {shots} shots are drawn.", drawn=drawn, shots=whole)] if drawn < whole else []
