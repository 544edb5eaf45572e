"""A second look at the academy's own stills: what is offered, what is kept of it, and what it tells."""

import re
from collections.abc import Sequence
from datetime import date
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import Result

from reportgen.authoring.again import OFFERED, Offered, choose, offered, with_marks
from reportgen.records.rounds import Round
from reportgen.sheets.loading import load
from reportgen.sheets.rounds import name_of_round, read_rounds, round_text
from tests.publishing.small import ROOT, contents, reportgen, small_academy

DUARTE, HENRIK, MIRO = "duarte-pemberlow", "henrik-tavenhall", "miro-tavenhall"


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    return small_academy(tmp_path / "academy", DUARTE, HENRIK, MIRO, lessons=1)


def asked(academy: Path) -> Sequence[Offered]:
    """The pictures of the next second look."""
    folder = load(academy)
    return choose(offered(folder), [sheet.record for sheet in read_rounds(folder).rounds])


def marked(academy: Path, apart: float = 2.0, by: str | None = None, day: str = "2026-11-28", most: int = 99) -> Path:
    """Somebody has set every point, each `apart` pixels or its opposite from where it stands in the sheet."""
    kept: Round | None = None
    seed = 0
    for one in asked(academy)[:most]:
        marks = {}
        for mark, (x, y) in one.still.marks.items():
            seed += 1
            off = apart if int(sha256(f"{by}{day}{seed}".encode()).hexdigest(), 16) % 2 else -apart
            marks[mark] = (x + off, y - off)
        kept = with_marks(kept, one, marks, date.fromisoformat(day), by)
    assert kept is not None
    rounds = academy / "rounds"
    rounds.mkdir(exist_ok=True)
    file = rounds / name_of_round(kept.date, by, [one.name for one in rounds.iterdir()])
    file.write_text(round_text(kept), encoding="utf-8")
    return file


def figures(academy: Path) -> Result:
    return reportgen("again", academy)


# what is offered


def test_twelve_stills_of_several_students_are_offered(academy: Path) -> None:
    assert len(asked(academy)) == OFFERED
    assert {one.student.id for one in asked(academy)} == {DUARTE, HENRIK, MIRO}


def test_a_student_whose_pictures_were_withdrawn_is_not_offered(academy: Path) -> None:
    student = academy / "students" / MIRO / "student.yaml"
    text = re.sub(r"^pictures:.*\n(  .*\n)*", "", student.read_text(encoding="utf-8"), flags=re.MULTILINE)
    gone = "pictures: {given_by: Henrik Tavenhall, given_on: 2026-09-05, withdrawn_on: 2026-11-20}\n"
    student.write_text(f"{text}\n{gone}", encoding="utf-8")
    assert MIRO not in {one.student.id for one in asked(academy)}


def test_leave_that_was_never_given_is_not_needed(academy: Path) -> None:
    for student in academy.glob("students/*/student.yaml"):
        text = re.sub(r"^pictures:.*\n(  .*\n)*", "", student.read_text(encoding="utf-8"), flags=re.MULTILINE)
        student.write_text(text, encoding="utf-8")
    assert len(asked(academy)) == OFFERED


def test_a_lesson_that_is_being_written_is_not_offered(academy: Path) -> None:
    for sheet in academy.glob("students/*/lessons/*.yaml"):
        sheet.write_text(f"{sheet.read_text(encoding='utf-8')}\ndraft: true\n", encoding="utf-8")
    assert choose(offered(load(academy, ready=True)), []) == []


def test_a_second_round_offers_the_stills_of_the_first(academy: Path) -> None:
    first = [one.key for one in asked(academy)[4:7]]
    kept = None
    for one in asked(academy)[4:7]:
        kept = with_marks(kept, one, one.still.marks, date(2026, 11, 28), None)
    assert kept is not None
    assert [one.key for one in choose(offered(load(academy)), [kept])][:3] == first


# what is kept


def test_what_was_marked_is_a_file_that_check_finds_sound(academy: Path) -> None:
    place = marked(academy, by="Ada")
    assert place.name == "2026-11-28-ada.yaml"
    assert reportgen("check", academy).exit_code == 0
    assert place.read_text(encoding="utf-8").startswith('date: 2026-11-28\nmarked_by: "Ada"\nstills:\n  - student: ')


def test_marks_of_a_picture_take_the_place_of_those_it_had(academy: Path) -> None:
    one, other = asked(academy)[:2]
    on, mark = date(2026, 11, 28), next(iter(one.still.marks))
    kept = with_marks(None, one, {mark: (1.0, 2.0)}, on, "Ada")
    kept = with_marks(kept, other, {mark: (5.0, 6.0)}, on, None)
    kept = with_marks(kept, one, {mark: (3.0, 4.0)}, on, None)
    assert kept is not None
    assert {(still.file, still.marks[mark]) for still in kept.stills} == {
        (one.still.file, (3.0, 4.0)), (other.still.file, (5.0, 6.0)),
    }  # fmt: skip
    assert kept.marked_by == "Ada"


