"""What `check` tells of an academy's own drills that leave to a guess what the plan goes by."""

import pytest

from reportgen.pipeline import load
from reportgen.sheets.drill_warnings import drill_warnings
from tests.judging.academies import write_academy

SECTIONS = "".join(
    f"\n## {name}\n\n1. Turn.\n" for name in ("Set-up", "Steps", "Feel", "Common mistakes", "Easier", "Harder")
)
SAID = "swing: none\nground: false"


def warnings(root, front, practice=""):
    """The warnings of an academy with one drill of its own."""
    write_academy(root, {})
    (root / "drills").mkdir()
    (root / "drills" / "own-turn.md").write_text(
        "---\nid: own-turn\ntitle: Own turn\naim: Turns.\nserves: [{metric: pelvis-open-impact, when: below}]\n"
        f"dose: 2 x 8 slow\nfeel: Turn.\nsource: our own\n{front}\n---\n{SECTIONS}",
        encoding="utf-8",
    )
    if practice:
        (root / "practice.yaml").write_text(practice, encoding="utf-8")
    folder = load(root)
    assert [str(problem) for problem in folder.problems] == []
    return list(drill_warnings(folder))


def test_a_drill_that_says_all_is_told_nothing(tmp_path):
    assert warnings(tmp_path, f"ball: false\n{SAID}\nskip_if: {{hurts: [lead-hip], conditions: [unsteady]}}") == []


def test_an_old_drill_is_told_that_it_is_taken_for_the_most_it_can_be(tmp_path):
    (told, *_) = warnings(tmp_path, "ball: true\nloads: [lead-wrist, trail-wrist, lead-elbow, trail-elbow]")
    assert told == (
        "drills/own-turn.md: what it does not say is taken for the most: swing: full and ground: true. "
        "Write both as they are."
    )


@pytest.mark.parametrize(
    ("line", "sites"),
    [
        ("Your low back hurts when you stand bent.", "low-back"),
        ("Your lead knee hurts today.", "lead-knee"),
        ("Your wrist is sore.", "lead-wrist, trail-wrist"),
    ],
)
def test_a_line_that_names_a_place_is_told_how_the_plan_reads_it(tmp_path, line, sites):
    (told,) = warnings(tmp_path, f"ball: false\n{SAID}\nskip_if: {line}")
    assert f"Write skip_if: {{hurts: [{sites}]}}" in told


def test_a_line_whose_places_the_drill_loads_is_told_nothing(tmp_path):
    assert warnings(tmp_path, f"ball: false\n{SAID}\nloads: [low-back]\nskip_if: Your low back hurts.") == []


def test_a_club_on_the_ground_without_wrists_and_elbows_is_told(tmp_path):
    (told,) = warnings(tmp_path, "ball: false\nswing: small\nground: true\nloads: [lead-wrist, trail-wrist]")
    assert "neither loads nor skip_if names lead-elbow, trail-elbow" in told


def test_phases_of_an_older_practice_file_are_told(tmp_path):
    source = "source: our own"
    practice = (
        f"warm_up: {{minutes: 10, what: Walk., {source}}}\n"
        + "ceilings:\n"
        + "".join(
            f"  - {{stage: {stage}, swings_a_day: 50, days: 3, {source}}}\n" for stage in ("junior", "adult", "senior")
        )
        + f"rise: {{allowed: 1.1, always: 60, unlogged: 100, {source}}}\nphases:\n"
        + "".join(f"  - {{id: {phase}, says: Mix clubs., {source}}}\n" for phase in ("new", "settling", "settled"))
    )
    (told,) = warnings(tmp_path, f"ball: false\n{SAID}", practice)
    assert told.startswith("practice.yaml: the phases settling and settled say the same in every week.")
