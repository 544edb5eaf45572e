"""The shipped safety rules: worded so that they inform only, and none that is missing."""

import re
from pathlib import Path
from typing import get_args

import pytest

from reportgen.records.conditions import Condition
from reportgen.records.content import Drill
from reportgen.records.lesson import Comfort
from reportgen.records.safety import SafetyRule
from reportgen.records.words import Site
from reportgen.saying.skipping import leave_out_if
from tests.content.shipped import CONTENT, PRIORITIES, RULES, conditions, each_drill, each_rule

REFERRAL = re.compile(r"\b(doctor|physiotherapist|clinician|emergency)\b")
ILLNESS = r"diagnos|spondyl|fracture|arthrit|tendin|sciatica|hernia|slipped dis|strained|sprain|impinge"
CONDITION_WORDS = re.compile(
    rf"\byou (have|suffer|are suffering|may have|might have|seem to have)\b|{ILLNESS}", re.IGNORECASE
)


def test_rule_ids_are_unique() -> None:
    assert len({rule.id for rule in RULES}) == len(RULES)


def test_the_usual_cautions_are_said_to_everybody() -> None:
    always = {rule.id for rule in RULES if rule.when.always}
    assert always == {"stop-on-pain", "warm-up", "clear-space", "ask-when-pain-lasts", "no-medical-statement"}


def test_there_are_at_least_twenty_five_rules_beyond_the_usual_ones() -> None:
    assert sum(not rule.when.always for rule in RULES) >= 25


def test_every_kind_of_condition_is_used() -> None:
    used = {key for rule in RULES for c in conditions(rule.when) for key in c.model_fields_set}
    assert used == set(Condition.model_fields)


@each_rule
def test_a_rule_never_counts_swings(rule: SafetyRule) -> None:
    """Cautions are said after a stop too, and there no count of swings may stand."""
    assert not re.search(r"\b\d+ (full )?swings?\b|\b\d+ [x×] \d+\b", rule.student)


@each_rule
def test_a_rule_speaks_in_sentences_that_a_fourteen_year_old_can_follow(rule: SafetyRule) -> None:
    sentences = re.split(r"(?<=[.!?:])\s+", rule.student)
    assert [sentence for sentence in sentences if len(sentence.split()) > 40] == []
    assert not re.search(r"\d", rule.student), "figures are for the instructor"


SMALL = r"swings small and slow|small, slow swings|[Kk]eep swings short|below chest height"
FORBIDDEN = {
    "balls": r"[Hh]it no balls",
    "ground": r"[Dd]o not hit the ground",
    "full-swings": rf"[Ll]eave out full swings|{SMALL}",
    "fast-swings": rf"(no|[Ll]eave out|without) fast swings|[Ll]eave out (full|fast) swings|{SMALL}|easy swings"
    r"|fast swings out|no speed sticks|[Ll]eave the speed sticks",
    "driver": r"[Ll]eave the driver|no driver",
    "swings": r"Stop swinging|Stop practising|Do not practise",
}
"""How a text forbids what a rule can forbid. Whoever makes no full swings makes no fast ones."""


@each_rule
def test_a_rule_forbids_in_the_plan_what_its_words_forbid_and_nothing_else(rule: SafetyRule) -> None:
    assert {what for what, words in FORBIDDEN.items() if re.search(words, rule.student)} == set(rule.forbids)


@each_rule
def test_a_rule_has_a_heading_of_a_few_words(rule: SafetyRule) -> None:
    assert rule.label is not None
    assert len(rule.label.split()) <= 6
    assert len(rule.label) <= 40


LONG = {
    "low-back-emergency-signs", "low-back-ask-a-doctor-signs", "junior-back-danger-signs", "low-back-new-under-twenty",
    "junior-low-back-felt", "junior-low-back-pain", "junior-hours",
}  # fmt: skip
"""Lists of signs, and what tells a child everything that it has to do."""


@each_rule
def test_a_rule_says_it_in_about_thirty_words(rule: SafetyRule) -> None:
    assert len(rule.student.split()) <= (85 if rule.id in LONG else 38)


@each_rule
def test_a_rule_speaks_as_a_teacher_does(rule: SafetyRule) -> None:
    machine = (
        r"complain|says anything|feels anything|feels something|this report|the body|struck|strike|toward\b|inward\b"
        r"|lead-hip form|trail-hip form|goes on hurting|;"
    )
    assert not re.search(machine, rule.student)


@each_rule
def test_only_what_is_said_to_everybody_or_to_every_junior_is_usual(rule: SafetyRule) -> None:
    assert rule.concern != "usual" or rule.when.always is True or rule.when.stage == ("junior",)


@each_rule
def test_a_lead_hip_without_room_is_one_that_was_found_to_turn_little(rule: SafetyRule) -> None:
    if re.search(r"lead hip has not much room|gives the hip room", rule.student):
        asked = [c for c in conditions(rule.when) if c.restricted]
        assert [c.restricted for c in asked] == [("lead-hip",)]


