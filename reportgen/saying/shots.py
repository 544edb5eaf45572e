"""Counted shots in words: the number with its long run, and what earlier dates say of it."""

from reportgen.languages.speaking import later, say
from reportgen.records.shot_findings import CountFound, ShotCourse, StrikeFound, TwoCounts
from reportgen.records.shots import FACE, FacePlace, Size
from reportgen.records.told_shots import ToldCount, ToldStrike
from reportgen.records.units import convert
from reportgen.records.words import UnitSystem
from reportgen.saying.wording import amount, club_name, day, listed
from reportgen.sheets.library import Library

MANY = 100
"""More shots on one date are not spoken of."""

_SIZES: dict[Size, str] = {
    "width": later("{length} wide"),
    "distance": later("{length} away"),
    "radius": later("radius {length}"),
}
_PLACES: dict[FacePlace, str] = {
    "heel": later("{count} towards the heel"),
    "middle": later("{count} in the middle"),
    "toe": later("{count} towards the toe"),
    "high": later("{count} high"),
    "low": later("{count} low"),
}


def told_count(found: CountFound, library: Library, units: UnitSystem) -> ToldCount:
    """A count as its reader is told it; `library` is the reader's."""
    words = {
        "name": count_name(found, library, units),
        "explain": library.counts[found.count].explain if found.count else "",
        "says": _says(found),
        "since": _since(found),
    }
    return ToldCount(**{**dict(found), **words})


def told_strike(found: StrikeFound) -> ToldStrike:
    """Where the shots met the face."""
    says = say("Of {of} shots {places}.", of=found.of, places=places_said(found.places))
    if found.before is not None and found.before_on is not None:
        says += " " + say("On {day}: {places}.", day=day(found.before_on), places=places_said(found.before))
    return ToldStrike(**dict(found), says=says)


def places_said(places: dict[FacePlace, int]) -> str:
    """`3 toward the heel and 7 in the middle`."""
    return listed([say(_PLACES[place], count=places[place]) for place in FACE if places[place]])


def count_name(found: CountFound, library: Library, units: UnitSystem) -> str:
    """`On line (2 m wide, 20 m away), 7-iron`, and when it was counted."""
    name = library.counts[found.count].name if found.count else library.drills[found.drill or ""].title
    sizes = ", ".join(say(_SIZES[size], length=_length(metres, units)) for size, metres in found.sizes.items())
    with_sizes = say("{name} ({sizes})", name=name, sizes=sizes) if sizes else name
    with_club = say("{name}, {club}", name=with_sizes, club=club_name(found.club))
    if found.when == "before":
        return say("{name}, before the lesson’s work", name=with_club)
    return say("{name}, after the lesson’s work", name=with_club) if found.when == "after" else with_club


def _length(metres: float, units: UnitSystem) -> str:
    """A length to aim at, in the unit that it is spoken of; yards and feet where units are imperial, centimetres and
    inches for a gate that a putt goes through."""
    if metres < 0.3:
        unit = "cm" if units == "metric" else "in"
        return amount(convert(metres, "m", unit), unit, 0)
    if units == "metric":
        return amount(metres, "m", 0 if metres == round(metres) else 1)
    unit = "yd" if metres > 9 else "ft"
    shown = convert(metres, "m", unit)
    return amount(shown, unit, 0 if abs(shown - round(shown)) < 0.05 else 1)


def _says(found: CountFound) -> str:
    """`7 of 10 (in the long run 4 to 9)`: the interval in shots of as many."""
    made, of = found.run.made, found.run.of
    low, high = (round(share * of) for share in found.run.interval)
    return say("{made} of {of} (in the long run {low} to {high})", made=made, of=of, low=low, high=high)


def _since(found: CountFound) -> str | None:
    if found.of_today is not None and found.before_work is not None:
        before = found.before_work
        return _two(
            found.of_today, say("Before the lesson’s work it was {made} of {of}.", made=before.made, of=before.of)
        )
    if found.course is not None and found.course.verdict == "has changed":
        return _course(found.course)
    if found.against is None:
        return None
    last = found.earlier[-1]
    return _two(found.against, say("On {day} it was {made} of {of}.", day=day(last.on), made=last.made, of=last.of))


def _two(two: TwoCounts, then: str) -> str:
    if two.verdict == "these two days differ":
        return f"{then} " + say("That is a clear difference. Two days are not enough to know whether it lasts.")
    if two.shots is None or two.shots > MANY:
        return f"{then} " + say("That is no clear change: to settle it, we need far more shots than a lesson has.")
    return f"{then} " + say(
        "That is no clear change: to settle it, we need {shots} shots each time.",
        shots=two.shots,
    )


def _course(course: ShotCourse) -> str:
    if course.by > 0:
        return say("Clearly more since {day}, over {dates} dates.", day=day(course.since), dates=course.dates)
    return say("Clearly fewer since {day}, over {dates} dates.", day=day(course.since), dates=course.dates)
