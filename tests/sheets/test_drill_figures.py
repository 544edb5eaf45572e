"""What check says of the figures of an academy's own drill: where, what is wrong, and how to mend it."""

import re
from pathlib import Path

import pytest
import yaml
from PIL import Image

from reportgen.posing.solving import faults_of
from reportgen.records.content import Drill
from reportgen.records.drill_figures import DrillFigure
from reportgen.sheets.drill_figures import lines_of
from reportgen.sheets.library import Library, load_library
from reportgen.sheets.shipped import shipped
from tests.content.shipped import DRILLS, each_drill

DRILL = "pendulum-swings"


def loaded(root: Path, figure: str) -> tuple[Library, list[str]]:
    """The library of an academy with a drill of its own that has this one figure, in line 3, and its problems."""
    text = (shipped("content") / "drills" / f"{DRILL}.md").read_text(encoding="utf-8")
    front = text.split("figures:\n")[0].split("\n")
    body = text.split("---\n", 2)[2]
    (root / "drills").mkdir(exist_ok=True)
    written = "\n".join([*front[:2], "figures:", f"  - {figure}", *front[2:]]) + f"---\n{body}"
    (root / "drills" / f"{DRILL}.md").write_text(written, encoding="utf-8")
    library, problems = load_library(shipped("content"), root)
    return library, [str(problem) for problem in problems]


@pytest.mark.parametrize(
    ("figure", "problem"),
    [
        (
            "{step: 9}",
            "3:13: the drill has no step 9. Its section Steps has 4: write one of them.",
        ),
        (
            "{mistake: 4}",
            "4:16: the drill has no mistake 4. Its section Common mistakes has 3: write one of them.",
        ),
        (
            "{pose: address, stance: 80, trail_foot: {toward: -60}}",
            "the figure has a trail foot that the leg does not reach. Put the foot nearer, or shift less.",
        ),
        (
            "{pose: address, chest: -100, arms: 120, hinge: 60}",
            "Turn the chest further that way, or move the arms less.",
        ),
        (
            "{pose: address, bend: 0}",
            "the figure has a club that does not reach the ground. Bend further forward, or write hinge:.",
        ),
        (
            "{hands: shoulder, things: [{what: wall, side: behind, away: 15}]}",
            "the figure stands 11 cm inside the wall. Write away: 26 or more, or move the seat or the hips.",
        ),
        ("{things: [{what: wall}]}", "does not say where it stands. Write side: and away:"),
        ("{things: [{what: coin, away: 20}]}", "is no wall and says away. Write toward: and ahead: instead."),
        ("{step: 1, mistake: 1}", "shows a step and a mistake. Keep one of the two."),
        ("{picture: coin.png}", "has a picture that is not told. Write alt: with a sentence"),
        ("{alt: A coin.}", "has an alt and no picture."),
        ("{picture: coin.png, alt: A coin., belt: 20}", "has a picture and is drawn too. Take belt: out, or picture:."),
        ("{picture: ../coin.png, alt: A coin.}", "is no picture beside the drill"),
        ("{picture: coin.png, alt: A coin.}", "the picture is not there"),
        ("{pose: swing}", "pose"),
        ("{belt: 500}", "belt"),
    ],
)  # fmt: skip
def test_what_cannot_be_drawn_is_a_problem_of_its_figure(tmp_path: Path, figure: str, problem: str) -> None:
    _, (told, *more) = loaded(tmp_path, figure)
    assert told.startswith(f"drills/{DRILL}.md:")
    assert problem.partition(": ")[2] in told if problem[0].isdigit() else problem in told
    assert more == []


def test_a_problem_of_a_figure_is_told_at_its_line(tmp_path: Path) -> None:
    _, (told,) = loaded(tmp_path, "{pose: address, bend: 0}")
    assert told.startswith(f"drills/{DRILL}.md:4:")


def test_a_picture_beside_the_drill_is_found(tmp_path: Path) -> None:
    (tmp_path / "drills").mkdir()
    Image.new("RGB", (60, 80)).save(tmp_path / "drills" / "coin.png")
    library, problems = loaded(tmp_path, "{picture: coin.png, alt: A coin.}")
    assert problems == []
    assert library.pictures[DRILL] == {0: tmp_path / "drills" / "coin.png"}


def test_a_picture_that_is_a_link_out_of_the_folder_is_a_problem(tmp_path: Path) -> None:
    Image.new("RGB", (60, 80)).save(tmp_path / "coin.png")
    (tmp_path / "drills").mkdir()
    (tmp_path / "drills" / "coin.png").symlink_to(tmp_path / "coin.png")
    _, (problem,) = loaded(tmp_path, "{picture: coin.png, alt: A coin.}")
    assert "the picture is a link out of the drill's folder" in problem


@each_drill
def test_no_shipped_figure_has_a_problem(drill: Drill) -> None:
    assert [fault for figure in drill.figures for fault in faults_of(figure)] == []


@each_drill
def test_every_step_and_mistake_that_is_shown_is_there(drill: Drill) -> None:
    steps, mistakes = (len(lines_of(drill.sections[name])) for name in ("Steps", "Common mistakes"))
    assert [figure for figure in drill.figures if (figure.step or 0) > steps or (figure.mistake or 0) > mistakes] == []


def test_items_of_a_list_are_read_without_their_numbers_and_with_what_goes_on_below() -> None:
    assert lines_of("1. Turn\n   slowly.\n2) Stop.\n\n- Wait.") == ["Turn slowly.", "Stop.", "Wait."]


def test_all_shipped_drills_are_drawn() -> None:
    assert [drill.id for drill in DRILLS if not drill.figures] == []


def test_the_figures_of_the_guide_can_be_drawn() -> None:
    guide = (shipped("content") / "guide" / "drills.md").read_text(encoding="utf-8")
    (written,) = re.findall(r"```\n(figures:\n.*?)```", guide, re.DOTALL)
    figures = [DrillFigure.model_validate(figure) for figure in yaml.safe_load(written)["figures"]]
    assert len(figures) == 3
    assert [fault for figure in figures for fault in faults_of(figure)] == []
