"""Every shipped safety rule, with a student whom it concerns and one, nearly the same, whom it does not."""

import pytest

from reportgen.judging.safety import Facts, applies, cautions, said_now
from tests.judging.academies import library
from tests.judging.safety_cases import ROWS, STICKS, STIFF
from tests.judging.safety_facts import adult, facts, felt, junior

USUAL = {rule.id for rule in library().rules.values() if rule.when.always}


def test_every_rule_but_the_usual_ones_has_a_row() -> None:
    assert set(ROWS) == set(library().rules) - USUAL


@pytest.mark.parametrize("rule", ROWS)
def test_a_rule_is_said_to_whom_it_concerns_and_to_nobody_else(rule: str) -> None:
    concerned, others = ROWS[rule]
    when = library().rules[rule].when
    assert concerned
    assert others
    assert [of for of in concerned if not applies(when, of)] == []
    assert [of for of in others if applies(when, of)] == []


@pytest.mark.parametrize("of", [adult(), junior(), facts("senior", 70)])
def test_the_usual_cautions_are_said_to_everybody(of: Facts) -> None:
    said = {caution.rule for caution in cautions(library().rules.values(), of)}
    assert said >= USUAL


def test_an_adult_without_complaint_hears_the_usual_cautions_only() -> None:
    assert {caution.rule for caution in cautions(library().rules.values(), adult())} == USUAL


@pytest.mark.parametrize("score", range(1, 11))
def test_a_junior_with_back_pain_is_never_read_by_the_scores_of_adults(score: int) -> None:
    firing = cautions(library().rules.values(), junior(**felt("low-back", score)))
    assert [caution.rule for caution in firing if "Silbernagel" in library().rules[caution.rule].source] == []
    assert any(caution.level == "stop" for caution in firing) == (score >= 2)


@pytest.mark.parametrize("score", range(11))
def test_more_pain_is_never_answered_more_mildly(score: int) -> None:
    def gravest(of: int) -> int:
        levels = [c.level for c in cautions(library().rules.values(), adult(**felt("low-back", of)))]
        return max(("note", "hold", "stop").index(level) for level in levels)

    assert gravest(score) <= gravest(min(score + 1, 10))


def test_beside_a_stop_nothing_speaks_of_how_to_practise_on() -> None:
    hurt = adult(
        club="driver",
        watch=["low-back"],
        hips=STIFF,
        load=STICKS,
        scores={"low-back": (1, 3, 7)},
        **felt("low-back", 7),
    )
    rules = library().rules
    said = said_now(rules, cautions(rules.values(), hurt))
    assert [c.rule for c in said if not c.usual] == [
        "low-back-strong-pain", "low-back-emergency-signs", "low-back-ask-a-doctor-signs",
        "carry-no-bag",
    ]  # fmt: skip
    assert {c.rule for c in said if c.usual} == USUAL


def test_without_a_stop_every_caution_is_said() -> None:
    firing = cautions(library().rules.values(), adult(watch=["low-back", "neck"], hips=STIFF))
    assert said_now(library().rules, firing) == firing
