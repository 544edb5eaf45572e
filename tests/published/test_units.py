"""Factors of units against their definitions and against a second implementation."""

import json
from itertools import permutations
from pathlib import Path

import pint
import pytest

from reportgen.records.units import UNITS, convert, convertible

CASES = json.loads((Path(__file__).parent / "cases" / "units.json").read_text(encoding="utf-8"))
REL = CASES["tolerance_rel"]
OURS = {
    "inch": "in", "foot": "ft", "yard": "yd", "m": "m", "mile/hour": "mph", "km/hour": "km/h", "m/s": "m/s",
    "foot/second": "ft/s", "pound": "lb", "kg": "kg", "degree": "deg", "rad": "rad",
}  # fmt: skip
WITH_US = [case for case in CASES["cases"] if case["frm"] in OURS and case["to"] in OURS]
PINT = {
    "deg": "degree", "in": "inch", "ft": "foot", "yd": "yard", "km/h": "km/hour", "mph": "mile/hour",
    "ft/s": "foot/second", "lb": "pound", "1": "", "%": "percent",
}  # fmt: skip


@pytest.mark.parametrize("case", WITH_US, ids=lambda case: f"{case['frm']} in {case['to']}")
def test_a_factor_is_that_of_its_definition(case):
    """The international yard and pound agreement of 1959 and the SI; NIST SP 811, Appendix B, lists the same factors
    (from memory: the pages were not at hand)."""
    assert convert(1.0, OURS[case["frm"]], OURS[case["to"]]) == pytest.approx(case["factor"], rel=REL)


def test_every_kind_of_unit_but_time_and_ratio_has_a_case_with_a_source():
    assert {UNITS[OURS[case["frm"]]].dimension for case in WITH_US} == {"angle", "length", "mass", "speed"}


PAIRS = [pair for pair in permutations(UNITS, 2) if convertible(*pair)]


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry()


@pytest.mark.parametrize(("from_unit", "to_unit"), PAIRS)
def test_every_conversion_is_that_of_pint(registry, from_unit, to_unit):
    """pint 0.25 as second implementation."""
    theirs = registry.Quantity(37.5, PINT.get(from_unit, from_unit)).to(PINT.get(to_unit, to_unit)).magnitude
    assert convert(37.5, from_unit, to_unit) == pytest.approx(theirs, rel=REL)
