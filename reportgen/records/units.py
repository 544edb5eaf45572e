"""Units and their exact conversion.

Every factor is exact by definition: the yard and pound agreement of 1959 (inch = 25.4 mm, pound = 0.45359237 kg)
and the SI itself; NIST SP 811, Appendix B lists the same. Angles convert through π.
"""

from fractions import Fraction
from math import pi
from typing import NamedTuple


class Unit(NamedTuple):
    """A unit: what it measures, and how many SI units it is (for angles: how many degrees; for
    rotation: turns a minute)."""

    dimension: str
    factor: Fraction


UNITS: dict[str, Unit] = {
    "deg": Unit("angle", Fraction(1)),
    "rad": Unit("angle", Fraction(180 / pi)),
    "mm": Unit("length", Fraction(1, 1000)),
    "cm": Unit("length", Fraction(1, 100)),
    "m": Unit("length", Fraction(1)),
    "in": Unit("length", Fraction(254, 10_000)),
    "ft": Unit("length", Fraction(3048, 10_000)),
    "yd": Unit("length", Fraction(9144, 10_000)),
    "m/s": Unit("speed", Fraction(1)),
    "km/h": Unit("speed", Fraction(10, 36)),
    "mph": Unit("speed", Fraction(44_704, 100_000)),
    "ft/s": Unit("speed", Fraction(3048, 10_000)),
    "kg": Unit("mass", Fraction(1)),
    "lb": Unit("mass", Fraction(45_359_237, 100_000_000)),
    "s": Unit("time", Fraction(1)),
    "ms": Unit("time", Fraction(1, 1000)),
    "rpm": Unit("rotation", Fraction(1)),
    "1": Unit("ratio", Fraction(1)),
    "%": Unit("ratio", Fraction(1, 100)),
    "percent": Unit("ratio", Fraction(1, 100)),
}


def convertible(from_unit: str, to_unit: str) -> bool:
    """Whether both units are known and measure the same thing."""
    return from_unit in UNITS and to_unit in UNITS and UNITS[from_unit].dimension == UNITS[to_unit].dimension


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """`value` in `to_unit`, rounded once. Raises ValueError when the units measure different things."""
    if from_unit == to_unit:
        return value
    if not convertible(from_unit, to_unit):
        raise ValueError(f"{from_unit} does not convert to {to_unit}")
    return float(Fraction(value) * UNITS[from_unit].factor / UNITS[to_unit].factor)