def test_where_no_point_is_left_nothing_is(academy: Path) -> None:
    one, on = asked(academy)[0], date(2026, 11, 28)
    kept = with_marks(None, one, one.still.marks, on, None)
    assert with_marks(kept, one, {}, on, None) is None


def test_a_round_makes_no_page_again(academy: Path) -> None:
    site = academy.parent / "site"
    reportgen("publish", academy, "--to", site)
    marked(academy)
    assert reportgen("publish", academy, "--to", site).stdout.startswith("0 students made, 3 unchanged")


# what it tells


def test_one_round_by_the_instructor_gives_still_and_visit_and_says_what_is_not_known(academy: Path) -> None:
    marked(academy)
    said = figures(academy).stdout
    assert "12 pictures were marked twice by one person, 0 by two." in said
    assert re.search(r"^  (still_mm|click_px): \d+\.\d  # \d+\.\d to \d+\.\d; ", said, re.MULTILINE)
    assert "Habit is not known yet: one person has marked these pictures." in said
    assert "confirmed" not in said


def test_a_round_by_somebody_else_gives_habit(academy: Path) -> None:
    marked(academy)
    marked(academy, apart=12.0, by="Ada", day="2026-11-30")
    said = figures(academy).stdout
    assert "12 pictures were marked twice by one person, 12 by two." in said
    assert re.search(r"^  (# )?habit_mm: ", said, re.MULTILINE)
    assert "habit_mm is only how two people differ." in said


def confirm(academy: Path, apart: int) -> None:
    """Every lead point of the sheets was confirmed, `apart` pixels off; all others were set by hand."""
    for sheet in academy.glob("students/*/lessons/*.yaml"):
        text = sheet.read_text(encoding="utf-8")
        text = re.sub(
            r"^(      lead-[a-z]+): \[(\d+), (\d+)\]",
            lambda at: f"{at[1]}: {{at: [{int(at[2]) + apart}, {int(at[3]) - apart}], by: confirmed}}",
            text,
            flags=re.MULTILINE,
        )
        text = re.sub(r"^(      [a-z-]+): (\[\d+, \d+\])$", r"\1: {at: \2, by: hand}", text, flags=re.MULTILINE)
        sheet.write_text(text, encoding="utf-8")


def test_confirmed_points_are_held_against_those_set_by_hand(academy: Path) -> None:
    marked(academy)
    confirm(academy, apart=5)
    said = figures(academy).stdout
    assert re.search(r"^\d+ of the points were proposed and confirmed, \d+ were set by hand\.$", said, re.MULTILINE)
    assert re.search(r"^Lean, .*: \d+\.\d mm confirmed, \d+\.\d mm by hand; confirmed points have clearly more\.$",
                     said, re.MULTILINE)  # fmt: skip
    assert re.search(r"^Scatter: .*; no clear difference\.$", said, re.MULTILINE)
    assert "A proposed place draws the eye to it." in said


def test_the_lines_can_be_pasted_into_academy_yaml(academy: Path) -> None:
    marked(academy)
    marked(academy, apart=14.0, by="Ada", day="2026-11-30")
    lines = figures(academy).stdout.split("interval:\n", 1)[1].split("\n\n", 1)[0]
    file = academy / "academy.yaml"
    text = re.sub(r"^marking:.*\n(  .*\n)*", "", file.read_text(encoding="utf-8"), flags=re.MULTILINE)
    file.write_text(f"{text}\n{lines}\n", encoding="utf-8")
    assert reportgen("check", academy).exit_code == 0


def test_too_little_is_said_to_be_too_little(academy: Path) -> None:
    marked(academy, most=1)
    said = figures(academy).stdout
    assert "That is not enough." in said
    assert "marking:" not in said


def test_two_looks_alike_to_the_digit_are_said_to_be_none(academy: Path) -> None:
    """Somebody has copied the marks of the sheet."""
    marked(academy, apart=0.0)
    said = figures(academy).stdout
    assert "The two looks are alike to a twentieth of a pixel" in said
    assert "marking:" not in said


def test_a_round_that_is_wrong_is_told_instead_of_figures(academy: Path) -> None:
    file = marked(academy)
    file.write_text(file.read_text(encoding="utf-8").replace(DUARTE, "duarte-pemberlo", 1), encoding="utf-8")
    ended = figures(academy)
    assert ended.exit_code == 2
    assert re.match(r"rounds/2026-11-28.yaml:\d+:14: there is no student duarte-pemberlo\. Did you mean", ended.stderr)


def test_it_writes_nothing(academy: Path) -> None:
    marked(academy)
    before = contents(academy)
    figures(academy)
    assert contents(academy) == before


def test_the_demo_has_no_round_of_its_own() -> None:
    assert not (ROOT / "examples" / "academy" / "rounds").exists()
