"""The shipped drills: complete, enough to choose from, and gentle where they must be."""

import re
from pathlib import Path

import pytest
import yaml

from reportgen.records.content import DRILL_SECTIONS, Drill
from reportgen.saying.skipping import leave_out_if
from tests.content.shipped import (
    CONTENT,
    DRILLS,
    PRIORITIES,
    each_common,
    each_drill,
    each_file,
    each_priority,
    load_drill,
    serving,
)

STRIKING_SITES = {"lead-wrist", "trail-wrist", "lead-elbow", "trail-elbow"}

CLEAR_SPACE = re.compile(r"\b(clear|nobody)\b", re.IGNORECASE)

METRIC_KINDS = {
    path.stem: tuple(yaml.safe_load(path.read_text(encoding="utf-8")).get("kinds", ["full-swing"]))
    for path in (CONTENT / "metrics").glob("*.yaml")
}


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


@pytest.mark.parametrize(
    ("metric", "when"),
    [("seat-forward-delivery", "below"), ("seat-forward-impact", "below"), ("trail-knee-kept", "above")],
)
def test_sides_that_are_seldom_met_have_a_drill_too(metric: str, when: str) -> None:
    assert serving(metric, when)


def test_no_feel_that_closes_the_chest_is_given_to_shoulders_that_are_too_little_open() -> None:
    closing = [d.id for d in serving("thorax-open-impact", "below") if "look at the ball" in d.feel]
    assert closing == []


def test_the_count_of_the_swing_has_three_beats_back_for_one_down() -> None:
    """From the word with which the club starts: go, one, two, three (the top), four (the ball)."""
    (drill,) = [drill for drill in DRILLS if drill.id == "count-the-swing"]
    assert drill.feel == "Go, one, two, three to the top, and four at the ball."
    assert '"go" as the club starts' in drill.sections["Steps"]


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


def test_a_full_swing_that_no_longer_starts_on_line_has_drills_and_one_for_a_back_that_is_held() -> None:
    """On line is the one count of full swings that a swing in range can lose: without a drill there is no week."""
    drills = [drill for drill in DRILLS if "full-swing" in drill.kinds and "on-line" in drill.trains]
    assert len(drills) >= 2
    assert [drill.id for drill in drills if drill.swings == "small" and "low-back" not in drill.loads]


@each_drill
def test_a_drill_says_who_should_leave_it_out(drill: Drill) -> None:
    assert leave_out_if(drill)


@each_drill
def test_no_drill_is_done_at_full_pace(drill: Drill) -> None:
    assert drill.dose.pace in ("slow", "easy") or drill.dose.minutes
