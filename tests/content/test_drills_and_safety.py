"""The shipped drills and safety rules: complete, gentle where they must be, and worded so that they inform only."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import pytest
import yaml

from reportgen.judging.counts import chance_to_pass
from reportgen.records.conditions import Condition
from reportgen.records.content import DRILL_SECTIONS, Drill, SafetyFile, SafetyRule
from reportgen.records.lesson import Comfort
from reportgen.records.words import Site

CONTENT = Path(__file__).parents[2] / "content"
DRILL_FILES = sorted((CONTENT / "drills").glob("*.md"))
SAFETY_FILES = sorted((CONTENT / "safety").glob("*.yaml"))

BOTH_WAYS = (
    "pelvis-closed-top", "pelvis-turn-late", "thorax-closed-top", "separation-top", "trail-hip-load",
    "trail-knee-flex-top", "knee-flex-transition", "lead-hip-rise", "pelvis-open-impact", "thorax-open-impact",
    "lead-knee-flex-impact", "trail-heel-lift-impact", "side-bend-impact", "posture-change-impact",
    "pelvis-shift-impact", "lead-pressure-top", "lead-pressure-impact", "tempo-ratio", "putt-aim", "putt-tempo",
    "chip-lead-weight",
)  # fmt: skip
PRIORITIES = [(metric, when) for metric in BOTH_WAYS for when in ("below", "above")] + [
    ("trail-knee-kept", "below"),
    ("seat-forward-delivery", "above"),
    ("seat-forward-impact", "above"),
]

COMMON = [
    ("pelvis-closed-top", "below"),
    ("thorax-closed-top", "above"),
    ("separation-top", "above"),
    ("trail-knee-kept", "below"),
    ("seat-forward-impact", "above"),
    ("lead-hip-rise", "below"),
    ("pelvis-open-impact", "below"),
    ("pelvis-open-impact", "above"),
    ("trail-heel-lift-impact", "above"),
    ("side-bend-impact", "above"),
    ("posture-change-impact", "below"),
    ("lead-pressure-impact", "below"),
    ("tempo-ratio", "below"),
]
"""What instructors meet most; for these the plan needs something to rotate."""

STRIKING_SITES = {"lead-wrist", "lead-elbow", "trail-elbow"}
CLEAR_SPACE = re.compile(r"\b(clear|nobody)\b", re.IGNORECASE)
REFERRAL = re.compile(r"\b(doctor|physiotherapist|clinician|emergency)\b")
ILLNESS = r"diagnos|spondyl|fracture|arthrit|tendin|sciatica|hernia|slipped dis|strained|sprain|impinge"
CONDITION_WORDS = re.compile(
    rf"\byou (have|suffer|are suffering|may have|might have|seem to have)\b|{ILLNESS}", re.IGNORECASE
)


def split_front_matter(text: str) -> tuple[dict[str, Any], str]:
    """The front matter and the Markdown below it."""
    _, front, body = text.split("---\n", 2)
    return yaml.safe_load(front), body


def split_sections(body: str) -> dict[str, str]:
    parts = re.split(r"^## (.+)$", body, flags=re.MULTILINE)[1:]
    return {heading: text.strip() for heading, text in zip(parts[::2], parts[1::2], strict=True)}


def load_drill(path: Path) -> Drill:
    front, body = split_front_matter(path.read_text(encoding="utf-8"))
    return Drill.model_validate({**front, "sections": split_sections(body)})


def load_rules() -> list[SafetyRule]:
    files = [SafetyFile.model_validate(yaml.safe_load(path.read_text(encoding="utf-8"))) for path in SAFETY_FILES]
    return [rule for file in files for rule in file.rules]


DRILLS = [load_drill(path) for path in DRILL_FILES]
METRIC_KINDS = {
    path.stem: tuple(yaml.safe_load(path.read_text(encoding="utf-8")).get("kinds", ["full-swing"]))
    for path in (CONTENT / "metrics").glob("*.yaml")
}
RULES = load_rules()

each_file = pytest.mark.parametrize("path", DRILL_FILES, ids=lambda path: path.stem)
each_drill = pytest.mark.parametrize("drill", DRILLS, ids=lambda drill: drill.id)
each_rule = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
each_priority = pytest.mark.parametrize(("metric", "when"), PRIORITIES)
each_common = pytest.mark.parametrize(("metric", "when"), COMMON)


def serving(metric: str, when: str) -> list[Drill]:
    return [drill for drill in DRILLS if any(s.metric == metric and s.when == when for s in drill.serves)]


def conditions(condition: Condition) -> Iterator[Condition]:
    """A condition and all within it."""
    yield condition
    for one in condition.inner:
        yield from conditions(one)


# Drills: files


def test_there_are_enough_drills_to_choose_from() -> None:
    assert len(DRILLS) >= 28


@each_file
def test_a_drill_is_named_as_its_file(path: Path) -> None:
    assert load_drill(path).id == path.stem


def test_titles_are_unlike_each_other() -> None:
    assert len({drill.title for drill in DRILLS}) == len(DRILLS)


@each_drill
def test_headings_are_all_there_in_their_order(drill: Drill) -> None:
    assert tuple(drill.sections) == DRILL_SECTIONS
    assert all(drill.sections.values())


@each_file
def test_no_raw_html(path: Path) -> None:
    assert not re.search(r"<[A-Za-z/!]", path.read_text(encoding="utf-8"))


@each_drill
def test_steps_are_three_to_six_and_numbered(drill: Drill) -> None:
    lines = drill.sections["Steps"].splitlines()
    assert 3 <= len(lines) <= 6
    assert [line.split(". ")[0] for line in lines] == [str(n) for n in range(1, len(lines) + 1)]


@each_drill
def test_mistakes_are_bullets(drill: Drill) -> None:
    assert all(line.startswith("- ") for line in drill.sections["Common mistakes"].splitlines())


@each_drill
def test_no_sentence_of_a_drill_is_longer_than_35_words(drill: Drill) -> None:
    sentences = [s for text in drill.sections.values() for s in re.split(r"(?<=[.!?])\s+|\n", text)]
    assert [s for s in sentences if len(s.split()) > 35] == []


@each_drill
def test_sides_are_lead_and_trail(drill: Drill) -> None:
    text = " ".join((drill.title, drill.aim, drill.feel, *drill.sections.values()))
    assert not re.search(r"\b(left|right)[ -](hand|arm|foot|leg|knee|hip|heel|side|shoulder)", text)


@each_drill
def test_a_drill_without_a_citation_says_common_practice(drill: Drill) -> None:
    assert drill.source.startswith("common practice")


# Drills: choice


@each_priority
def test_everything_that_can_be_worked_on_has_a_drill(metric: str, when: str) -> None:
    assert serving(metric, when)


@each_drill
def test_a_drill_serves_only_what_can_be_worked_on(drill: Drill) -> None:
    assert {(s.metric, s.when) for s in drill.serves} <= set(PRIORITIES)


@each_common
def test_common_priorities_can_rotate(metric: str, when: str) -> None:
    drills = serving(metric, when)
    assert len(drills) >= 2
    assert len({(drill.equipment, drill.level, drill.ball) for drill in drills}) >= 2


@pytest.mark.parametrize("site", ["low-back", "lead-knee"])
@each_common
def test_common_priorities_keep_a_drill_when_a_site_is_held(metric: str, when: str, site: str) -> None:
    assert [drill.id for drill in serving(metric, when) if site not in drill.loads]


@each_priority
def test_every_priority_keeps_a_gentle_first_drill_without_a_ball(metric: str, when: str) -> None:
    gentle = [
        drill.id
        for drill in serving(metric, when)
        if drill.level == 1 and not drill.ball and not {"low-back", "lead-knee"} & set(drill.loads)
    ]
    assert gentle


# Drills: safety


@each_drill
def test_clear_space_is_asked_for_wherever_a_club_or_stick_moves(drill: Drill) -> None:
    told = drill.sections["Set-up"] + drill.sections["Steps"]
    if drill.ball or re.search(r"\b(club|iron|wedge|stick)\b", told):
        assert CLEAR_SPACE.search(drill.sections["Set-up"]) or "empty hands" in drill.sections["Set-up"]


@each_drill
def test_striking_a_ball_or_sand_counts_as_work_for_wrists_and_elbows_and_a_putt_does_not(drill: Drill) -> None:
    strikes = drill.kinds != ("putting",) and (drill.ball or drill.id == "line-in-the-sand")
    assert strikes == (set(drill.loads) >= STRIKING_SITES)


@pytest.mark.parametrize("kind", ["putting", "short-game"])
def test_putting_and_the_short_game_have_eight_drills_of_their_own_each(kind: str) -> None:
    assert sum(drill.kinds == (kind,) for drill in DRILLS) >= 8


@pytest.mark.parametrize("kind", ["putting", "short-game"])
def test_a_held_low_back_leaves_drills_for_every_kind(kind: str) -> None:
    assert sum(kind in drill.kinds and "low-back" not in drill.loads for drill in DRILLS) >= 4


@each_drill
def test_a_drill_is_good_for_metrics_of_its_own_kind_alone(drill: Drill) -> None:
    assert {METRIC_KINDS[serves.metric] for serves in drill.serves} <= {drill.kinds}


@pytest.mark.parametrize("count", ["holed", "past-the-hole", "distance-control", "two-putts", "on-line"])
def test_what_is_counted_of_putts_has_a_drill_that_trains_it(count: str) -> None:
    assert [drill.id for drill in DRILLS if "putting" in drill.kinds and count in drill.trains]


@pytest.mark.parametrize("count", ["inside-a-circle", "on-the-landing-spot", "up-and-down", "solid"])
def test_what_is_counted_of_short_shots_has_a_drill_that_trains_it(count: str) -> None:
    assert [drill.id for drill in DRILLS if "short-game" in drill.kinds and count in drill.trains]


@each_drill
def test_a_drill_says_who_should_leave_it_out(drill: Drill) -> None:
    assert drill.skip_if


@each_drill
def test_no_drill_is_done_at_full_pace(drill: Drill) -> None:
    assert drill.dose.pace in ("slow", "easy") or drill.dose.minutes


@each_drill
def test_what_a_drill_says_to_leave_out_for_a_watched_low_back_the_plan_leaves_out_too(drill: Drill) -> None:
    if re.search(r"low back .*watched", drill.skip_if or ""):
        assert "low-back" in drill.loads


# Drills: tests


@each_drill
def test_every_drill_has_a_test(drill: Drill) -> None:
    assert drill.test


@each_drill
def test_a_test_asks_for_no_swing_beyond_one_dose(drill: Drill) -> None:
    assert drill.test
    assert drill.dose.minutes or drill.test.of <= drill.dose.swings


@each_drill
def test_a_drill_without_a_ball_counts_no_balls(drill: Drill) -> None:
    assert drill.test
    counted = f"{drill.test.count} {(drill.test.setting or '').replace('no ball', '')}"
    assert drill.ball or not re.search(r"\bball\b|\bstrike\b", counted)


@each_drill
def test_a_drill_that_some_do_without_the_ground_never_counts_what_the_club_does_to_it(drill: Drill) -> None:
    assert drill.test
    if re.search(r"\bground|grass|turf\b", drill.skip_if or ""):
        assert not re.search(r"\bbrush|grass|divot|turf\b", drill.test.count)


@each_drill
def test_the_easier_form_of_a_drill_for_a_stiff_hip_can_be_counted_too(drill: Drill) -> None:
    """It may leave the ball out, and then no ball is counted."""
    assert drill.test
    if {"lead-hip", "trail-hip"} & set(drill.loads):
        assert "ball" not in drill.test.count


@each_drill
def test_what_counts_is_one_sentence_of_at_most_20_words_that_begins_with_its_thing(drill: Drill) -> None:
    assert drill.test
    assert re.fullmatch(r"An? [\w-]+ counts when [^.!?:]+\.", drill.test.count)
    assert len(drill.test.count.split()) <= 20


@each_drill
def test_a_pass_is_more_than_a_half_makes_by_luck_in_one_of_five_tests(drill: Drill) -> None:
    """Binomial: 7 of 10 is 0.17, 8 of 10 is 0.05."""
    assert drill.test
    assert chance_to_pass(drill.test.passes, drill.test.of, 0.5) < 0.2


@each_drill
def test_a_test_without_a_citation_says_common_practice(drill: Drill) -> None:
    assert drill.test
    assert drill.test.source == "common practice, no source"


# Safety rules


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
    for text in (drill.aim, drill.skip_if or "", *drill.sections.values()):
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