@each_rule
def test_the_signs_of_adults_are_for_adults(rule: SafetyRule) -> None:
    if re.search(r"cancer|steroids|fifty|bowels", rule.student):
        whens = list(conditions(rule.when))
        assert any(c.not_ and c.not_.stage == ("junior",) for c in whens) or any(
            c.age and c.age.at_least >= 18 for c in whens
        )


@each_rule
def test_a_stop_says_whom_to_see(rule: SafetyRule) -> None:
    if rule.level == "stop":
        assert REFERRAL.search(rule.student)
        assert REFERRAL.search(rule.instructor)


@each_rule
def test_only_a_hold_holds_sites(rule: SafetyRule) -> None:
    assert bool(rule.holds) == (rule.level == "hold")


@each_rule
def test_a_rule_never_says_what_somebody_has(rule: SafetyRule) -> None:
    assert not CONDITION_WORDS.search(rule.student)
    assert not CONDITION_WORDS.search(rule.instructor)


@pytest.mark.parametrize("path", sorted((CONTENT / "metrics").glob("*.yaml")), ids=lambda path: path.stem)
def test_a_metric_never_says_what_somebody_has(path: Path) -> None:
    assert not re.search(ILLNESS, path.read_text(encoding="utf-8"), re.IGNORECASE)


@each_drill
def test_a_drill_never_says_what_somebody_has(drill: Drill) -> None:
    for text in (drill.aim, leave_out_if(drill) or "", *drill.sections.values()):
        assert not re.search(r"diagnos|arthrit|tendin|sprain", text)


@each_rule
def test_a_source_fits_its_basis(rule: SafetyRule) -> None:
    if rule.basis == "common practice":
        assert rule.source.startswith("common practice")
    elif rule.basis == "memory":
        assert "from memory" in rule.source
    else:
        assert re.search(r"\b(19|20)\d\d\b|NBK\d+", rule.source)


@each_rule
def test_the_pain_scores_say_how_little_stands_behind_them(rule: SafetyRule) -> None:
    if "Silbernagel" in rule.source:
        assert rule.basis == "memory"
        assert "adult Achilles tendinopathy only" in rule.source


@each_rule
def test_the_scores_of_adults_are_not_used_for_juniors(rule: SafetyRule) -> None:
    if "Silbernagel" in rule.source:
        assert any(c.not_ and c.not_.stage == ("junior",) for c in conditions(rule.when))


@each_rule
def test_comfort_is_asked_at_times_that_a_sheet_knows(rule: SafetyRule) -> None:
    times = set(get_args(Comfort.model_fields["when"].annotation))
    assert {when for c in conditions(rule.when) if c.comfort for when in c.comfort.when} <= times


@each_rule
def test_findings_name_known_metrics(rule: SafetyRule) -> None:
    named = {c.finding.metric for c in conditions(rule.when) if c.finding}
    assert named <= {metric for metric, _ in PRIORITIES}


@pytest.mark.parametrize("site", get_args(Site))
def test_every_site_that_hurts_has_a_hold_and_a_stop(site: Site) -> None:
    levels = {rule.level for rule in RULES for c in conditions(rule.when) if c.comfort and site in c.comfort.site}
    assert {"hold", "stop"} <= levels


@pytest.mark.parametrize("site", get_args(Site))
def test_a_watched_site_keeps_its_drills_out(site: Site) -> None:
    assert any(
        site in rule.holds and any(site in (c.watch or ()) for c in conditions(rule.when))
        for rule in RULES
        if rule.level == "hold"
    )


@pytest.mark.parametrize(
    ("name", "signs"),
    [
        ("low-back-emergency-signs", ("numbness between your legs", "passing water", "both legs", "chest", "fall")),
        ("junior-back-danger-signs", ("fever", "at night", "limp", "numb or weak", "toilet", "grown-up")),
    ],
)
def test_low_back_pain_brings_the_signs_that_need_a_doctor_today(name: str, signs: tuple[str, ...]) -> None:
    rule = next(rule for rule in RULES if rule.id == name)
    lowest = [c.comfort.at_least for c in conditions(rule.when) if c.comfort and "low-back" in c.comfort.site]
    assert lowest == [1]
    assert "see a doctor today" in rule.student.lower()
    assert [sign for sign in signs if sign not in rule.student] == []
    assert rule.basis == "published"


@each_rule
def test_nothing_of_a_junior_rule_tells_to_go_on_through_pain(rule: SafetyRule) -> None:
    junior_only = rule.when.all is not None and any(c.stage == ("junior",) for c in rule.when.all)
    if junior_only and any(c.comfort or c.comfort_rises or c.comfort_lasts for c in conditions(rule.when)):
        assert rule.level == "stop" or re.search(r"\bstop\b|\bsee a doctor|\bLeave out full swings", rule.student)


@each_rule
def test_growth_is_told_as_an_estimate(rule: SafetyRule) -> None:
    if any(c.growth for c in rule.when.all or ()):
        assert "right to about a year, no medical statement" in rule.instructor
        assert re.search(r"\bprobably\b|\bmay be\b", rule.student)
