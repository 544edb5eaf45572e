"""Where each caution of a lesson stands in what a student is given."""

from datetime import date

import pytest

from reportgen.records.report import Caution
from reportgen.saying.cautions import cautions_in_place
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped
from tests.publishing.small import ROOT

LIBRARY = load_library(shipped("content"), ROOT / "no-academy")[0]
BACK, WATCHED, TROLLEY = "low-back-some-pain", "low-back-watched", "carry-no-bag"
ELBOW, STOP, EMERGENCY = "wrist-or-elbow-sore", "low-back-strong-pain", "low-back-emergency-signs"
USUAL = next(rule.id for rule in LIBRARY.rules.values() if rule.when.always)


def places(*rules: str, stopped: bool = False) -> list[str]:
    cautions = [
        Caution(rule=name, level=LIBRARY.rules[name].level, usual=name == USUAL, raised_on=date(2026, 3, 5))
        for name in rules
    ]
    return [caution.place for caution in cautions_in_place(cautions, LIBRARY, stopped=stopped)]


@pytest.mark.parametrize(
    ("rules", "wanted"),
    [
        ([], []),
        ([USUAL], ["everybody"]),
        ([TROLLEY, USUAL], ["full", "everybody"]),
        ([BACK, WATCHED, TROLLEY], ["full", "folded", "folded"]),
        ([BACK, ELBOW, TROLLEY, USUAL], ["full", "full", "folded", "everybody"]),
        ([BACK, TROLLEY, ELBOW], ["full", "folded", "folded"]),
    ],
    ids=["none", "usual", "one", "the same place twice", "two places", "a note comes second"],
)
def test_the_gravest_stands_in_full_and_a_second_that_holds_another_place(rules: list[str], wanted: list[str]) -> None:
    assert places(*rules) == wanted


def test_after_a_stop_what_is_for_a_doctor_at_once_stands_with_it_and_nothing_is_folded() -> None:
    assert places(STOP, EMERGENCY, TROLLEY, USUAL, stopped=True) == ["stop", "stop", "full", "everybody"]
